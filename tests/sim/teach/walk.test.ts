/** The free bench: levels and the parts of the gap against closed forms written here. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { loadScene } from '../../../src/scene/load';
import type { SceneDocument } from '../../../src/scene/schema';
import { lampOf, withLamp, withModifiers } from '../../../src/sim/teach/bench';
import { axisLine, gapWords, walk, wholeGap, type Facing, type Walk } from '../../../src/sim/teach/walk';
import hall from '../../reference/drill-hall-falloff.json';
import { BASES } from './scenes';

const document = BASES['drill-hall'];
function downTheHall(scene: SceneDocument, setupId: string, facing: Facing = 'lamp', count = 8): Walk {
  return walk({ document: scene, setupId, lampId: 'l1', fromM: [0, 1, 1.5], toM: [0, 8, 1.5], facing, count });
}

describe('down the hall', () => {
  test('the open face is the law: no gap, square on either way', () => {
    for (const facing of ['lamp', 'back'] as const) {
      for (const { distanceM, illuminanceLx, lawLx, gap } of downTheHall(document, 'open-face', facing).points) {
        expect(lawLx).toBeCloseTo(5400 / distanceM ** 2, 9);
        expect(illuminanceLx).toBeCloseTo(lawLx, 6);
        expect(gapWords(gap!)).toEqual([]);
      }
    }
  });

  test('a meter that faces up under a level lamp reads nothing, and no gap is told', () => {
    for (const { illuminanceLx, lawLx, gap } of downTheHall(document, 'open-face', 'up').points) {
      expect([illuminanceLx, lawLx, gap]).toEqual([0, 0, null]);
    }
  });

  test('the soft square: all of the gap is its face, as much as the law over-reads by the reference', () => {
    const [near] = downTheHall(document, 'soft-square').points;
    const overPercent = hall.scene.setups['soft-1.2m'].inverseSquareOverReadsPercent[0]!;
    expect(near!.gap!.faceStops).toBeCloseTo(-Math.log2(1 + overPercent / 100), 4);
    expect(wholeGap(near!.gap!)).toBeCloseTo(near!.gap!.faceStops, 9);
    expect(gapWords(near!.gap!)).toMatchObject([{ words: 'the face is no point so near' }]);
  });

  test('the focused beam: all of the gap is its origin, 2 log2(d/(d + 0.35))', () => {
    for (const { distanceM, gap } of downTheHall(document, 'focused-beam').points) {
      expect(gap!.originStops).toBeCloseTo(2 * Math.log2(distanceM / (distanceM + 0.35)), 9);
      expect(wholeGap(gap!)).toBeCloseTo(gap!.originStops, 6);
    }
  });
});

describe('what else makes a gap', () => {
  test('off its axis a beam falls to half at half its beam angle', () => {
    // 27.5 degrees off the axis of a 55 degree beam: half the candela, and the meter faces the lamp.
    const x = 4 * Math.tan((27.5 * Math.PI) / 180);
    const found = walk({
      document,
      setupId: 'open-face',
      lampId: 'l1',
      fromM: [0, 4, 1.5],
      toM: [x, 4, 1.5],
      facing: 'lamp',
      count: 2,
    });
    expect(found.points[1]!.gap!.beamStops).toBeCloseTo(-1, 6);
    expect(gapWords(found.points[1]!.gap!)[0]).toMatchObject({ words: 'off its axis the lamp sends less' });
  });

  test('a double net across the beam takes its stop, a whole scrim its half stop', () => {
    const net = { kind: 'net', stops: 1, weave: 'plain' } as const;
    const netted = withModifiers(document, 'open-face', {
      net: {
        name: 'Double net',
        pose: { positionM: [0, 0.5, 1.5], aim: { panDeg: 180, tiltDeg: 0 } },
        shape: { kind: 'rectangle', widthM: 2, heightM: 2 },
        material: net,
      },
    });
    expect(downTheHall(netted, 'open-face').points[3]!.gap).toMatchObject({
      originStops: 0,
      blockedStops: expect.closeTo(-1, 6) as unknown as number,
      othersStops: 0,
    });
    const scrimmed = withLamp(document, 'open-face', 'l1', { accessories: [{ kind: 'wireScrim', stops: 0.5 }] });
    expect(downTheHall(scrimmed, 'open-face').points[3]!.gap!.blockedStops).toBeCloseTo(-0.5, 6);
  });

  test('a second like lamp in the same place is one stop of other light', () => {
    const setup = document.setups[0]!;
    const lamp = lampOf(document, setup.id, 'l1');
    const doubled: SceneDocument = { ...document, setups: [{ ...setup, sources: { l1: lamp, l2: lamp } }] };
    const point = downTheHall(doubled, setup.id).points[3]!;
    expect(point.gap!.othersStops).toBeCloseTo(1, 9);
    expect(point.lampLx).toBeCloseTo(point.illuminanceLx / 2, 9);
  });

  test('in the office the parts add up to the whole at every point, and shadow has none', () => {
    const text = readFileSync('scenes-demo/customs-office-shaft.json', 'utf8');
    const office = loadScene(text, 'office');
    if (!office.ok) throw new Error('the demo scene cannot be opened');
    const [fromM, toM] = axisLine(office.document, 'netted', 'l1');
    const { points } = walk({
      document: office.document,
      setupId: 'netted',
      lampId: 'l1',
      fromM,
      toM,
      facing: 'lamp',
      count: 9,
    });
    const told = points.filter(({ gap }) => gap !== null);
    expect(told.length).toBeGreaterThan(5);
    for (const { gap, illuminanceLx, lawLx } of told)
      expect(wholeGap(gap!)).toBeCloseTo(Math.log2(illuminanceLx / lawLx), 9);
    expect(points.filter(({ lampLx }) => lampLx === 0).every(({ gap }) => gap === null)).toBe(true);
  });

  test('a lensed lantern, a tube and a globe have their candela far off', () => {
    const far = (change: Parameters<typeof withLamp>[3]): Walk =>
      walk({
        document: withLamp(document, 'open-face', 'l1', change),
        setupId: 'open-face',
        lampId: 'l1',
        fromM: [0, 40, 1.5],
        toM: [0, 60, 1.5],
        facing: 'lamp',
        count: 2,
      });
    for (const change of [
      { emitter: { shape: 'tube', lengthM: 1.2, diameterM: 0.04 }, distribution: { kind: 'lambertian' } },
      { emitter: { shape: 'sphere', diameterM: 0.2 }, distribution: { kind: 'uniform' } },
      {
        distribution: {
          kind: 'lensed',
          lensDiameterM: 0.2,
          focalLengthM: 0.3,
          sourceDiameterM: 0.02,
          lampToLensM: 0.2,
          beamAngleDeg: 20,
        },
      },
    ] satisfies Parameters<typeof withLamp>[3][]) {
      const { points, output } = far(change);
      // Within a hundredth of a stop of the law counted from the origin: faces are small from here.
      for (const { illuminanceLx, distanceM } of points) {
        const lawLx = output.candela / (distanceM + output.originM) ** 2;
        expect(Math.abs(Math.log2(illuminanceLx / lawLx))).toBeLessThan(0.01);
      }
    }
  });
});

test('a line to start with lies on the axis and stops at the floor', () => {
  const [from, to] = axisLine(document, 'open-face', 'l1');
  expect([from, to]).toEqual([
    [0, 1, 1.5],
    [0, 8, 1.5],
  ]);
  const lamp = lampOf(document, 'open-face', 'l1');
  const down = withLamp(document, 'open-face', 'l1', { pose: { ...lamp.pose, aim: { panDeg: 0, tiltDeg: -45 } } });
  expect(axisLine(down, 'open-face', 'l1')[1][2]).toBeCloseTo(0, 9);
});

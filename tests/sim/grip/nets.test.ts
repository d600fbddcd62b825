/**
 * Nets that somebody sets: the free edge against plan angles worked by hand, the light against what two plain nets pass
 * by definition (2 to the minus their stops), the figures against the judgement's own and against worked value J12e.
 */
import { describe, expect, test } from 'vitest';
import { applyCommand } from '../../../src/scene/commands';
import { frameFromPose } from '../../../src/scene/geometry/frames';
import type { Modifier, SceneDocument, Setup } from '../../../src/scene/schema';
import { gripFigures } from '../../../src/sim/grip/gripFigures';
import type { NetsRequest } from '../../../src/sim/grip/gripRequest';
import { coverOf, edgeOf } from '../../../src/sim/grip/nets';
import { bestGrip, planGrip } from '../../../src/sim/grip/planGrip';
import { netField } from '../../../src/sim/mends/netRig';
import { meanRay } from '../../../src/sim/mends/placing';
import { judgeLamp } from '../../../src/sim/mends/situation';
import { stageOf } from '../../../src/sim/grip/stage';
import { compileScene } from '../../../src/sim/solve/compileScene';
import { readPoint } from '../../../src/sim/solve/solvePoint';
import { changeTo } from '../../../src/ui/grip/setupChange';
import { isotropic, sceneM, WALL_ID, wallX0 } from '../../validation/judgementScenes';
import { SETUP } from '../../validation/scenes';
import { LAMP_ID, netEntry, playing, worked } from '../mends/scenes';

const LENS = [3, -1.2, 1.5] as const;
const KIT = { single: netEntry(0.5, 3, 1.2, 1.2), double: netEntry(1, 3, 1.2, 1.2) };
/** A bare point 3 m off the wall x = 0, beside the strip y -1..1: the low end is the near one. */
const beside = (): SceneDocument =>
  playing({ source: isotropic([...LENS]), wall: wallX0(-1, 1, 1.4, 1.6) }, { kit: KIT });
const request = (change: Partial<NetsRequest> = {}): NetsRequest => ({
  helper: 'nets',
  lampId: LAMP_ID,
  surfaceId: WALL_ID,
  distanceM: 0.5,
  turnDeg: 0,
  nets: [{ stops: 1, coverShare: 0.5 }],
  ...change,
});
function planned(document: SceneDocument, of: NetsRequest): Setup {
  const plan = planGrip(document, SETUP, of);
  if (!plan.ok) throw new Error(plan.sentence);
  return plan.setup;
}
const netsOf = (setup: Setup): Modifier[] => Object.values(setup.modifiers);
const withIt = (document: SceneDocument, setup: Setup): SceneDocument => ({ ...document, setups: [setup] });
const readAt = (document: SceneDocument, y: number): number =>
  readPoint(compileScene(document, SETUP), { pointM: [0, y, 1.5], normal: [1, 0, 0] }).illuminanceLx;

describe('the free edge, by hand', () => {
  const stage = (document: SceneDocument) => {
    const found = stageOf(document, SETUP, LAMP_ID, WALL_ID, 'quick');
    if (typeof found === 'string') throw new Error(found);
    return found;
  };

  test.each([0.25, 0.5, 0.8])('a net over %f of the light ends on the ray to that part of it', (coverShare) => {
    const document = beside();
    const { main } = stage(document);
    const ys = main.patch.points.map((point) => point[1]);
    const angle = (y: number): number => Math.atan2(y - LENS[1], LENS[0]);
    const middle = angle(main.patch.centroid[1]);
    // Tangents from the middle ray on the plan; the near end is the one with the lesser y.
    const [near, far] = [Math.min(...ys), Math.max(...ys)].map((y) => Math.tan(angle(y) - middle)) as [number, number];
    const wanted = Math.atan(near + coverShare * (far - near)) + middle;
    const [net] = netsOf(planned(document, request({ nets: [{ stops: 1, coverShare }] })));
    const { right, origin, forward } = frameFromPose(net!.pose);
    const half = net!.shape.kind === 'rectangle' ? net!.shape.widthM / 2 : 0;
    const sign = net!.frame!.openSides![0] === 'right' ? 1 : -1;
    const edge = [origin[0] + sign * half * right[0], origin[1] + sign * half * right[1]] as const;
    // The open end looks at the far end: y grows that way.
    expect(Math.sign(sign * right[1])).toBe(1);
    expect(Math.atan2(edge[1] - LENS[1], LENS[0] - edge[0])).toBeCloseTo(wanted, 6);
    // Its plane stands 0.5 m down the middle ray, and faces the lamp.
    const depth = (LENS[0] - edge[0]) * Math.cos(middle) + (edge[1] - LENS[1]) * Math.sin(middle);
    expect(depth).toBeCloseTo(0.5, 6);
    expect(forward[0]).toBeCloseTo(Math.cos(middle), 6);
  });

  test('cover and edge undo one another, from either side', () => {
    const found = stage(beside());
    const field = netField(found, meanRay(found), 0);
    for (const side of [1, -1] as const) {
      for (const share of [0, 0.3, 1])
        expect(coverOf({ ...field, side }, edgeOf({ ...field, side }, share))).toBeCloseTo(share, 12);
    }
  });
});

describe('what the nets pass', () => {
  test('two doubles over the near half take two stops there, none beyond their edges', () => {
    const document = beside();
    const nets = [
      { stops: 1, coverShare: 0.5 },
      { stops: 1, coverShare: 0.5 },
    ];
    const after = withIt(document, planned(document, request({ nets })));
    expect(readAt(after, -0.9) / readAt(document, -0.9)).toBeCloseTo(1 / 4, 9);
    expect(readAt(after, 0.9) / readAt(document, 0.9)).toBeCloseTo(1, 9);
  });

  test('a stagger takes one stop between its two edges', () => {
    const document = beside();
    const nets = [
      { stops: 1, coverShare: 0.2 },
      { stops: 0.5, coverShare: 0.8 },
    ];
    const after = withIt(document, planned(document, request({ nets })));
    expect(readAt(after, -0.95) / readAt(document, -0.95)).toBeCloseTo(2 ** -1.5, 9);
    expect(readAt(after, 0) / readAt(document, 0)).toBeCloseTo(2 ** -0.5, 9);
    expect(readAt(after, 0.95) / readAt(document, 0.95)).toBeCloseTo(1, 9);
  });
});

describe('its figures', () => {
  test('fall-off is the judgement’s own, before and after', () => {
    const document = playing(sceneM(), { kit: KIT });
    const of = request({ nets: [{ stops: 1, coverShare: 0.6 }] });
    const setup = planned(document, of);
    for (const one of [document.setups[0]!, setup]) {
      const [check] = judgeLamp(document, one, LAMP_ID, 'full');
      const figures = gripFigures(withIt(document, one), SETUP, of);
      expect(figures.falloffStops).toBe(check!.falloffStops);
      expect(figures.stepStopsPer10cm).toBe(check!.stepStopsPer10cm);
    }
  });

  test('J12e: two doubles at their best leave no more than the worked scan found', () => {
    const { expected } = worked('J12e');
    const document = playing(sceneM(), { kit: { double: netEntry(1, 2) } });
    const nets = [
      { stops: 1, coverShare: 0.7 },
      { stops: 1, coverShare: 0.3 },
    ];
    const best = bestGrip(document, SETUP, request({ nets }));
    if (best?.helper !== 'nets') throw new Error('no nets found');
    const before = gripFigures(document, SETUP, best);
    const after = gripFigures(withIt(document, planned(document, best)), SETUP, best);
    // The scan kept a level and a grid of edges; this search weighs the step as well, so it may leave a little more.
    expect(after.falloffStops!).toBeLessThan(expected[3]! + 0.1);
    expect(before.falloffStops!).toBeCloseTo(1.898, 1);
    // Two doubles over all of it would cost two stops, none of it nothing.
    const cost = Math.log2(before.meanLx! / after.meanLx!);
    expect(cost).toBeGreaterThan(0);
    expect(cost).toBeLessThan(2);
  });
});

describe('what it refuses', () => {
  const sentence = (of: NetsRequest, document = beside()): string => {
    const plan = planGrip(document, SETUP, of);
    return plan.ok ? '' : plan.sentence;
  };
  test('nets behind the surface, four nets, a grade that the kit has too few of', () => {
    expect(sentence(request({ distanceM: 9 }))).toMatch(/^The nets stand 0.1 m to/);
    expect(
      sentence(request({ nets: Array<{ stops: number; coverShare: number }>(4).fill({ stops: 1, coverShare: 0.5 }) })),
    ).toBe('One to three nets go on a stand.');
    const two = [
      { stops: 1, coverShare: 0.5 },
      { stops: 1, coverShare: 0.4 },
    ];
    const few = playing(
      { source: isotropic([...LENS]), wall: wallX0(-1, 1, 1.4, 1.6) },
      { kit: { double: netEntry(1, 1, 1.2, 1.2) } },
    );
    expect(sentence(request({ nets: two }), few)).toMatch(/^Net 2 takes a cloth of .*no free net of 1 stop/);
  });

  test('a lamp or a surface that is gone', () => {
    expect(sentence(request({ lampId: 'gone' }))).toBe('The lamp is gone from this setup.');
    expect(sentence(request({ surfaceId: 'gone' }))).toBe('The surface is gone from the scene.');
  });
});

test('one command puts the planned setup in, and the scene it was planned for is not touched', () => {
  const document = beside();
  const copy = structuredClone(document);
  const setup = planned(document, request({ nets: [{ stops: 0.5, coverShare: 0.4 }] }));
  const command = changeTo(document.setups[0]!, setup, 'Stagger nets')!;
  expect(document).toEqual(copy);
  const done = applyCommand(document, command);
  expect(done.ok && done.document.setups[0]).toEqual(setup);
});

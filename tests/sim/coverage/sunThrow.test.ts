/** Fall-off against distance for a lamp that plays the sun: scene M's worked distances (J12a), scene N by the judgement. */
import { describe, expect, test } from 'vitest';
import type { Lamp } from '../../../src/scene/schema';
import { distance, type Vec3 } from '../../../src/scene/geometry/vector';
import { sunThrowRows, type SunThrowResult, type SunThrowTask } from '../../../src/sim/coverage/sunThrow';
import { judgeLamp, withLamp } from '../../../src/sim/mends/situation';
import { movedTo } from '../../../src/sim/mends/placing';
import { sceneM, sceneN, WALL_ID } from '../../validation/judgementScenes';
import { SETUP } from '../../validation/scenes';
import { LAMP_ID, playing } from '../mends/scenes';

function run(task: Partial<SunThrowTask> & Pick<SunThrowTask, 'document'>): SunThrowResult {
  const slices = sunThrowRows({
    kind: 'sunThrow',
    setupId: SETUP,
    sourceId: LAMP_ID,
    surfaceId: WALL_ID,
    count: 12,
    ...task,
  });
  for (;;) {
    const { done, value } = slices.next();
    if (done === true) return value;
  }
}

describe('scene M, no window', () => {
  const found = run({ document: playing(sceneM()) });
  test('distances are from the patch; 2/3 stop at 14.457 m, 1/3 at 28.888 m, 1 %', () => {
    expect([found.from, found.reason]).toEqual(['patch', null]);
    expect(found.present.distanceM).toBeCloseTo(distance([1.4, -3.6, 2.6], [0, 1.2, 1.5]), 6);
    expect(found.present.falloffStops).toBeCloseTo(1.8985, 2);
    expect(Math.abs(found.marks[0]!.distanceM! / 14.457 - 1)).toBeLessThan(0.01);
    expect(Math.abs(found.marks[1]!.distanceM! / 28.888 - 1)).toBeLessThan(0.01);
  });
  test('farther never falls off more, and never gets brighter', () => {
    for (const [i, row] of found.rows.entries()) {
      const before = found.rows[i - 1];
      if (!before) continue;
      expect(row.falloffStops).toBeLessThanOrEqual(before.falloffStops + 1e-6);
      expect(row.meanLx).toBeLessThan(before.meanLx);
    }
  });
});

test('scene N: distances are from the window, and a row is what the judgement says of a lamp moved there', () => {
  const document = playing(sceneN());
  const found = run({ document });
  expect(found.from).toBe('window');
  const lens: Vec3 = [3, -5.5, 3.2];
  const row = found.rows.find(({ distanceM }) => distanceM > 10)!;
  const setup = document.setups[0]!;
  const lamp = setup.sources[LAMP_ID] as Lamp;
  // Along the middle ray the window lies where the straight line from the lens to the patch's middle crosses y = 0.
  const [check] = judgeLamp(document, setup, LAMP_ID, 'full');
  const [right, up] = check!.drawing!.centroidM;
  const middle: Vec3 = [0, 0.3 + right, up];
  const share = -lens[1] / (middle[1] - lens[1]);
  const window = lens.map((value, axis) => value + share * (middle[axis]! - value)) as unknown as Vec3;
  const scale = row.distanceM / distance(lens, window);
  const place = window.map((value, axis) => value + scale * (lens[axis]! - value)) as unknown as Vec3;
  const [moved] = judgeLamp(document, withLamp(setup, LAMP_ID, movedTo(lamp, place)), LAMP_ID, 'full');
  expect(Math.abs(moved!.falloffStops! - row.falloffStops)).toBeLessThan(0.05);
});

test('a lamp that lights nothing there says so', () => {
  const { source, ...parts } = sceneM();
  const lamp = source as Lamp;
  const behind = { ...lamp, pose: { ...lamp.pose, positionM: [-2, 0, 1.5] as [number, number, number] } };
  expect(run({ document: playing({ ...parts, source: behind }) }).reason).not.toBeNull();
});

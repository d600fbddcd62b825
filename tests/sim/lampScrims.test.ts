/** Scrims in a lamp's slots: a whole one takes in the whole beam, wherever its light goes. */
import { expect, test } from 'vitest';
import type { Distribution, Emitter, Lamp } from '../../src/scene/schema';
import { facing, lamp, reading } from '../validation/scenes';

const BEAM: Distribution = { kind: 'beam', beamAngleDeg: 60, fieldAngleDeg: 120, virtualOriginM: 0.5 };
const scrimmed = (emitter: Emitter, distribution: Distribution): [bare: Lamp, dimmed: Lamp] => {
  const bare = lamp(facing([0, 0, 2], 0, 0), emitter, distribution, { kind: 'candela', candela: 10_000 });
  return [bare, { ...bare, accessories: [{ kind: 'wireScrim', stops: 1 }] }];
};

// By hand: one stop is half, at every place that the lamp lights. The second place lies 3 m beside the lamp, between the
// planes of its lens (y = 0) and of the scrim's slot (y = 0.03).
test.each([
  ['point', { shape: 'point' }, BEAM],
  ['disc', { shape: 'disc', diameterM: 0.2 }, BEAM],
  ['rectangle', { shape: 'rectangle', widthM: 0.6, heightM: 0.3 }, { kind: 'lambertian' }],
] as [string, Emitter, Distribution][])('a whole double halves all the light of a %s', (_, emitter, distribution) => {
  const [bare, dimmed] = scrimmed(emitter, distribution);
  for (const at of [
    [0, 4, 2],
    [3, 0.016, 0],
  ] as const) {
    const probe = { at, normal: [0, 0, 1] as const };
    const facingLamp = at[1] === 4 ? { at, normal: [0, -1, 0] as const } : probe;
    const open = reading(bare, facingLamp);
    expect(open).toBeGreaterThan(0);
    expect(reading(dimmed, facingLamp) / open).toBeCloseTo(0.5, 9);
  }
});

/** Cases in which a figure has no value: it is null with the reason, never 0 or infinity. */
import { expect, test } from 'vitest';
import type { Modifier } from '../../../src/scene/schema';
import { judged, isotropic, sceneN, strip, sunOfN, wallX0 } from '../../validation/judgementScenes';
import values from '../../reference/judgement-values.json';
import { facing } from '../../validation/scenes';

const DEFINED_BY_PATCH = ['falloffStops', 'fanDeg', 'stepStopsPer10cm', 'edgeRatio', 'fill'] as const;

/** The worked value, null, and the reason that goes with it. */
const workedNull = (id: string): { expected: unknown; how: string } => values.find((value) => value.id === id)!;

test('a patch lit only through full diffusion is soft window light, not sun', () => {
  const frame: Modifier = {
    name: 'Full diffusion',
    pose: facing([0.6, -2, 1.7], 0, 0),
    shape: { kind: 'rectangle', widthM: 12, heightM: 12 },
    material: { kind: 'diffusion', directTransmittance: 0, diffuseTransmittance: 0.5 },
  };
  const check = judged(sceneN({ frame }));
  for (const figure of DEFINED_BY_PATCH) expect(check[figure]).toBeNull();
  const { expected, how } = workedNull('J1i');
  expect(check.falloffStops).toBe(expected);
  expect(how).toContain("reason 'diffused'");
  expect(check.reasons.falloffStops).toMatch(/^diffused/);
  expect(check.flags).toContain('diffused');
  expect(check.verdict).toBe('notEnough');
  expect(check.sentence).toBe('No shaft on the wall: this is soft window light, not sun.');
});

test('a lamp behind the wall lights nothing of it', () => {
  const check = judged({ source: isotropic([-1, 0, 2]), wall: wallX0(-1, 1, 1, 3) });
  for (const figure of DEFINED_BY_PATCH) expect(check[figure]).toBeNull();
  const { expected, how } = workedNull('J1j');
  expect(check.falloffStops).toBe(expected);
  expect(how).toContain("reason 'behind'");
  expect(check.reasons.falloffStops).toMatch(/^behind/);
  expect(check.drawing).toBeNull();
});

test('a name with a number stands alone in the sentence', () => {
  const sentence = (name: string): string =>
    judged({ source: isotropic([-1, 0, 2]), wall: { ...wallX0(-1, 1, 1, 3), name } }).sentence;
  expect(sentence('Wall 1')).toBe('This lamp does not shine towards Wall 1.');
  expect(sentence('Plaster wall')).toBe('This lamp does not shine towards the plaster wall.');
});

test('a wall between hides the lamp, and the sentence says so', () => {
  const { source, wall, surfaces } = sceneN();
  const shut = { ...surfaces!['window-wall']!, openings: {} };
  const check = judged({ source, wall, surfaces: { shut } });
  expect(check.reasons.falloffStops).toMatch(/^hidden/);
  expect(check.sentence).toMatch(/something of the set stands between/);
});

test('the real sun has no apparent distance, and no growth or fan to speak of', () => {
  const check = judged(sunOfN());
  expect(check.apparentDistanceM).toBeNull();
  expect(check.reasons.apparentDistanceM).toBe('parallel');
  expect(check.lineFanDeg).toBe(0);
  expect(check.verdict).toBe('reads');
});

test('without openings there is no edge, fill or growth, and the rest stands', () => {
  const check = judged({ source: isotropic([1.2, 0, 0]), wall: strip(4.4, 6.8) });
  expect(check.edgeRatio).toBeNull();
  expect(check.fill).toBeNull();
  expect(check.growthNear).toBeNull();
  expect(check.lineFanDeg).toBeNull();
  expect(check.falloffStops).toBeGreaterThan(1);
  for (const [figure, value] of Object.entries(check)) {
    if (typeof value === 'number') expect(Number.isFinite(value), figure).toBe(true);
  }
});

test('a patch smaller than a hand is not scored', () => {
  const check = judged({ source: isotropic([1.2, 0, 0]), wall: wallX0(0, 0.08, 0, 0.08) });
  expect(check.flags).toContain('tooSmall');
  expect(check.verdict).toBe('notEnough');
  expect(check.falloffStops).not.toBeNull();
});

test('a lamp that is off is judged as if it were on', () => {
  const parts = sceneN();
  const on = judged(parts);
  const off = judged({ ...parts, source: { ...parts.source, off: true } });
  expect(off.flags).toContain('off');
  expect(off.falloffStops).toBe(on.falloffStops);
  expect(off.edgeRatio).toBe(on.edgeRatio);
});

test('bars so blurred that nothing sees nine tenths of the lamp keep a patch and are flagged', () => {
  const parts = sceneN();
  const lamp = parts.source;
  if (lamp.type !== 'lamp') throw new Error('scene N has a lamp');
  const wide = { ...lamp, emitter: { shape: 'disc' as const, diameterM: 2 } };
  const check = judged({ ...parts, source: wide, wall: wallX0(1.8, 2.6, 0, 2.4) });
  expect(check.flags).toContain('barsMelt');
  expect(check.falloffStops).not.toBeNull();
  expect(check.scores.edge).toBeGreaterThan(2);
});

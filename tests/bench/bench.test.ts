/** The fast grid against the converged kernel, the published probes, and brute sampling where shadows pile up. */
import { describe, expect, test } from 'vitest';
import { frameFromPose, worldFromLocal } from '../../src/scene/geometry/frames';
import type { BlockerLayer } from '../../src/sim/solve/compiled';
import { planeOfSurface } from '../../src/sim/solve/receivers';
import { METER_QUALITY } from '../../src/sim/solve/quality';
import { rectangleOutline } from '../../src/sim/solve/shapes';
import { SourceIntegrator, ALL_ROLES } from '../../src/sim/solve/sourceIntegrator';
import { CONVERGED, errorP, probeP, solveWorkload } from './errorP';
import { sampledLx } from './sampled';
import { rowOf, workloadOf } from './tiltedRoom';

describe('grids', () => {
  test.each(['W1', 'W3', 'W4'])('%s is within P 0.8 of the converged kernel and of what is published', (id) => {
    const workload = workloadOf(id);
    const fast = solveWorkload(workload).illuminanceLx;
    expect(errorP(fast, solveWorkload(workload, CONVERGED).illuminanceLx)).toBeLessThanOrEqual(0.8);
    expect(probeP(workload, fast) ?? 0).toBeLessThanOrEqual(0.8);
  });

  test('every source of W4 gives light', () => {
    for (const { unitIlluminanceLx } of solveWorkload(workloadOf('W4')).layers) {
      expect(Math.max(...unitIlluminanceLx)).toBeGreaterThan(1);
    }
  });
});

/** Combs of ten bars each, one behind the other and each turned a little, before one wide lamp. */
function combs(count: number): BlockerLayer[] {
  return Array.from({ length: count }, (_, i) => {
    const frame = frameFromPose({
      positionM: [3, 1.5, 1.5 + 0.1 * i],
      aim: { panDeg: 0, tiltDeg: 90, rollDeg: 37 * i },
    });
    const bars = Array.from({ length: 10 }, (_unused, k) => rectangleOutline(-0.5 + 0.1 * k, -0.5, 0.02, 1));
    const pieces = bars.map((bar) => ({ corners: bar.map((corner) => worldFromLocal(frame, corner)), hole: false }));
    const plane = { origin: frame.origin, normal: frame.forward, opacity: 1, weave: null, role: 'cut' as const };
    return { id: `comb-${i}`, ownSurfaceId: null, onlySourceId: null, ...plane, pieces };
  });
}

test('behind seven combs the quartered face stays within its stated error of 65 536 samples', () => {
  const { scene, surfaceId } = rowOf(1, 1, 4);
  const source = { ...scene.sources[0]!, shape: { kind: 'disc', radiusM: 0.6 } as const };
  const layers = combs(7);
  const plane = planeOfSurface(scene.surfaces.get(surfaceId)!);
  const places = [
    [3, 1.5],
    [3.1, 1.4],
    [2.8, 1.7],
  ] as const;
  const open = sampledLx(source, [], plane, places, 4096);
  const sampled = sampledLx(source, layers, plane, places, 65_536);
  const integrator = new SourceIntegrator(source, layers, METER_QUALITY);
  integrator.usePlane(plane, () => false);
  places.forEach(([x, y], i) => {
    expect(integrator.moveTo(x, y)).toBe(true);
    const lux = integrator.illuminanceLx(ALL_ROLES);
    // The sampling itself is good to 0.1 % of the open light.
    expect(Math.abs(lux - sampled[i]!)).toBeLessThanOrEqual(integrator.unresolvedLx + 0.001 * open[i]!);
    expect(integrator.unresolvedLx).toBeLessThanOrEqual(0.005 * open[i]!);
  });
}, 120_000);

/** Half planes that dim by a tenth, their edges all through one ray: on no part of the face about it is there fewer. */
function fan(count: number): BlockerLayer[] {
  return Array.from({ length: count }, (_, i) => {
    const frame = frameFromPose({
      positionM: [3, 1.5, 1.5 + 0.01 * i],
      aim: { panDeg: 0, tiltDeg: 90, rollDeg: (180 * i) / count },
    });
    const corners = rectangleOutline(-1, 0, 2, 1).map((corner) => worldFromLocal(frame, corner));
    const plane = { origin: frame.origin, normal: frame.forward, opacity: 0.1, weave: null, role: 'cut' as const };
    return { id: `half-${i}`, ownSurfaceId: null, onlySourceId: null, ...plane, pieces: [{ corners, hole: false }] };
  });
}

test('where 24 edges meet in one point of the face its middle is bounded, within the stated error of 65 536 samples', () => {
  const { scene, surfaceId } = rowOf(1, 1, 4);
  const source = { ...scene.sources[0]!, shape: { kind: 'disc', radiusM: 0.6 } as const };
  const layers = fan(24);
  const plane = planeOfSurface(scene.surfaces.get(surfaceId)!);
  const place = [3, 1.5] as const;
  const open = sampledLx(source, [], plane, [place], 4096)[0]!;
  const sampled = sampledLx(source, layers, plane, [place], 65_536)[0]!;
  const integrator = new SourceIntegrator(source, layers, METER_QUALITY);
  integrator.usePlane(plane, () => false);
  expect(integrator.moveTo(...place)).toBe(true);
  const lux = integrator.illuminanceLx(ALL_ROLES);
  // The rule of last resort has run, and what it states stays small.
  expect(integrator.unresolvedLx).toBeGreaterThan(0.0001 * open);
  expect(integrator.unresolvedLx).toBeLessThanOrEqual(0.001 * open);
  // The sampling itself is good to 0.02 % of the open light here.
  expect(Math.abs(lux - sampled)).toBeLessThanOrEqual(integrator.unresolvedLx + 0.0002 * open);
}, 120_000);

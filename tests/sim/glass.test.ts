/**
 * Glass by its refraction: the closed form against light counted pass by pass, handbook figures, limits, and a soft lamp
 * close to a pane against brute force. Values at points in a window: tests/validation/paneRows.ts; random panes behind
 * blinds: tests/sim/blinds.test.ts.
 */
import { describe, expect, test } from 'vitest';
import { paneOf, type Pane } from '../../src/scene/glass';
import { paneTransmittance } from '../../src/sim/photometry/pane';
import { agreementOn } from '../validation/kernelAgainstBrute';
import { throughWindow } from '../validation/paneRows';
import { facing, glowing, sceneOf, SETUP } from '../validation/scenes';

const RADIAN = Math.PI / 180;
const through = (pane: Pane, slantDeg: number): number =>
  paneTransmittance(pane, [3 * Math.sin(slantDeg * RADIAN), 0, 3 * Math.cos(slantDeg * RADIAN)], [0, 0, 1]);
const clear = (refractiveIndex: number): Pane => ({ refractiveIndex, absorptionPerM: 0, thicknessM: 0.004 });

/** Snell's law, Fresnel's sine and tangent formulas, and the rays that leave on the far side one by one. */
function counted({ refractiveIndex, absorptionPerM, thicknessM }: Pane, slantDeg: number): number {
  const angle = slantDeg * RADIAN;
  const bent = Math.asin(Math.sin(angle) / refractiveIndex);
  const inside = Math.exp((-absorptionPerM * thicknessM) / Math.cos(bent));
  const back = [Math.sin(angle - bent) / Math.sin(angle + bent), Math.tan(angle - bent) / Math.tan(angle + bent)];
  return back.reduce((sum, amplitude) => {
    const rho = amplitude * amplitude;
    const rays = Array.from({ length: 3000 }, (_, k) => (1 - rho) ** 2 * inside ** (2 * k + 1) * rho ** (2 * k));
    return sum + rays.reduce((a, b) => a + b) / 2;
  }, 0);
}

describe('a pane', () => {
  test('lets through what its rays add up to, pass by pass', () => {
    for (const pane of [clear(1.52), { refractiveIndex: 1.9, absorptionPerM: 40, thicknessM: 0.02 }])
      for (const slantDeg of [1, 30, 56.66, 75, 89])
        expect(through(pane, slantDeg)).toBeCloseTo(counted(pane, slantDeg), 9);
  });
  test('reflects 4.34 % of the light at a surface of index 1.526 square on, 9.3 % at 60 degrees', () => {
    // Duffie & Beckman, example 5.1.1 (from memory): 0.0434 square on; 0.185 and 0.001 at 60 degrees.
    expect(Math.abs(through(clear(1.526), 0) - (1 - 0.0434) / (1 + 0.0434))).toBeLessThan(1e-4);
    const mean = ((1 - 0.185) / (1 + 0.185) + (1 - 0.001) / (1 + 0.001)) / 2;
    expect(Math.abs(through(clear(1.526), 60) - mean)).toBeLessThan(1e-3);
  });
  test('of the index of air does nothing, of any glass nothing passes along it, and none makes light', () => {
    for (const slantDeg of [0, 45, 89.9]) expect(through(clear(1), slantDeg)).toBeCloseTo(1, 12);
    for (const refractiveIndex of [1.2, 1.52, 3]) {
      const shares = Array.from({ length: 91 }, (_, slantDeg) => through(clear(refractiveIndex), slantDeg));
      expect(Math.max(...shares)).toBeLessThan(1);
      expect(shares[90]).toBeLessThan(1e-12);
      expect(shares[89]).toBeLessThan(shares[80]!);
    }
    expect(paneTransmittance(clear(1.52), [1, 0, 0], [0, 0, 1])).toBe(0);
  });
  test('darkens with its thickness as the light’s way in it grows', () => {
    const tinted = (thicknessM: number): Pane => ({ refractiveIndex: 1.0001, absorptionPerM: 50, thicknessM });
    expect(through(tinted(0.01), 0)).toBeCloseTo(Math.exp(-0.5), 6);
    expect(through(tinted(0.01), 60)).toBeCloseTo(Math.exp(-1), 3);
  });
});

test('what the scene does not say is 4 mm of clear float; one share stays one share', () => {
  expect(paneOf({ transmittance: 0.8 })).toBeNull();
  expect(paneOf({})).toBeNull();
  expect(paneOf({ thicknessM: 0.01 })).toEqual({ refractiveIndex: 1.52, absorptionPerM: 0, thicknessM: 0.01 });
  expect(paneOf({ transmittance: 0.5, refractiveIndex: 1.7 })!.refractiveIndex).toBe(1.7);
  expect(throughWindow({ transmittance: 0.8 }, 60)).toBeCloseTo(0.8, 9);
  expect(throughWindow({ transmittance: 0.5, refractiveIndex: 1.52 }, 0)).toBeCloseTo(0.9183, 4);
});

test('a wide soft lamp close to a pane, seen from square on to nearly along it: 0.3 % of peak, mean 0.02 %', () => {
  const surface = {
    name: 'Window wall',
    kind: 'wall',
    pose: facing([1, 5, 0], 270, 0),
    shape: { kind: 'rectangle', widthM: 10, heightM: 3 },
    thicknessM: 0.1,
    openings: {
      one: {
        leftM: 4,
        sillM: 0.5,
        shape: { kind: 'rectangle', widthM: 2, heightM: 2 },
        window: {
          columns: 2,
          rows: 2,
          barWidthM: 0.05,
          glass: { refractiveIndex: 1.6, absorptionPerM: 20, thicknessM: 0.01 },
        },
      },
    },
  } as const;
  const source = glowing(facing([1.5, 0.4, 1.6], 270, 0), { shape: 'rectangle', widthM: 1.4, heightM: 1 }, 4000);
  const document = sceneOf({ sources: { source }, surfaces: { wall: surface } });
  const receivers = Array.from({ length: 32 }, (_, i) => ({
    pointM: [0.98 - 0.06 * (i % 8), -0.9 + 0.5 * Math.floor(i / 8), 0] as const,
    normal: [0, 0, 1] as const,
  }));
  const agreement = agreementOn({ document, setupId: SETUP, receivers, inPenumbra: 0 }, 1, 65_536);
  expect(agreement.bySource[0]!.peakLx).toBeGreaterThan(100);
  expect(agreement.largest).toBeLessThanOrEqual(0.003);
  expect(agreement.mean).toBeLessThanOrEqual(0.0002);
}, 60_000);

/** A quadratic over a patch at one go, against the sum of its coefficients times the moments taken one by one. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  cell,
  clippedAt,
  clipPatch,
  integrate,
  lines,
  moments,
  patchMoments,
  spareSeries,
} from '../../../src/sim/solve/kernelModule';
import { CIRCLE_ARCS, startPatch } from '../../../src/sim/solve/patches';

const SQUARE = new Float64Array([-1, -1, 1, -1, 1, 1, -1, 1]);
const CIRCLE = Float64Array.from({ length: 2 * CIRCLE_ARCS }, (_, i) => {
  const turn = (2 * Math.PI * (i >> 1)) / CIRCLE_ARCS;
  return i % 2 === 0 ? Math.cos(turn) : Math.sin(turn);
});
const number = fc.double({ min: -1, max: 1, noNaN: true });

test.each([
  ['a disc', true, false],
  ['a rectangle', false, false],
  ['a slim face', false, true],
])('%s clipped by up to three lines', (_what, round, slim) => {
  let met = 0;
  fc.assert(
    fc.property(
      fc.array(fc.tuple(number, fc.double({ min: 0, max: 6.3, noNaN: true })), { maxLength: 3 }),
      fc.array(number, { minLength: 8, maxLength: 8 }),
      fc.tuple(number, number),
      (given, coefficients, [u, v]) => {
        lines.set(given.flatMap(([h0, turn]) => [h0, Math.cos(turn), Math.sin(turn)]));
        const face = round ? CIRCLE : SQUARE;
        const count = clipPatch(round, 0, startPatch(face, round), 0, given.length);
        if (count === 0) return;
        met++;
        const from = given.length === 0 ? 0 : clippedAt[0]!;
        cell.set([u, v, 1, 1]);
        spareSeries.of.set(coefficients);
        patchMoments(round, from, count, slim);
        const sum = coefficients.reduce((all, k, i) => all + (i < 6 || slim ? k * moments[i]! : 0), 0);
        expect(integrate(round, from, count, spareSeries.at, slim)).toBeCloseTo(sum, 11);
      },
    ),
    { numRuns: 500, seed: 9 },
  );
  expect(met).toBeGreaterThan(200);
});

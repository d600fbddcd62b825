/** Seeded cuts: as many holes as asked for, apart from each other and from the rim, and always the same. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cutPattern } from '../../src/scene/geometry/cutPattern';
import { modifierProblems } from '../../src/scene/invariants';
import { modifierSchema } from '../../src/scene/schema';
import listed from '../reference/cut-pattern.json';

test('holes stay inside the sheet, convex and apart: the document takes them as a polygon', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 0xffffffff }),
      fc.integer({ min: 1, max: 120 }),
      fc.double({ min: 0.2, max: 4, noNaN: true }),
      (seed, holes, widthM) => {
        const holesM = cutPattern(seed, holes, widthM, 1);
        expect(holesM).toHaveLength(holes);
        const w = widthM / 2;
        const outlineM = [
          [-w, -0.5],
          [w, -0.5],
          [w, 0.5],
          [-w, 0.5],
        ];
        const modifier = modifierSchema.parse({
          name: 'Cut',
          pose: { positionM: [0, 0, 0], aim: { panDeg: 0, tiltDeg: 0 } },
          shape: { kind: 'polygon', outlineM, holesM },
          material: { kind: 'opaque' },
        });
        expect(modifierProblems(modifier, [])).toEqual([]);
        for (const hole of holesM)
          hole.forEach(([x, y], i) => {
            const [bx, by] = hole[(i + 1) % hole.length]!;
            const [cx, cy] = hole[(i + 2) % hole.length]!;
            expect((bx - x) * (cy - by) - (by - y) * (cx - bx)).toBeGreaterThan(0);
          });
      },
    ),
    { numRuns: 60 },
  );
});

test('the same seed cuts the same holes, another seed others', () => {
  expect(cutPattern(7, 40, 1.2, 0.9)).toEqual(cutPattern(7, 40, 1.2, 0.9));
  expect(cutPattern(8, 40, 1.2, 0.9)).not.toEqual(cutPattern(7, 40, 1.2, 0.9));
});

test('a seed cuts the holes that were worked for it elsewhere', () => {
  const { seed, holes, widthM, heightM, outlinesM } = listed;
  const cut = cutPattern(seed, holes, widthM, heightM);
  expect(cut.map((outline) => outline.length)).toEqual(outlinesM.map((outline) => outline.length));
  cut.forEach((outline, i) =>
    outline.forEach((corner, k) =>
      corner.forEach((value, axis) => expect(value).toBeCloseTo(outlinesM[i]![k]![axis]!, 8)),
    ),
  );
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { outlineProblems, shapeProblems } from '../../src/scene/invariants';
import {
  findMeeting,
  innerPoint,
  liesWithin,
  rectangleRing,
  ringFlaw,
  ringsOverlap,
  sideOfRing,
  type Ring,
} from '../../src/scene/outlines';

const within = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1e6 }).map((step) => min + ((max - min) * step) / 1e6);
const square = rectangleRing(0, 0, 4, 4);
const isSimple = (ring: Ring): boolean => ringFlaw(ring) === null && findMeeting([ring]) === null;

describe('outlines that are not simple', () => {
  test.each<[string, Ring]>([
    [
      'crossing',
      [
        [0, 0],
        [2, 2],
        [2, 0],
        [0, 2],
      ],
    ],
    [
      'first corner again at the end',
      [
        [0, 0],
        [2, 0],
        [2, 2],
        [0, 0],
      ],
    ],
    [
      'corner twice',
      [
        [0, 0],
        [2, 0],
        [2, 0],
        [0, 2],
      ],
    ],
    [
      'corner again later',
      [
        [0, 0],
        [2, 0],
        [1, 1],
        [2, 2],
        [0, 2],
        [1, 1],
      ],
    ],
    [
      'corner on an edge',
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ],
    ],
    [
      'spike out',
      [
        [0, 0],
        [2, 0],
        [5, 0],
        [2, 0.0],
        [2, 2],
      ],
    ],
    [
      'spike along its edge',
      [
        [0, 0],
        [5, 0],
        [2, 0],
        [2, 2],
      ],
    ],
    [
      'all on a line',
      [
        [0, 0],
        [1, 0],
        [2, 0],
      ],
    ],
    [
      'edges on top of each other',
      [
        [0, 0],
        [4, 0],
        [4, 2],
        [3, 2],
        [3, 0],
        [1, 0],
        [1, 2],
        [0, 2],
      ],
    ],
    [
      'nearly touching',
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 1e-9],
        [0, 4],
      ],
    ],
  ])('%s', (_name, ring) => {
    expect(isSimple(ring)).toBe(false);
    expect(outlineProblems(ring, ['o'])).toHaveLength(1);
    expect(isSimple([...ring].reverse())).toBe(false);
  });
});

describe('outlines that are simple', () => {
  test.each<[string, Ring]>([
    [
      'triangle',
      [
        [0, 0],
        [1, 0],
        [0, 1],
      ],
    ],
    [
      'corner on a straight run',
      [
        [0, 0],
        [1, 0],
        [2, 0],
        [2, 2],
      ],
    ],
    [
      'a narrow slot',
      [
        [0, 0],
        [4, 0],
        [4, 2],
        [2.001, 2],
        [2.001, 0.5],
        [2, 0.5],
        [2, 2],
        [0, 2],
      ],
    ],
    [
      'far from the origin',
      [
        [9999, 9999],
        [10000, 9999],
        [10000, 10000],
        [9999, 10000],
      ],
    ],
  ])('%s', (_name, ring) => expect(isSimple(ring)).toBe(true));

  test('property: stars around a point are simple; swapping two corners apart makes them cross', () => {
    const star = fc.array(within(0.5, 2), { minLength: 5, maxLength: 40 }).map((radii): Ring =>
      radii.map((radius, index) => {
        const turn = (2 * Math.PI * index) / radii.length;
        return [radius * Math.cos(turn), radius * Math.sin(turn)];
      }),
    );
    fc.assert(
      fc.property(star, (ring) => {
        expect(isSimple(ring)).toBe(true);
        expect(sideOfRing([0, 0], ring)).toBe('inside');
        expect(sideOfRing(innerPoint(ring), ring)).toBe('inside');
        const swapped = [...ring];
        [swapped[0], swapped[2]] = [swapped[2] ?? [0, 0], swapped[0] ?? [0, 0]];
        if (ring.length > 6) expect(bruteCrosses(swapped)).toBe(!isSimple(swapped));
      }),
    );
  });
});

/** Independent of the sweep: every pair of edges that share no corner, tried by Cramer's rule. */
function bruteCrosses(ring: Ring): boolean {
  const corner = (index: number): readonly [number, number] => ring[index % ring.length] ?? [0, 0];
  for (let i = 0; i < ring.length; i++) {
    for (let j = i + 2; j < ring.length; j++) {
      if (i === 0 && j === ring.length - 1) continue;
      const [[ax, ay], [bx, by], [cx, cy], [dx, dy]] = [corner(i), corner(i + 1), corner(j), corner(j + 1)];
      const det = (bx - ax) * (cy - dy) - (by - ay) * (cx - dx);
      const s = ((cx - ax) * (cy - dy) - (cy - ay) * (cx - dx)) / det;
      const t = ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / det;
      if (s >= 0 && s <= 1 && t >= 0 && t <= 1) return true;
    }
  }
  return false;
}

/** Whether some corner lies within ten micrometres of an edge that is not its own: it touches for the sweep, and may not cross. */
const nearlyTouches = (ring: Ring): boolean =>
  ring.some(([x, y], own) =>
    ring.some(([ax, ay], index) => {
      const next = (index + 1) % ring.length;
      if (index === own || next === own) return false;
      const [dx, dy] = [ring[next]![0] - ax, ring[next]![1] - ay];
      const share = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
      return Math.hypot(x - ax - share * dx, y - ay - share * dy) < 1e-5;
    }),
  );

test('property: the sweep agrees with trying every pair on random outlines', () => {
  const point = fc.tuple(within(0, 1), within(0, 1));
  fc.assert(
    fc.property(fc.array(point, { minLength: 4, maxLength: 9 }), (ring) => {
      if (ringFlaw(ring) === null && !nearlyTouches(ring))
        expect(findMeeting([ring]) !== null).toBe(bruteCrosses(ring));
    }),
    { numRuns: 500 },
  );
});

describe('one outline in another', () => {
  const notched: Ring = [
    [0, 0],
    [4, 0],
    [4, 4],
    [3, 4],
    [3, 1],
    [1, 1],
    [1, 4],
    [0, 4],
  ];
  test.each<[string, Ring, Ring, boolean]>([
    ['well inside', rectangleRing(1, 1, 1, 1), square, true],
    ['sharing an edge', rectangleRing(1, 0, 1, 2), square, true],
    ['the same', square, square, true],
    ['past an edge', rectangleRing(3, 1, 2, 1), square, false],
    ['outside', rectangleRing(5, 5, 1, 1), square, false],
    ['around it', rectangleRing(-1, -1, 9, 9), square, false],
    ['across a notch, all corners inside', rectangleRing(0.5, 2, 3, 1), notched, false],
    ['filling the notch', rectangleRing(1, 1, 2, 3), notched, false],
    ['beside the notch', rectangleRing(0, 1, 1, 3), notched, true],
  ])('%s', (_name, inner, outer, expected) => expect(liesWithin(inner, outer)).toBe(expected));

  test.each<[string, Ring, Ring, boolean]>([
    ['apart', rectangleRing(5, 5, 1, 1), square, false],
    ['edge to edge', rectangleRing(4, 0, 2, 4), square, false],
    ['corner to corner', rectangleRing(4, 4, 2, 4), square, false],
    ['one in the other', rectangleRing(1, 1, 1, 1), square, true],
    ['the same', square, [...square], true],
    ['a cross of two bars', rectangleRing(1, -1, 1, 9), rectangleRing(-1, 1, 9, 1), true],
    ['filling a notch', rectangleRing(1, 1, 2, 3), notched, false],
  ])('overlap: %s', (_name, one, other, expected) => {
    expect(ringsOverlap(one, other)).toBe(expected);
    expect(ringsOverlap(other, one)).toBe(expected);
  });
});

test('holes that touch each other are a fault', () => {
  const holes: Ring[] = [rectangleRing(1, 1, 1, 1), rectangleRing(2, 1, 1, 1)];
  const shape = { kind: 'polygon', outlineM: square, holesM: holes } as unknown as Parameters<typeof shapeProblems>[0];
  expect(shapeProblems(shape, [])).toMatchObject([{ path: ['holesM', 1], found: 'a hole that meets hole 0' }]);
});

test('2000 corners take well under a second, however they lie', () => {
  const round = Array.from({ length: 2000 }, (_, i): [number, number] => [Math.cos(i / 318.31), Math.sin(i / 318.31)]);
  const zigzag = Array.from({ length: 1998 }, (_, i): [number, number] => [i % 2 === 0 ? 0 : 9, (i + 1) / 1000]);
  const started = performance.now();
  expect(isSimple(round)).toBe(true);
  expect(isSimple([...zigzag, [10, 2], [10, 0]])).toBe(true);
  expect(performance.now() - started).toBeLessThan(2000);
});

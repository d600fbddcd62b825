/** Which receivers of a grid lie on the surface: each against the even-odd rule at its own place. */
import { expect, test } from 'vitest';
import type { Point2 } from '../../../src/scene/schema';
import { cellCentres, onSurface, solveGrid } from '../../../src/sim/solve/solveGrid';
import { sceneOn } from '../../bench/workload';

const FLOOR = { origin: [0, 0, 0], right: [1, 0, 0], up: [0, 1, 0], forward: [0, 0, 1] } as const;
const [WIDTH_M, HEIGHT_M, COLUMNS, ROWS] = [4, 3, 17, 13];
const whole: Point2[] = [
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 3],
];
const SURFACES: Readonly<Record<string, { outline: Point2[]; openings?: Point2[][]; lit: 'all' | 'some' }>> = {
  'a whole wall': { outline: whole, lit: 'all' },
  'a wall drawn the other way round': { outline: [...whole].reverse(), lit: 'all' },
  'a wall with a window': {
    outline: whole,
    openings: [whole.map(([x, y]): Point2 => [1 + x / 4, 1 + y / 4])],
    lit: 'some',
  },
  'a gable of four corners': {
    outline: [
      [0, 0],
      [4, 0],
      [3, 3],
      [1, 3],
    ],
    lit: 'some',
  },
  'a bow tie': {
    outline: [
      [0, 0],
      [4, 3],
      [4, 0],
      [0, 3],
    ],
    lit: 'some',
  },
  'a dart': {
    outline: [
      [0, 0],
      [4, 0],
      [1, 1],
      [0, 3],
    ],
    lit: 'some',
  },
  'an L': {
    outline: [
      [0, 0],
      [4, 0],
      [4, 1],
      [1, 1],
      [1, 3],
      [0, 3],
    ],
    lit: 'some',
  },
};

test.each(Object.entries(SURFACES))('%s', (_name, { outline, openings = [], lit }) => {
  const scene = sceneOn(FLOOR, WIDTH_M, HEIGHT_M, [], []);
  const surface = { ...scene.surfaces.get('receiver')!, outline, openings };
  const request = { surfaceId: 'receiver', columns: COLUMNS, rows: ROWS };
  const { mask } = solveGrid({ ...scene, surfaces: new Map([['receiver', surface]]) }, request);
  const xs = cellCentres(0, WIDTH_M, COLUMNS);
  const ys = cellCentres(0, HEIGHT_M, ROWS);
  const wanted = [...ys].flatMap((y) => [...xs].map((x) => (onSurface(surface, [x, y]) ? 1 : 0)));
  expect([...mask]).toEqual(wanted);
  expect(wanted.includes(1)).toBe(true);
  expect(wanted.includes(0)).toBe(lit === 'some');
});

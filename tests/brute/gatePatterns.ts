/** Patterns at a projection spot's gate, hole by hole from what the document says; a seed's holes by a twin of the rule. */
import type { Distribution } from '../../src/scene/schema';
import { seededCut } from './seededCut';
import { RADIAN } from './vectors';

type Projection = Extract<Distribution, { kind: 'projection' }>;
type Pattern = NonNullable<Projection['pattern']>;
type Flat = readonly [number, number];

/** Outlines in shares of the field's radius, before the pattern's turn. */
function outlinesOf(pattern: Pattern): readonly (readonly Flat[])[] {
  switch (pattern.kind) {
    case 'shapes':
      return pattern.outlines;
    case 'panes': {
      const { columns, rows, barShare, heightOverWidth = 1 } = pattern;
      // The window's half diagonal is the field's radius.
      const halfWidth = 1 / Math.sqrt(1 + heightOverWidth ** 2);
      const pane = (size: number, count: number, i: number): Flat => [
        size * ((2 * i + barShare) / count - 1),
        size * ((2 * i + 2 - barShare) / count - 1),
      ];
      return Array.from({ length: columns * rows }, (_, i) => {
        const [left, right] = pane(halfWidth, columns, i % columns);
        const [low, high] = pane(halfWidth * heightOverWidth, rows, Math.floor(i / columns));
        return [
          [left, low],
          [right, low],
          [right, high],
          [left, high],
        ] as const;
      });
    }
    case 'slats': {
      const pitch = 2 / pattern.slats;
      return Array.from({ length: pattern.slats }, (_, i) => {
        const middle = (i + 0.5) * pitch - 1;
        const half = (pitch * pattern.openShare) / 2;
        return [
          [-1, middle - half],
          [1, middle - half],
          [1, middle + half],
          [-1, middle + half],
        ] as const;
      });
    }
    default:
      // The field's radius is 1: the plate is the square round it.
      return seededCut(pattern.seed, pattern.holes, 2, 2);
  }
}

const ramp = (t: number): number => (t <= 0 ? 0 : t >= 1 ? 1 : t * t * (3 - 2 * t));

/**
 * Share that the pattern passes at tangents (x, y) of the picture: of every hole the soft edge at the most that the place
 * lies beyond any of its sides, each taken from the middle of the hole.
 */
export function gatePattern(pattern: Pattern, { fieldAngleDeg }: Projection): (x: number, y: number) => number {
  const radius = Math.tan((fieldAngleDeg / 2) * RADIAN);
  const turn = (pattern.turnDeg ?? 0) * RADIAN;
  const widthDeg = pattern.edgeWidthDeg;
  if (widthDeg === undefined) throw new Error("brute force wants the pattern's edge width in the document");
  const holes = outlinesOf(pattern).map((outline) => {
    const corners = outline.map(([a, b]): Flat => [
      radius * (a * Math.cos(turn) - b * Math.sin(turn)),
      radius * (a * Math.sin(turn) + b * Math.cos(turn)),
    ]);
    const middle = corners.reduce(
      ([sx, sy], [cx, cy]) => [sx + cx / corners.length, sy + cy / corners.length] as Flat,
      [0, 0] as Flat,
    );
    return { corners, middle };
  });
  return (x, y) => {
    let sum = 0;
    for (const { corners, middle } of holes) {
      let beyond = -Infinity;
      corners.forEach(([ax, ay], i) => {
        const [bx, by] = corners[(i + 1) % corners.length]!;
        const side = (px: number, py: number) =>
          ((bx - ax) * (py - ay) - (by - ay) * (px - ax)) / Math.hypot(bx - ax, by - ay);
        beyond = Math.max(beyond, side(middle[0], middle[1]) > 0 ? -side(x, y) : side(x, y));
      });
      sum += ramp((widthDeg / 2 - Math.atan(beyond) / RADIAN) / widthDeg);
    }
    if (sum > 1 + 1e-9) throw new Error('the pattern passes more light than there is');
    return sum;
  };
}

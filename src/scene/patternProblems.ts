/** What the schema cannot say about strips of cells and patterns at a gate. */
import type { Path, Problem } from './faults';
import { findMeeting, ringFlaw, ringsOverlap, type Ring } from './outlines';
import type { Distribution, Emitter } from './schema';

/** A strip's levels are one a cell. */
export function emitterProblems(emitter: Emitter, path: Path): Problem[] {
  if (emitter.shape !== 'rectangle' || emitter.cells?.levels === undefined) return [];
  const { count, levels } = emitter.cells;
  if (levels.length === count) return [];
  return [{ path: [...path, 'cells', 'levels'], found: `${levels.length} levels`, expected: `one a cell, ${count}` }];
}

/** Signed area of the turn at each corner: all of one sign in a convex outline. */
function isConvex(outline: Ring): boolean {
  const turns = outline.map((b, i) => {
    const a = outline[(i + outline.length - 1) % outline.length]!;
    const c = outline[(i + 1) % outline.length]!;
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
  });
  // A star that winds twice turns one way too; it meets itself, and that is looked at first.
  return turns.every((turn) => turn > 0) || turns.every((turn) => turn < 0);
}

/** A pattern's own shapes are convex, and no two of them meet: their light then adds up to at most all of it. */
export function patternProblems(distribution: Distribution, path: Path): Problem[] {
  if (distribution.kind !== 'projection' || distribution.pattern?.kind !== 'shapes') return [];
  const { outlines } = distribution.pattern;
  const at = (index: number): Path => [...path, 'pattern', 'outlines', index];
  for (const [index, outline] of outlines.entries()) {
    if (ringFlaw(outline) !== null || findMeeting([outline]) !== null || !isConvex(outline)) {
      return [{ path: at(index), found: 'an outline that is not convex', expected: 'a convex outline' }];
    }
    if (outlines.slice(0, index).some((other) => ringsOverlap(outline, other))) {
      return [{ path: at(index), found: 'a hole that meets another', expected: 'holes apart from each other' }];
    }
  }
  return [];
}

/** Whether shapes, pictures and lettering are drawn just as before, by what they hold: then what stands can stay. */
import type { Path } from './geometry2d';
import type { RasterOp, ShapeOp, TextOp } from './sketch';

function isSameList<T>(a: readonly T[], b: readonly T[], isSame: (one: T, other: T) => boolean): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i += 1) if (!isSame(a[i]!, b[i]!)) return false;
  return true;
}
const isSameNumber = (a: number, b: number): boolean => a === b;
const isSamePath = (a: Path, b: Path): boolean => isSameList(a, b, isSameNumber);

export function isSameShape(a: ShapeOp, b: ShapeOp): boolean {
  if (a === b) return true;
  if (a.colour !== b.colour || a.alpha !== b.alpha) return false;
  if (a.kind === 'fill') return b.kind === 'fill' && isSameList(a.rings, b.rings, isSamePath);
  return (
    b.kind === 'line' &&
    a.widthPx === b.widthPx &&
    a.closed === b.closed &&
    a.round === b.round &&
    isSameList(a.paths, b.paths, isSamePath)
  );
}

export const areSameRasters = (a: readonly RasterOp[], b: readonly RasterOp[]): boolean =>
  isSameList(
    a,
    b,
    (one, other) =>
      one.bytes === other.bytes &&
      one.alpha === other.alpha &&
      one.smooth === other.smooth &&
      isSameList(one.matrix, other.matrix, isSameNumber),
  );

/** Shapes that are drawn together: few enough that one that changes costs little, enough that there are few of them. */
export const SHAPES_TOGETHER = 64;

/** @returns numbers of the lots of `SHAPES_TOGETHER` that are drawn otherwise than before, beyond the end of `now` as well */
export function changedLots(before: readonly ShapeOp[], now: readonly ShapeOp[]): number[] {
  const changed: number[] = [];
  for (let from = 0; from < Math.max(before.length, now.length); from += SHAPES_TOGETHER) {
    const to = from + SHAPES_TOGETHER;
    const isSame = isSameList(before.slice(from, to), now.slice(from, to), isSameShape);
    if (!isSame) changed.push(from / SHAPES_TOGETHER);
  }
  return changed;
}

export const isSameText = (a: TextOp, b: TextOp): boolean =>
  a === b ||
  (a.x === b.x &&
    a.y === b.y &&
    a.turnDeg === b.turnDeg &&
    a.sizePx === b.sizePx &&
    a.align === b.align &&
    a.halo?.colour === b.halo?.colour &&
    a.halo?.alpha === b.halo?.alpha &&
    isSameList(a.lines, b.lines, (line, otherLine) =>
      isSameList(
        line,
        otherLine,
        (run, otherRun) =>
          run.text === otherRun.text && run.weight === otherRun.weight && run.colour === otherRun.colour,
      ),
    ));

/** Lines of equal level over a grid, and outlines of masks, in the surface's right/up metres. */
import { contours } from 'd3-contour';
import { simplifyRing } from './geometry2d';
import { formatThirds } from './format';

export interface GridPlace {
  readonly columns: number;
  readonly rows: number;
  readonly leftM: number;
  readonly bottomM: number;
  readonly widthM: number;
  readonly heightM: number;
}
export interface ContourLevel {
  readonly value: number;
  readonly heavy: boolean;
  readonly label: string;
}
export interface ContourLine extends ContourLevel {
  readonly paths: readonly (readonly number[])[];
}

/** Ten levels a decade, a third of a stop apart (the R10 preferred numbers of ISO 3, rounded as the trade writes them). */
const TENTHS = [1, 1.25, 1.6, 2, 2.5, 3.2, 4, 5, 6.3, 8] as const;
const MOST_LINES = 10;

/**
 * Levels between `least` and `most`: 100 125 160 200 ..., every third heavy so that 500, 1000 and 2000 are: a whole stop
 * apart. When there would be more than ten, the thirds are left out.
 */
export function levelContours(least: number, most: number): ContourLevel[] {
  if (!(least > 0) || !(most > least)) return [];
  const levels: ContourLevel[] = [];
  for (let step = Math.floor(10 * Math.log10(least)); step <= Math.ceil(10 * Math.log10(most)); step++) {
    const decade = Math.floor(step / 10);
    const value = Number((TENTHS[step - 10 * decade]! * 10 ** decade).toPrecision(3));
    if (value <= least || value >= most) continue;
    levels.push({ value, heavy: (step - 30) % 3 === 0, label: String(value) });
  }
  return levels.length > MOST_LINES ? levels.filter((level) => level.heavy) : levels;
}

/** Levels of a map of stops: each third, whole stops heavy. */
export function stopContours(least: number, most: number): ContourLevel[] {
  const levels: ContourLevel[] = [];
  for (let thirds = Math.ceil(least * 3); thirds <= Math.floor(most * 3); thirds++) {
    levels.push({ value: thirds / 3, heavy: thirds % 3 === 0, label: formatThirds(thirds / 3) });
  }
  return levels.length > MOST_LINES ? levels.filter((level) => level.heavy) : levels;
}

/** The grid with its undefined cells filled from their neighbours, ring by ring: contours must not hug the gaps. */
export function fillGaps(values: Float32Array, columns: number, rows: number): Float32Array {
  const filled = Float32Array.from(values, (value) => (Number.isFinite(value) ? value : NaN));
  // NaN is the one value that is not itself; a cell is queued once, by the ring that reaches it first.
  const isEmpty = (i: number): boolean => filled[i] !== filled[i];
  const isQueued = new Uint8Array(filled.length);
  const queueNeighbours = (i: number, queue: number[]): void => {
    forNeighbours(i, columns, rows, (j) => {
      if (isQueued[j] === 1 || !isEmpty(j)) return;
      isQueued[j] = 1;
      queue.push(j);
    });
  };
  let ring: number[] = [];
  for (let i = 0; i < filled.length; i++) if (!isEmpty(i)) queueNeighbours(i, ring);
  while (ring.length > 0) {
    const means = ring.map((i) => {
      let [sum, count] = [0, 0];
      forNeighbours(i, columns, rows, (j) => {
        if (!isEmpty(j)) [sum, count] = [sum + filled[j]!, count + 1];
      });
      return sum / count;
    });
    ring.forEach((i, k) => (filled[i] = means[k]!));
    const next: number[] = [];
    for (const i of ring) queueNeighbours(i, next);
    ring = next;
  }
  return filled;
}

function forNeighbours(i: number, columns: number, rows: number, visit: (j: number) => void): void {
  const column = i % columns;
  if (column > 0) visit(i - 1);
  if (column + 1 < columns) visit(i + 1);
  if (i >= columns) visit(i - columns);
  if (i + columns < columns * rows) visit(i + columns);
}

/**
 * Contours of a field, kept to the cells that `keep` marks. Positive fields are contoured on the log of the level, which
 * is what the eye and the map follow.
 * @param values one number a cell; NaN where undefined
 */
export function contourLines(
  values: Float32Array,
  place: GridPlace,
  levels: readonly ContourLevel[],
  keep: Uint8Array,
  scale: 'log' | 'linear',
): ContourLine[] {
  const { columns, rows } = place;
  const shaped = scale === 'log' ? values.map((value) => (value > 0 ? Math.log2(value) : NaN)) : values;
  const filled = fillGaps(shaped, columns, rows);
  if (filled.length === 0 || Number.isNaN(filled[0]!)) return [];
  const trace = contours().size([columns, rows]).smooth(true);
  return levels.map((level) => {
    const at = scale === 'log' ? Math.log2(level.value) : level.value;
    const rings = trace.contour(filled as unknown as number[], at).coordinates.flat();
    return { ...level, paths: rings.flatMap((ring) => keptPieces(ring, place, keep)) };
  });
}

/**
 * Cells of `keep` where the field runs gently enough for lines to be told apart: across a shadow edge contours bunch into
 * a black bar, so they stop there. Neighbours of undefined cells go too.
 * @param values stops, or the log2 of levels
 * @param mostPerM steepest slope kept, stops per metre
 */
export function gentleCells(values: Float32Array, place: GridPlace, keep: Uint8Array, mostPerM: number): Uint8Array {
  const { columns, rows } = place;
  const [stepX, stepY] = [place.widthM / columns, place.heightM / rows];
  const gentle = new Uint8Array(keep.length);
  const at = (column: number, row: number): number =>
    values[Math.min(rows - 1, Math.max(0, row)) * columns + Math.min(columns - 1, Math.max(0, column))]!;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const i = row * columns + column;
      if (keep[i] !== 1) continue;
      const slopeX =
        Math.max(Math.abs(at(column + 1, row) - values[i]!), Math.abs(values[i]! - at(column - 1, row))) / stepX;
      const slopeY =
        Math.max(Math.abs(at(column, row + 1) - values[i]!), Math.abs(values[i]! - at(column, row - 1))) / stepY;
      gentle[i] = Math.hypot(slopeX, slopeY) <= mostPerM ? 1 : 0;
    }
  }
  return gentle;
}

function keptPieces(ring: readonly number[][], place: GridPlace, keep: Uint8Array): number[][] {
  const { columns, rows, leftM, bottomM, widthM, heightM } = place;
  const onBorder = ([x, y]: number[]): boolean => x! <= 0 || x! >= columns || y! <= 0 || y! >= rows;
  const pieces: number[][] = [];
  let piece: number[] | null = null;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [a, b] = [ring[i]!, ring[i + 1]!];
    const column = Math.min(columns - 1, Math.max(0, Math.floor((a[0]! + b[0]!) / 2)));
    const row = Math.min(rows - 1, Math.max(0, Math.floor((a[1]! + b[1]!) / 2)));
    if ((onBorder(a) && onBorder(b)) || keep[row * columns + column] !== 1) {
      piece = null;
      continue;
    }
    const point = ([x, y]: number[]): [number, number] => [
      leftM + (x! / columns) * widthM,
      bottomM + (y! / rows) * heightM,
    ];
    if (!piece) {
      piece = [...point(a)];
      pieces.push(piece);
    }
    piece.push(...point(b));
  }
  return joinEnds(pieces);
}

/** A ring cut only where it happens to start is one piece. */
function joinEnds(pieces: number[][]): number[][] {
  const [first, last] = [pieces[0], pieces[pieces.length - 1]];
  if (!first || !last || first === last) return pieces;
  if (first[0] !== last[last.length - 2] || first[1] !== last[last.length - 1]) return pieces;
  return [[...last, ...first.slice(2)], ...pieces.slice(1, -1)];
}

/**
 * Outlines of a mask's cells (marching squares), straightened to within two thirds of a cell. Rings, metres; specks under
 * `leastCells` cells are left out.
 */
export function maskOutlines(mask: Uint8Array, place: GridPlace, leastCells = 6): number[][] {
  const { columns, rows, leftM, bottomM, widthM, heightM } = place;
  const traced = contours()
    .size([columns, rows])
    .smooth(false)
    .contour(mask as unknown as number[], 0.5);
  return traced.coordinates.flat().flatMap((ring) => {
    const cells = ring.slice(0, -1).flatMap(([x, y]) => [x!, y!]);
    if (Math.abs(ringArea(cells)) < leastCells) return [];
    const straight = simplifyRing(cells, 0.67);
    return [
      straight.map((value, i) =>
        i % 2 === 0 ? leftM + (value / columns) * widthM : bottomM + (value / rows) * heightM,
      ),
    ];
  });
}

function ringArea(ring: readonly number[]): number {
  let twice = 0;
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    twice += ring[j]! * ring[i + 1]! - ring[i]! * ring[j + 1]!;
  }
  return twice / 2;
}

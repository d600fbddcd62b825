/** What lies on a sheet by the squares that it touches, so that a label asks only after its neighbours. Screen pixels. */

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export const overlaps = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/** Whether the segment enters the box (Liang and Barsky's clipping, 1984). */
export function segmentMeetsBox(ax: number, ay: number, bx: number, by: number, box: Box): boolean {
  let from = 0;
  let to = 1;
  for (let side = 0; side < 4; side += 1) {
    const isAcross = side < 2;
    const run = isAcross ? bx - ax : by - ay;
    const rate = side % 2 === 0 ? -run : run;
    const room = side === 0 ? ax - box.left : side === 1 ? box.right - ax : side === 2 ? ay - box.top : box.bottom - ay;
    if (rate === 0) {
      if (room < 0) return false;
    } else if (rate < 0) {
      from = Math.max(from, room / rate);
    } else {
      to = Math.min(to, room / rate);
    }
  }
  return from <= to;
}

const SQUARE_PX = 40;

/** Lists of numbers, one for each square of a sheet. What lies off the sheet counts to the squares at its edge. */
class Squares {
  readonly columns: number;
  readonly lists: number[][];
  private readonly rows: number;

  constructor(widthPx: number, heightPx: number) {
    this.columns = Math.max(1, Math.ceil(widthPx / SQUARE_PX));
    this.rows = Math.max(1, Math.ceil(heightPx / SQUARE_PX));
    this.lists = Array.from({ length: this.columns * this.rows }, () => []);
  }

  column(px: number): number {
    return Math.min(this.columns - 1, Math.max(0, Math.floor(px / SQUARE_PX)));
  }
  row(px: number): number {
    return Math.min(this.rows - 1, Math.max(0, Math.floor(px / SQUARE_PX)));
  }
  /** Puts a number into the lists of the squares that a box touches. */
  add(number: number, left: number, top: number, right: number, bottom: number): void {
    const [lastColumn, lastRow] = [this.column(right), this.row(bottom)];
    for (let row = this.row(top); row <= lastRow; row += 1) {
      for (let column = this.column(left); column <= lastColumn; column += 1) {
        this.lists[row * this.columns + column]!.push(number);
      }
    }
  }
}

/** Boxes that nothing may overlap. */
export class BoxGrid {
  private readonly boxes: Box[] = [];
  private readonly squares: Squares;

  constructor(widthPx: number, heightPx: number) {
    this.squares = new Squares(widthPx, heightPx);
  }

  add(box: Box): void {
    this.squares.add(this.boxes.push(box) - 1, box.left, box.top, box.right, box.bottom);
  }

  // Asked thousands of times a drawing: plain loops, nothing made on the way.
  isFree(box: Box): boolean {
    const { squares, boxes } = this;
    const [lastColumn, lastRow] = [squares.column(box.right), squares.row(box.bottom)];
    for (let row = squares.row(box.top); row <= lastRow; row += 1) {
      for (let column = squares.column(box.left); column <= lastColumn; column += 1) {
        for (const number of squares.lists[row * squares.columns + column]!) {
          if (overlaps(box, boxes[number]!)) return false;
        }
      }
    }
    return true;
  }
}

/** Weighted line segments that labels keep off when they can. */
export class SegmentGrid {
  /** Ends of each segment, then its weight. */
  private readonly segments: number[] = [];
  /** Number of the question in which a segment was last counted: one that lies in several squares counts once. */
  private readonly countedIn: number[] = [];
  private question = 0;
  private readonly squares: Squares;
  private readonly widthPx: number;
  private readonly heightPx: number;

  constructor(widthPx: number, heightPx: number) {
    this.squares = new Squares(widthPx, heightPx);
    [this.widthPx, this.heightPx] = [widthPx, heightPx];
  }

  /** A segment wholly off the sheet is left out: no label is there. */
  add(ax: number, ay: number, bx: number, by: number, weight: number): void {
    if (Math.max(ax, bx) < 0 || Math.min(ax, bx) > this.widthPx) return;
    const [low, high] = ay < by ? [ay, by] : [by, ay];
    if (high < 0 || low > this.heightPx) return;
    const number = this.countedIn.push(0) - 1;
    this.segments.push(ax, ay, bx, by, weight);
    const firstRow = Math.floor(Math.max(0, low) / SQUARE_PX);
    const lastRow = Math.floor(Math.min(this.heightPx, high) / SQUARE_PX);
    for (let row = firstRow; row <= lastRow; row += 1) {
      // Band by band, so that a long slanting line lies in few squares.
      const [top, bottom] = [row * SQUARE_PX, (row + 1) * SQUARE_PX];
      const xAt = (y: number): number =>
        ay === by ? ax : ax + ((bx - ax) * (Math.min(high, Math.max(low, y)) - ay)) / (by - ay);
      const ends = ay === by ? [ax, bx] : [xAt(top), xAt(bottom)];
      this.squares.add(number, Math.min(...ends), top, Math.max(...ends), bottom - 1);
    }
  }

  /** Summed weight of the segments that enter a box on the sheet. */
  weightIn(box: Box): number {
    const { segments, countedIn, squares } = this;
    this.question += 1;
    let sum = 0;
    const [lastColumn, lastRow] = [squares.column(box.right), squares.row(box.bottom)];
    for (let row = squares.row(box.top); row <= lastRow; row += 1) {
      for (let column = squares.column(box.left); column <= lastColumn; column += 1) {
        for (const number of squares.lists[row * squares.columns + column]!) {
          if (countedIn[number] === this.question) continue;
          countedIn[number] = this.question;
          const at = number * 5;
          if (segmentMeetsBox(segments[at]!, segments[at + 1]!, segments[at + 2]!, segments[at + 3]!, box)) {
            sum += segments[at + 4]!;
          }
        }
      }
    }
    return sum;
  }
}

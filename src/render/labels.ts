/**
 * Where lettering goes: each label brings places in order of liking; the placer takes the first that is free of other
 * labels and symbols and crosses the fewest lines, and leaves a label out rather than let two overlap.
 */
import type { TextOp, TextRun } from './sketch';
import { CASING, ON_MAP_TEXT, type Inks, type InkRole } from './tokens';
import { insideRings, type Path, type Shift } from './geometry2d';
import { BoxGrid, SegmentGrid, type Box } from './labelGrid';

export type MeasureText = (text: string, sizePx: number, weight: number) => number;

/** Widths without a font at hand (tests, and before the page has one): 0.48 em a letter, a little more when bold. */
export const estimateTextWidth: MeasureText = (text, sizePx, weight) =>
  text.length * sizePx * (weight > 500 ? 0.51 : 0.48);

export interface LabelRun {
  readonly text: string;
  readonly bold?: boolean;
  readonly role?: InkRole;
}
export type LabelLine = readonly LabelRun[];

/** Where the label's box hangs from the point: e.g. `left` puts the point at the middle of its left side. */
export type Anchor =
  'left' | 'right' | 'above' | 'below' | 'centre' | 'aboveLeft' | 'aboveRight' | 'belowLeft' | 'belowRight';
export interface LabelPlace {
  readonly x: number;
  readonly y: number;
  readonly anchor: Anchor;
}
export interface Label {
  readonly lines: readonly LabelLine[];
  readonly places: readonly LabelPlace[];
  readonly sizePx?: number;
  readonly turnDeg?: 0 | -90;
  /** How its lines stand under each other; from the anchor if absent. */
  readonly align?: 'left' | 'centre' | 'right';
  /** Px kept free of other labels around it; 2 if absent. */
  readonly clearPx?: number;
  /** Point that a leader runs to when the chosen place is more than 40 px away. */
  readonly leaderTo?: { readonly x: number; readonly y: number };
  /** How far from the point a leader begins to be wanted; 40 px if absent. */
  readonly leaderFromPx?: number;
  /** Rather left out than drawn over more lines than this. */
  readonly mostCrossings?: number;
  /** Drawn even where it crosses lines; never where it would overlap another label. */
  readonly halo?: boolean;
}

const grow = (box: Box, by: number): Box => ({
  left: box.left - by,
  top: box.top - by,
  right: box.right + by,
  bottom: box.bottom + by,
});

export const LABEL_SIZE_PX = 12;
const LINE_HEIGHT = 1.25;
/** A crossed line weighs as much as four steps down the list of places; a thicket of lines no more than four lines. */
const ORDER_COST = 0.25;
const MOST_CROSSINGS = 4;
/** A label across a wall is worse than one across a ray. */
export const WALL_WEIGHT = 2;

function boxAt(place: LabelPlace, width: number, height: number): Box {
  const { x, y, anchor } = place;
  const toRight = anchor === 'left' || anchor === 'aboveLeft' || anchor === 'belowLeft';
  const toLeft = anchor === 'right' || anchor === 'aboveRight' || anchor === 'belowRight';
  const left = toRight ? x : toLeft ? x - width : x - width / 2;
  const top = anchor.startsWith('above') ? y - height : anchor.startsWith('below') ? y : y - height / 2;
  return { left, top, right: left + width, bottom: top + height };
}

export class LabelPlacer {
  readonly texts: TextOp[] = [];
  /** Leaders, from label to thing, as paths. */
  readonly leaders: Path[] = [];
  private readonly taken: BoxGrid;
  private readonly segments: SegmentGrid;
  private readonly measure: MeasureText;
  private readonly inks: Inks;
  private readonly mapRings: readonly Path[] | null;
  private readonly sheet: Box;

  constructor(measure: MeasureText, inks: Inks, mapRings: readonly Path[] | null, widthPx: number, heightPx: number) {
    this.measure = measure;
    this.inks = inks;
    this.mapRings = mapRings;
    this.taken = new BoxGrid(widthPx, heightPx);
    this.segments = new SegmentGrid(widthPx, heightPx);
    this.sheet = { left: 2, top: 2, right: widthPx - 2, bottom: heightPx - 2 };
  }

  /** Nothing may be lettered over this: symbols, handles, the legend. */
  block(box: Box): void {
    this.taken.add(box);
  }

  /** Lines that labels keep off when they can; a wall weighs more than a hairline. */
  avoid(paths: readonly Path[], weight = 1, [x, y]: Shift = [0, 0]): void {
    for (const path of paths) {
      for (let i = 0; i + 3 < path.length; i += 2) {
        this.segments.add(path[i]! + x, path[i + 1]! + y, path[i + 2]! + x, path[i + 3]! + y, weight);
      }
    }
  }

  /** Places the label, or leaves it out; answers its box, or null when it was left out. */
  place(label: Label): Box | null {
    const sizePx = label.sizePx ?? LABEL_SIZE_PX;
    const lengthPx = Math.max(...label.lines.map((line) => this.lineWidth(line, sizePx)));
    const depthPx = label.lines.length * sizePx * LINE_HEIGHT;
    const upright = label.turnDeg === -90;
    const [width, height] = upright ? [depthPx, lengthPx] : [lengthPx, depthPx];
    let best: { place: LabelPlace; box: Box; cost: number } | null = null;
    for (const [order, place] of label.places.entries()) {
      const box = boxAt(place, width, height);
      if (!this.fits(box, label.clearPx ?? 2)) continue;
      const crossed = this.segments.weightIn(grow(box, 1));
      if (crossed > (label.mostCrossings ?? Infinity)) continue;
      const cost = Math.min(crossed, MOST_CROSSINGS) + order * ORDER_COST;
      if (!best || cost < best.cost) best = { place, box, cost };
      if (crossed === 0) break;
    }
    if (!best) return null;
    this.write(label, best.place, best.box, sizePx);
    return best.box;
  }

  private fits(box: Box, clearPx: number): boolean {
    const { sheet } = this;
    if (box.left < sheet.left || box.right > sheet.right || box.top < sheet.top || box.bottom > sheet.bottom)
      return false;
    return this.taken.isFree(grow(box, clearPx));
  }

  private lineWidth(line: LabelLine, sizePx: number): number {
    return line.reduce((sum, run) => sum + this.measure(run.text, sizePx, run.bold ? 650 : 400), 0);
  }

  private write(label: Label, place: LabelPlace, box: Box, sizePx: number): void {
    this.taken.add(box);
    const [x, y] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
    const onMap = this.mapRings !== null && touchesRings(this.mapRings, box);
    const colourOf = (run: LabelRun): number => {
      if (onMap) return ON_MAP_TEXT;
      return this.inks[run.role ?? (run.bold ? 'ink1' : 'ink2')];
    };
    const toRight = place.anchor === 'right' || place.anchor.endsWith('Right');
    const toLeft = place.anchor === 'left' || place.anchor.endsWith('Left');
    this.texts.push({
      kind: 'text',
      lines: label.lines.map((line) =>
        line.map((run): TextRun => ({ text: run.text, weight: run.bold ? 650 : 400, colour: colourOf(run) })),
      ),
      sizePx,
      x,
      y,
      turnDeg: label.turnDeg ?? 0,
      align: label.align ?? (toLeft ? 'left' : toRight ? 'right' : 'centre'),
      halo: label.halo === false ? null : { colour: onMap ? CASING.colour : this.inks.sheet, alpha: CASING.textAlpha },
    });
    const { leaderTo } = label;
    if (!leaderTo) return;
    const nearX = Math.min(box.right, Math.max(box.left, leaderTo.x));
    const nearY = Math.min(box.bottom, Math.max(box.top, leaderTo.y));
    if (Math.hypot(nearX - leaderTo.x, nearY - leaderTo.y) > (label.leaderFromPx ?? 40)) {
      this.leaders.push([nearX, nearY, leaderTo.x, leaderTo.y]);
    }
  }
}

function touchesRings(rings: readonly Path[], box: Box): boolean {
  const { left, top, right, bottom } = box;
  const corners: [number, number][] = [
    [left, top],
    [right, top],
    [left, bottom],
    [right, bottom],
    [(left + right) / 2, (top + bottom) / 2],
  ];
  return corners.some(([x, y]) => insideRings(rings, x, y));
}

/**
 * A drawing as plain data, before any renderer sees it: fills, lines, symbols, heat pictures and lettering in screen
 * pixels. Lines name a role (lamp, wall ...); where the sheet holds a heat map they change to its inks at its edge.
 */
import { circlePath, dashPath, insideRings, splitByRings, type Path } from './geometry2d';
import type { Box } from './labelGrid';
import type { PlanSymbol } from './symbols';
import { CASING, ON_MAP_INKS, type Inks, type InkRole } from './tokens';

export interface LineOp {
  readonly kind: 'line';
  readonly paths: readonly Path[];
  readonly closed: boolean;
  readonly widthPx: number;
  readonly colour: number;
  readonly alpha: number;
  readonly round: boolean;
}
export interface FillOp {
  readonly kind: 'fill';
  /** First the outline, then its holes. */
  readonly rings: readonly Path[];
  readonly colour: number;
  readonly alpha: number;
}
export type ShapeOp = LineOp | FillOp;

/** Raster picture; `matrix` takes picture pixels to screen pixels. Rows of levels run from the lowest up. */
export interface RasterOp {
  readonly kind: 'raster';
  readonly bytes: Uint8Array;
  readonly columns: number;
  readonly rows: number;
  readonly matrix: readonly [a: number, b: number, c: number, d: number, x: number, y: number];
  readonly alpha: number;
  readonly smooth: boolean;
  /** Also kept in smaller sizes, so that fine lines stay whole when it is drawn small. */
  readonly shrinks?: boolean;
}

export interface TextRun {
  readonly text: string;
  readonly weight: 400 | 650;
  readonly colour: number;
}
export interface TextOp {
  readonly kind: 'text';
  readonly lines: readonly (readonly TextRun[])[];
  readonly sizePx: number;
  /** Middle of the lettering. */
  readonly x: number;
  readonly y: number;
  readonly turnDeg: number;
  readonly align: 'left' | 'centre' | 'right';
  readonly halo: { readonly colour: number; readonly alpha: number } | null;
}

export interface PenStyle {
  readonly role: InkRole;
  readonly widthPx: number;
  readonly dash?: readonly number[];
  readonly alpha?: number;
  readonly closed?: boolean;
  readonly round?: boolean;
  /** A casing also off the map: for selection and handles. */
  readonly cased?: boolean;
}

const closePath = (path: Path): Path => [...path, path[0]!, path[1]!];

/** Where a heat map lies on the screen; `everywhere` for layers that never leave it, which need no splitting. */
export type MapArea = readonly Path[] | 'everywhere' | null;

/** Whether a path lies wholly beside a box, with room for its stroke. */
function isBeside(path: Path, { left, top, right, bottom }: Box): boolean {
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < path.length; i += 2) {
    minX = Math.min(minX, path[i]!);
    maxX = Math.max(maxX, path[i]!);
    minY = Math.min(minY, path[i + 1]!);
    maxY = Math.max(maxY, path[i + 1]!);
  }
  const room = 8;
  return maxX < left - room || minX > right + room || maxY < top - room || minY > bottom + room;
}

/** Collects the shapes of one layer. */
export class Sketch {
  readonly shapes: ShapeOp[] = [];
  readonly inks: Inks;
  private readonly mapRings: MapArea;
  private readonly alpha: number;
  private readonly within: Box | null;

  /** @param within what lies wholly beside this box is left out; null: nothing is */
  constructor(inks: Inks, mapRings: MapArea, alpha = 1, within: Box | null = null) {
    this.inks = inks;
    this.mapRings = mapRings;
    this.alpha = alpha;
    this.within = within;
  }

  isOnMap(x: number, y: number): boolean {
    return this.mapRings === 'everywhere' || (this.mapRings !== null && insideRings(this.mapRings, x, y));
  }

  inkAt(role: InkRole, x: number, y: number): number {
    return (this.isOnMap(x, y) ? ON_MAP_INKS : this.inks)[role];
  }

  /** Draws paths in a role's ink, split at the edge of the heat map. */
  line(paths: readonly Path[], style: PenStyle): this {
    const whole = paths.filter((path) => path.length >= 4 && !this.isLeftOut(path));
    if (whole.length === 0) return this;
    if (!this.mapRings) return this.strokeIn(whole, style, this.inks, style.cased === true);
    if (this.mapRings === 'everywhere') return this.strokeIn(whole, style, ON_MAP_INKS, true);
    const rings = this.mapRings;
    const split = whole.map((path) => splitByRings(style.closed ? closePath(path) : path, rings));
    const open = { ...style, closed: false };
    this.strokeIn(
      split.flatMap((piece) => piece.outside),
      open,
      this.inks,
      style.cased === true,
    );
    return this.strokeIn(
      split.flatMap((piece) => piece.inside),
      open,
      ON_MAP_INKS,
      true,
    );
  }

  private strokeIn(paths: readonly Path[], style: PenStyle, inks: Inks, cased: boolean): this {
    if (paths.length === 0) return this;
    const dash = style.dash;
    const drawn = dash ? paths.flatMap((path) => dashPath(style.closed ? closePath(path) : path, dash)) : paths;
    const common = {
      kind: 'line' as const,
      paths: drawn,
      closed: style.closed === true && !dash,
      round: style.round === true,
    };
    const alpha = (style.alpha ?? 1) * this.alpha;
    if (cased) {
      const onMap = inks === ON_MAP_INKS;
      this.shapes.push({
        ...common,
        widthPx: style.widthPx + CASING.lineExtraPx,
        colour: onMap ? CASING.colour : inks.sheet,
        alpha: alpha * CASING.lineAlpha,
      });
    }
    this.shapes.push({ ...common, widthPx: style.widthPx, colour: inks[style.role], alpha });
    return this;
  }

  /** Fills rings in a plain colour. */
  fill(rings: readonly Path[], colour: number, alpha = 1): this {
    if (rings.length > 0 && rings[0]!.length >= 6 && !this.isLeftOut(rings[0]!)) {
      this.shapes.push({ kind: 'fill', rings, colour, alpha: alpha * this.alpha });
    }
    return this;
  }

  circle(x: number, y: number, radiusPx: number, style: PenStyle): this {
    return this.line([circlePath(x, y, radiusPx)], { ...style, closed: true });
  }

  disc(x: number, y: number, radiusPx: number, colour: number, alpha = 1): this {
    return this.fill([circlePath(x, y, radiusPx)], colour, alpha);
  }

  /** A symbol with its middle at x, y, its light leaving at `turnDeg` clockwise from straight up the screen. */
  symbol(symbol: PlanSymbol, x: number, y: number, turnDeg: number, sizePx: number, alpha = 1): this {
    const [sin, cos] = [Math.sin((turnDeg * Math.PI) / 180), Math.cos((turnDeg * Math.PI) / 180)];
    const scale = sizePx / 24;
    const onMap = this.isOnMap(x, y);
    const inks = onMap ? ON_MAP_INKS : this.inks;
    const place = (points: Path): number[] => {
      const placed: number[] = [];
      for (let i = 0; i < points.length; i += 2) {
        const [px, py] = [(points[i]! - 12) * scale, (points[i + 1]! - 12) * scale];
        placed.push(x + px * cos - py * sin, y + px * sin + py * cos);
      }
      return placed;
    };
    const strokes = symbol.flatMap((part) =>
      part.paths.map((path) => ({ part, closed: path.closed, points: place(path.points) })),
    );
    if (onMap) {
      for (const { part, closed, points } of strokes) {
        const widthPx = (part.filled ? 0 : (part.widthPx ?? 1.5)) + CASING.lineExtraPx;
        this.pushStroke(points, closed, widthPx, CASING.colour, alpha * CASING.lineAlpha);
      }
    }
    for (const { part, closed, points } of strokes) {
      if (part.filled) this.fill([points], inks[part.role], alpha);
      else this.pushStroke(points, closed, part.widthPx ?? 1.5, inks[part.role], alpha);
    }
    return this;
  }

  private isLeftOut(path: Path): boolean {
    return this.within !== null && isBeside(path, this.within);
  }

  private pushStroke(points: Path, closed: boolean, widthPx: number, colour: number, alpha: number): void {
    if (this.isLeftOut(points)) return;
    this.shapes.push({
      kind: 'line',
      paths: [points],
      closed,
      widthPx,
      colour,
      alpha: alpha * this.alpha,
      round: true,
    });
  }
}

/** A coordinate moved so that a level or upright line of odd width fills whole pixels. */
export const crisp = (value: number): number => Math.floor(value) + 0.5;

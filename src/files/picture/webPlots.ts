/** A web drawn as candela against direction: round the lamp (polar), and against the angle from the axis (Cartesian). */
import { scaleLinear } from 'd3-scale';
import { toRadians } from '../../scene/geometry/frames';
import {
  BEAM_SHARE,
  FIELD_SHARE,
  planeProfile,
  webFigures,
  type PlaneProfile,
  type PlaneSide,
} from '../../sim/photometry/web/figures';
import { valueTowards, type WebGrid } from '../../sim/photometry/web/grid';
import { line, path, text, type Strokes } from './svg';

/** Colours, as SVG or CSS has them. */
export interface PlotInks {
  readonly grid: string;
  readonly label: string;
  readonly across: string;
  readonly upright: string;
}
export interface Plot {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}
export interface Curve {
  readonly side: PlaneSide;
  readonly anglesDeg: readonly number[];
  readonly candela: readonly number[];
}

const SIDES = ['across', 'upright'] as const;
const LETTERS = 11;
const RINGS = 4;
/** Where on the rings their figures stand: beside a beam, and off the spokes. */
const RING_LETTERS_DEG = 45;
/** Planes that differ by less than this share of the peak are drawn once. */
const ALIKE = 0.005;
/** Directions dimmer than this share of the peak need no room in the drawing. */
const SHOWN_SHARE = 0.005;
const FINE_STEP_DEG = 1;

/** "1200", "12k", "1.5M": short enough for a ring. */
export function shortCandela(candela: number): string {
  if (candela >= 1e6) return `${Number((candela / 1e6).toPrecision(3))}M`;
  if (candela >= 1e4) return `${Number((candela / 1e3).toPrecision(3))}k`;
  return String(Number(candela.toPrecision(3)));
}

/** Widest angle from the axis that still has light worth drawing: a multiple of 15 degrees from 15 to 180. */
function reachDeg(profiles: readonly PlaneProfile[], peakCd: number): number {
  const lit = profiles.flatMap(({ anglesDeg, candela }) =>
    anglesDeg.filter((_, i) => candela[i]! > SHOWN_SHARE * peakCd).map(Math.abs),
  );
  return Math.min(180, Math.max(15, 15 * Math.ceil((Math.max(...lit) + 1) / 15)));
}

/** Both planes through the axis at steps of a degree and the table's own angles; one of them where they are alike. */
export function curvesOf(grid: WebGrid, limitDeg: number, peakCd = webFigures(grid).peakCd): Curve[] {
  const curves = SIDES.map((side): Curve => {
    const steps = Array.from(
      { length: Math.floor((2 * limitDeg) / FINE_STEP_DEG) + 1 },
      (_, i) => i * FINE_STEP_DEG - limitDeg,
    );
    const own = planeProfile(grid, side).anglesDeg.filter((angle) => Math.abs(angle) <= limitDeg);
    const anglesDeg = [...new Set([...steps, ...own])].sort((a, b) => a - b);
    const candela = anglesDeg.map((angle) => {
      const [along, out] = [Math.cos(toRadians(angle)), Math.sin(toRadians(angle))];
      return side === 'across' ? valueTowards(grid, along, out, 0) : valueTowards(grid, along, 0, out);
    });
    return { side, anglesDeg, candela };
  });
  const [across, upright] = curves as [Curve, Curve];
  const isAlike =
    across.candela.length === upright.candela.length &&
    across.candela.every((value, i) => Math.abs(value - upright.candela[i]!) <= ALIKE * peakCd);
  return isAlike ? [across] : curves;
}

const strokesOf = (side: PlaneSide, inks: PlotInks): Strokes =>
  side === 'across' ? { stroke: inks.across, width: 2 } : { stroke: inks.upright, width: 2, dash: '6 3' };

const svgOf = (parts: readonly string[], width: number, height: number, title: string): Plot => ({
  svg:
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" ` +
    `role="img" aria-label="${title}">${parts.join('')}</svg>`,
  width,
  height,
});

/** Round figures for the scale, the last at or above the peak. */
function scaleOf(peakCd: number, steps: number): { top: number; ticks: number[] } {
  const scale = scaleLinear([0, peakCd], [0, 1]).nice(steps);
  return { top: scale.domain()[1]!, ticks: scale.ticks(steps).filter((tick) => tick > 0) };
}

interface Spreading {
  readonly peakCd: number;
  readonly limitDeg: number;
  readonly curves: readonly Curve[];
}
const spreadings = new WeakMap<WebGrid, Spreading>();

/** What both plots and the table show of a grid, worked out once for each grid. */
function spreadingOf(grid: WebGrid): Spreading {
  const known = spreadings.get(grid);
  if (known) return known;
  const { peakCd } = webFigures(grid);
  const limitDeg = reachDeg(
    SIDES.map((side) => planeProfile(grid, side)),
    peakCd,
  );
  const made = { peakCd, limitDeg, curves: curvesOf(grid, limitDeg, peakCd) };
  spreadings.set(grid, made);
  return made;
}

/** The axis points down, the lamp's right (or up) is on the right. Half a round where nothing shines backwards. */
export function polarPlot(grid: WebGrid, inks: PlotInks, width: number): Plot {
  const spreading = spreadingOf(grid);
  const { peakCd, limitDeg } = spreading;
  const isWhole = limitDeg > 90;
  const radius = width / 2 - 26;
  const height = isWhole ? width : width / 2 + 34;
  const [x0, y0] = [width / 2, isWhole ? height / 2 : 18];
  const { top, ticks } = scaleOf(peakCd, RINGS);
  const at = (angleDeg: number, share: number): [number, number] => [
    x0 + radius * share * Math.sin(toRadians(angleDeg)),
    y0 + radius * share * Math.cos(toRadians(angleDeg)),
  ];
  const sweep = isWhole ? 180 : 90;
  const ring = (share: number): string => {
    const points = Array.from({ length: 2 * (sweep / 5) + 1 }, (_, i) => at(i * 5 - sweep, share));
    return path(points, false, { stroke: inks.grid, width: 1 });
  };
  const lettering = { size: LETTERS, fill: inks.label, anchor: 'middle' } as const;
  const spokes: string[] = [];
  for (let angle = -sweep; angle <= sweep; angle += 30) {
    const [x, y] = at(angle, 1);
    const [lx, ly] = at(angle, 1 + 13 / radius);
    spokes.push(line(x0, y0, x, y, inks.grid, 1));
    if (angle !== -180) spokes.push(text(`${Math.abs(angle)}°`, lx, ly + LETTERS / 3, lettering));
  }
  const curves = spreading.curves.map(({ side, anglesDeg, candela }) =>
    path(
      anglesDeg.map((angle, i) => at(angle, candela[i]! / top)),
      false,
      strokesOf(side, inks),
    ),
  );
  const marks = ticks.map((tick) => {
    const [x, y] = at(RING_LETTERS_DEG, tick / top);
    return text(shortCandela(tick), x, y + LETTERS / 3, { ...lettering, fill: inks.label });
  });
  const parts = [...ticks.map((tick) => ring(tick / top)), ...spokes, ...curves, ...marks];
  return svgOf(parts, width, height, `Candela round the lamp, peak ${shortCandela(peakCd)} cd`);
}

/** Candela over the angle from the axis, with the lines of half and a tenth of the peak. */
export function cartesianPlot(grid: WebGrid, inks: PlotInks, width: number): Plot {
  const { peakCd, limitDeg, curves } = spreadingOf(grid);
  const height = Math.round(width * 0.62);
  const [left, right, upper, lower] = [40, width - 10, 10, height - 22];
  const { top, ticks } = scaleOf(peakCd, 4);
  const x = scaleLinear([-limitDeg, limitDeg], [left, right]);
  const y = scaleLinear([0, top], [lower, upper]);
  const lettering = { size: LETTERS, fill: inks.label, anchor: 'middle' } as const;
  const parts: string[] = [];
  for (const tick of [0, ...ticks]) {
    parts.push(line(left, y(tick), right, y(tick), inks.grid, 1));
    parts.push(text(shortCandela(tick), left - 5, y(tick) + LETTERS / 3, { ...lettering, anchor: 'end' }));
  }
  for (const tick of x.ticks(6)) {
    parts.push(line(x(tick), upper, x(tick), lower, inks.grid, 1));
    parts.push(text(`${tick < 0 ? '−' : ''}${Math.abs(tick)}°`, x(tick), lower + LETTERS + 4, lettering));
  }
  for (const share of [BEAM_SHARE, FIELD_SHARE]) {
    const level = y(share * peakCd);
    parts.push(
      path(
        [
          [left, level],
          [right, level],
        ],
        false,
        { stroke: inks.label, width: 1, dash: '2 3' },
      ),
    );
    parts.push(text(`${share * 100} %`, right, level - 4, { ...lettering, anchor: 'end' }));
  }
  for (const { side, anglesDeg, candela } of curves) {
    parts.push(
      path(
        anglesDeg.map((angle, i) => [x(angle), y(candela[i]!)] as const),
        false,
        strokesOf(side, inks),
      ),
    );
  }
  return svgOf(parts, width, height, `Candela over the angle from the axis, peak ${shortCandela(peakCd)} cd`);
}

export interface WebTableRow {
  readonly angleDeg: number;
  /** Candela of the planes, in the order of `sides`. */
  readonly candela: readonly number[];
}

/** The numbers behind the plots: about twenty round angles on both sides of the axis. */
export function webTable(grid: WebGrid): {
  readonly sides: readonly PlaneSide[];
  readonly rows: readonly WebTableRow[];
} {
  const { limitDeg, curves } = spreadingOf(grid);
  const stepDeg = [1, 2.5, 5, 7.5, 10, 15].find((step) => (2 * limitDeg) / step <= 24) ?? 15;
  const count = Math.round(limitDeg / stepDeg);
  const rows = Array.from({ length: 2 * count + 1 }, (_, i): WebTableRow => {
    const angleDeg = (i - count) * stepDeg;
    const [along, out] = [Math.cos(toRadians(angleDeg)), Math.sin(toRadians(angleDeg))];
    const candela = curves.map(({ side }) =>
      side === 'across' ? valueTowards(grid, along, out, 0) : valueTowards(grid, along, 0, out),
    );
    return { angleDeg, candela };
  });
  return { sides: curves.map(({ side }) => side), rows };
}

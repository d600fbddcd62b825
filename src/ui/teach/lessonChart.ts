/** A lesson's chart as plain shapes, in three views of the same readings. Pixels of the chart's own box. */
import { scaleLinear, scaleLog } from 'd3-scale';
import type { IlluminanceUnit, LengthUnit } from '../../scene/units/convert';
import { footcandlesFromLux, METRES_PER_FOOT } from '../../scene/units/convert';
import type { ChartSeries, LessonChart } from '../../sim/teach/lesson';

export const VIEWS = ['linear', 'logLog', 'stops'] as const;
export type View = (typeof VIEWS)[number];
export const VIEW_NAMES: Readonly<Record<View, string>> = { linear: 'Linear', logLog: 'Log-log', stops: 'Stops' };

export interface Tick {
  readonly at: number;
  readonly words: string;
}
export interface Trace {
  readonly id: string;
  readonly name: string;
  readonly kind: ChartSeries['kind'];
  /** Stretches of points inside the plot: a line is not drawn across what leaves it. */
  readonly pieces: readonly (readonly (readonly [x: number, y: number])[])[];
}
export interface ChartPicture {
  readonly width: number;
  readonly height: number;
  readonly plot: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
  readonly across: readonly Tick[];
  readonly up: readonly Tick[];
  readonly acrossWords: string;
  readonly upWords: string;
  readonly traces: readonly Trace[];
  /** Pixel of a place along the axis; for a mark that walks. */
  readonly xOf: (at: number) => number;
}
export interface ChartUnits {
  readonly length: LengthUnit;
  readonly illuminance: IlluminanceUnit;
}

const LEFT = 62;
const RIGHT = 18;
const TOP = 34;
const FOOT = 46;
/** Full stops of a lens (series of ISO 517): as distances, each is one stop from the next. */
const MARKS = [0.25, 0.35, 0.5, 0.7, 1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32, 45, 64, 90, 128];
const LEAST_TICK_GAP = 34;
/** A linear view that reached to the nearest point of a curve would be all empty: it goes this far over the readings. */
const HEADROOM = 1.15;
/** What a curve falls to in a shadow is cut off so far below its top. */
const MOST_STOPS = 12;
const MOST_RATIO = 2 ** MOST_STOPS;

const levels = (series: readonly ChartSeries[]): number[] =>
  series.flatMap(({ points }) => points.map(([, level]) => level)).filter((level) => level > 0);
const places = (series: readonly ChartSeries[]): number[] => series.flatMap(({ points }) => points.map(([at]) => at));

/** Views that a chart can be shown in: what starts at 0 or runs over an angle has no log-log. */
export function viewsOf({ along, up, series }: LessonChart): readonly View[] {
  if (up === 'percent') return ['linear'];
  if (along !== 'length' || Math.min(...places(series)) <= 0) return ['linear', 'stops'];
  return VIEWS;
}

interface Axis {
  readonly to: (value: number) => number;
  readonly ticks: readonly Tick[];
  readonly words: string;
}

const withRoom = (ticks: readonly Tick[]): Tick[] => {
  const kept: Tick[] = [];
  for (const tick of ticks) {
    const last = kept.at(-1);
    if (!last || Math.abs(tick.at - last.at) >= LEAST_TICK_GAP) kept.push(tick);
  }
  return kept;
};

function acrossAxis(chart: LessonChart, view: View, units: ChartUnits, range: [number, number]): Axis {
  const at = places(chart.series);
  const [least, most] = [Math.min(...at), Math.max(...at)];
  if (chart.along === 'angle') {
    const scale = scaleLinear([least, most], range);
    return {
      to: scale,
      ticks: scale.ticks(7).map((tick) => ({ at: scale(tick), words: `${tick}°` })),
      words: chart.alongWords,
    };
  }
  const unitM = units.length === 'feet' ? METRES_PER_FOOT : 1;
  const words = `${chart.alongWords}, ${units.length === 'feet' ? 'ft' : 'm'}`;
  if (view === 'linear' || chart.along === 'place' || least <= 0) {
    const from = chart.along === 'length' ? Math.min(0, least) : least;
    const scale = scaleLinear([from / unitM, most / unitM], range);
    const ticks = scale.ticks(8).map((tick) => ({ at: scale(tick), words: String(tick) }));
    return { to: (metres) => scale(metres / unitM), ticks, words };
  }
  const scale = scaleLog([least / unitM, most / unitM], range);
  const inside = MARKS.filter((mark) => mark >= (0.999 * least) / unitM && mark <= (1.001 * most) / unitM);
  return {
    to: (metres) => scale(metres / unitM),
    ticks: withRoom(inside.map((mark) => ({ at: scale(mark), words: String(mark) }))),
    words,
  };
}

/** Level that stops are counted from: the first reading, else the start of the first curve. */
function referenceLx({ series }: LessonChart): number {
  const dots = series.find(({ kind }) => kind === 'dots') ?? series[0];
  return dots?.points.find(([, level]) => level > 0)?.[1] ?? 1;
}

function upAxis(chart: LessonChart, view: View, units: ChartUnits, range: [number, number]): Axis {
  const all = levels(chart.series);
  const read = levels(chart.series.filter(({ kind }) => kind === 'dots'));
  if (chart.up === 'percent') {
    const scale = scaleLinear([0, 105], range);
    return {
      to: scale,
      ticks: [0, 25, 50, 75, 100].map((tick) => ({ at: scale(tick), words: `${tick} %` })),
      words: 'Share of the open light',
    };
  }
  if (view === 'stops') {
    const base = referenceLx(chart);
    const stops = all.map((level) => Math.log2(level / base));
    const [least, most] = [Math.floor(Math.min(...stops)), Math.ceil(Math.max(...stops))];
    const scale = scaleLinear([Math.max(least, most - MOST_STOPS), Math.max(most, least + 1)], range);
    const ticks = scale.ticks(7).filter(Number.isInteger);
    return {
      to: (level) => scale(Math.log2(Math.max(level, 1e-9) / base)),
      ticks: ticks.map((tick) => ({
        at: scale(tick),
        words: tick > 0 ? `+${tick}` : String(tick).replace('-', '\u2212'),
      })),
      words: 'Stops from the first reading',
    };
  }
  const inUnit = (lux: number): number => (units.illuminance === 'lux' ? lux : footcandlesFromLux(lux));
  const words = units.illuminance === 'lux' ? 'Lux' : 'Footcandles';
  const said = (value: number): string =>
    value >= 10_000 ? String(value).replace(/\B(?=(\d{3})+$)/g, '\u2009') : String(Number(value.toPrecision(3)));
  if (view === 'logLog') {
    const most = Math.max(...all);
    const least = Math.max(Math.min(...all), most / MOST_RATIO);
    // A flat curve still needs a little height.
    const scale = scaleLog([inUnit(Math.min(least, most / 2)), inUnit(most)], range);
    const ticks = scale.ticks(6).filter((tick) =>
      /^[125](0*)$/.test(
        tick
          .toPrecision(1)
          .replace(/^0?\.0*/, '')
          .replace(/e[+-]\d+$/, ''),
      ),
    );
    return {
      to: (lux) => scale(Math.max(inUnit(lux), 1e-9)),
      ticks: ticks.map((tick) => ({ at: scale(tick), words: said(tick) })),
      words,
    };
  }
  const most = HEADROOM * Math.max(...(read.length > 0 ? read : all));
  const scale = scaleLinear([0, inUnit(most)], range);
  return {
    to: (lux) => scale(inUnit(lux)),
    ticks: scale.ticks(5).map((tick) => ({ at: scale(tick), words: said(tick) })),
    words,
  };
}

/** The chart in one view; what leaves the plot is cut at its top. */
export function chartPicture(
  chart: LessonChart,
  view: View,
  units: ChartUnits,
  width: number,
  height: number,
): ChartPicture {
  const plot = { left: LEFT, right: width - RIGHT, top: TOP, bottom: height - FOOT };
  const across = acrossAxis(chart, view, units, [plot.left, plot.right]);
  const up = upAxis(chart, view, units, [plot.bottom, plot.top]);
  const isInside = (y: number): boolean => y >= plot.top - 1 && y <= plot.bottom + 1;
  const traces = chart.series.map(({ id, name, kind, points }): Trace => {
    const pieces: (readonly [number, number])[][] = [[]];
    for (const [at, level] of points) {
      const y = level > 0 ? up.to(level) : Infinity;
      if (isInside(y)) pieces.at(-1)!.push([across.to(at), y]);
      else if (pieces.at(-1)!.length > 0) pieces.push([]);
    }
    return { id, name, kind, pieces: pieces.filter((piece) => piece.length > 0) };
  });
  return {
    width,
    height,
    plot,
    across: across.ticks,
    up: up.ticks,
    acrossWords: across.words,
    upWords: up.words,
    traces,
    xOf: across.to,
  };
}

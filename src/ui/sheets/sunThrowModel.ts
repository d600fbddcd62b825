/** The Throw sheet's chart for a lamp that plays the sun: stops across the patch against its distance. Plain shapes. */
import { scaleLinear, scaleLog } from 'd3-scale';
import type { SunThrowResult } from '../../sim/coverage/sunThrow';
import type { ChartShape } from '../coverage/chartModel';

export interface Band {
  readonly verdict: 'reads' | 'passable';
  readonly top: number;
  readonly bottom: number;
  readonly words: string;
}
export interface SunThrowModel {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly bands: readonly Band[];
  readonly shapes: readonly ChartShape[];
  readonly present: { readonly at: readonly [number, number]; readonly words: string };
}
export interface SunThrowWords {
  readonly distance: (distanceM: number) => string;
  readonly stops: (stops: number) => string;
  readonly limit: (stops: number) => string;
}

const [LEFT, RIGHT, TOP, FOOT] = [44, 20, 28, 40];
const TICKS_M = [1, 1.5, 2, 3, 4, 6, 8, 12, 16, 24, 30];
const LEAST_STOPS = 1;
const MOST_STOPS = 6;
/** Room that a label takes across, px. */
const LABEL_PX = 92;
const TICK_PX = 40;

type Place = readonly [number, number];

/** Ticks that leave room for each other's figures. */
function ticksOf(near: number, far: number, x: (m: number) => number): number[] {
  const shown: number[] = [];
  for (const tick of TICKS_M) {
    const last = shown.at(-1);
    if (tick < near || tick > far || (last !== undefined && x(tick) - x(last) < TICK_PX)) continue;
    shown.push(tick);
  }
  return shown;
}

export function sunThrowModel(
  { rows, present, limits, marks, from }: SunThrowResult,
  width: number,
  height: number,
  words: SunThrowWords,
): SunThrowModel {
  const [left, right, bottom] = [LEFT, width - RIGHT, height - FOOT];
  const near = Math.min(rows[0]!.distanceM, present.distanceM);
  const far = Math.max(rows.at(-1)!.distanceM, present.distanceM);
  const most = Math.min(MOST_STOPS, Math.max(LEAST_STOPS, ...rows.map(({ falloffStops }) => falloffStops)));
  const x = scaleLog([near, far], [left, right]);
  const y = scaleLinear([0, most], [bottom, TOP]);
  const at = (distanceM: number, stops: number): Place => [x(distanceM), y(Math.min(most, stops))];
  const line = (ink: 'grid' | 'axis' | 'present', points: readonly Place[], dash?: string): ChartShape => ({
    kind: 'path',
    ink,
    points,
    ...(dash === undefined ? {} : { dash }),
  });
  const text = (ink: 'words' | 'quiet' | 'level', place: Place, said: string, anchor: 'start' | 'middle' | 'end') =>
    ({ kind: 'text', ink, at: place, words: said, anchor }) satisfies ChartShape;
  const levels = y.ticks(4).filter((stops) => Number.isInteger(stops));
  const [px, py] = at(present.distanceM, present.falloffStops);
  const found = marks.filter((mark): mark is { stops: number; distanceM: number } => mark.distanceM !== null);
  const shownMarks = found.filter(({ distanceM }) => distanceM <= far);
  let lastX = -Infinity;
  const markShapes = shownMarks.flatMap(({ stops, distanceM }): ChartShape[] => {
    const [mx, my] = at(distanceM, stops);
    // Marks close together share the side: the nearer one is named above the curve, the next one higher still.
    const lift = mx - lastX < LABEL_PX ? 30 : 12;
    lastX = mx;
    return [
      { kind: 'dot', ink: 'level', at: [mx, my] },
      text(
        'words',
        [Math.min(mx + 4, right), my - lift],
        `${words.limit(stops)} at ${words.distance(distanceM)}`,
        mx > right - LABEL_PX ? 'end' : 'start',
      ),
    ];
  });
  const bandOf = (verdict: Band['verdict'], upTo: number, down: number, said: string): Band => ({
    verdict,
    top: y(Math.min(most, upTo)),
    bottom: y(Math.min(most, down)),
    words: said,
  });
  return {
    width,
    height,
    left,
    right,
    bands: [
      bandOf('reads', limits.good, 0, `Reads as sun, up to ${words.limit(limits.good)}`),
      bandOf('passable', limits.passable, limits.good, `Passable, up to ${words.limit(limits.passable)}`),
    ],
    shapes: [
      ...levels.map((stops) =>
        line('grid', [
          [left, y(stops)],
          [right, y(stops)],
        ]),
      ),
      ...levels.map((stops) => text('quiet', [left - 8, y(stops) + 4], String(stops), 'end')),
      line('axis', [
        [left, bottom],
        [right, bottom],
      ]),
      ...ticksOf(near, far, x).map((tick) => text('quiet', [x(tick), bottom + 18], words.distance(tick), 'middle')),
      line('present', [
        [px, py],
        [px, bottom],
      ]),
      {
        kind: 'path',
        ink: 'level',
        points: rows
          .filter(({ falloffStops }) => falloffStops <= most)
          .map((row) => at(row.distanceM, row.falloffStops)),
      },
      ...markShapes,
      text('words', [left, TOP - 12], 'Fall-off across the patch, stops', 'start'),
      text('words', [right, bottom + 34], from === 'window' ? 'Lamp to window' : 'Lamp to patch', 'end'),
    ],
    present: {
      at: [px, py],
      words: `now ${words.distance(present.distanceM)}, ${words.stops(present.falloffStops)}`,
    },
  };
}

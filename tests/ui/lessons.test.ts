/** The lessons' chart and what is kept of a learner's guesses. */
import { describe, expect, test } from 'vitest';
import type { LessonChart } from '../../src/sim/teach/lesson';
import { chartPicture, viewsOf } from '../../src/ui/teach/lessonChart';
import { createProgress, dropGuesses, guessKey, keepGuess } from '../../src/ui/teach/progress';

const METRIC = { length: 'metres', illuminance: 'lux' } as const;
const law = (at: readonly number[]) => at.map((metres) => [metres, 5400 / metres ** 2] as const);
const CHART: LessonChart = {
  along: 'length',
  alongWords: 'Distance',
  series: [
    { id: 'curve', name: 'lamp', kind: 'curve', points: law([0.5, 1, 2, 4, 8, 12]) },
    { id: 'dots', name: 'read', kind: 'dots', points: law([2, 4, 8]) },
  ],
};

describe('the chart', () => {
  const slopes = (points: readonly (readonly [number, number])[]): number[] =>
    points.slice(1).map(([x, y], i) => (y - points[i]![1]) / (x - points[i]![0]));

  test('the law is a straight line on log-log axes and in stops', () => {
    for (const view of ['logLog', 'stops'] as const) {
      const [curve] = chartPicture(CHART, view, METRIC, 640, 360).traces;
      const found = slopes(curve!.pieces[0]!);
      expect(found).toHaveLength(5);
      for (const slope of found) expect(slope).toBeCloseTo(found[0]!, 6);
    }
  });

  test('stops count from the first reading, two for each doubling', () => {
    const picture = chartPicture(CHART, 'stops', METRIC, 640, 360);
    const yOf = (words: string): number => picture.up.find((tick) => tick.words === words)!.at;
    const [first, second, third] = picture.traces[1]!.pieces[0]!;
    expect(first![1]).toBeCloseTo(yOf('0'), 6);
    expect(second![1]).toBeCloseTo(yOf('\u22122'), 6);
    expect(third![1]).toBeCloseTo(yOf('\u22124'), 6);
    expect(picture.across.map(({ words }) => words)).toEqual([
      '0.5',
      '0.7',
      '1',
      '1.4',
      '2',
      '2.8',
      '4',
      '5.6',
      '8',
      '11',
    ]);
  });

  test('a linear view goes up to the readings, and what lies over them is cut off', () => {
    const picture = chartPicture(CHART, 'linear', METRIC, 640, 360);
    const [curve, dots] = picture.traces;
    expect(curve!.pieces[0]!).toHaveLength(4);
    expect(dots!.pieces[0]!).toHaveLength(3);
    expect(picture.upWords).toBe('Lux');
  });

  test('feet and footcandles: the same places, other words', () => {
    const picture = chartPicture(CHART, 'linear', { length: 'feet', illuminance: 'footcandles' }, 640, 360);
    expect([picture.acrossWords, picture.upWords]).toEqual(['Distance, ft', 'Footcandles']);
    const metric = chartPicture(CHART, 'linear', METRIC, 640, 360);
    picture.traces[1]!.pieces[0]!.forEach(([x, y], i) => {
      expect(x).toBeCloseTo(metric.traces[1]!.pieces[0]![i]![0], 6);
      expect(y).toBeCloseTo(metric.traces[1]!.pieces[0]![i]![1], 6);
    });
  });

  test('a shadow breaks the line', () => {
    const shaded: LessonChart = {
      ...CHART,
      series: [
        {
          id: 'a',
          name: 'a',
          kind: 'curve',
          points: [
            [1, 100],
            [2, 25],
            [3, 0],
            [4, 6],
            [5, 4],
          ],
        },
      ],
    };
    expect(chartPicture(shaded, 'logLog', METRIC, 640, 360).traces[0]!.pieces.map(({ length }) => length)).toEqual([
      2, 2,
    ]);
  });

  test('places and angles have no log-log axes, percentages one view', () => {
    expect(viewsOf(CHART)).toEqual(['linear', 'logLog', 'stops']);
    expect(viewsOf({ ...CHART, along: 'place' })).toEqual(['linear', 'stops']);
    expect(viewsOf({ ...CHART, along: 'angle' })).toEqual(['linear', 'stops']);
    expect(viewsOf({ ...CHART, up: 'percent' })).toEqual(['linear']);
  });
});

describe('what is kept on the device', () => {
  function shelf(text: string | null = null) {
    const held = { text };
    return { held, getItem: () => held.text, setItem: (_key: string, value: string) => void (held.text = value) };
  }
  const KEPT = { said: '675 lx, half', isRight: false, reason: 'Two ways.' };

  test('a guess comes back in the next visit, and goes when it is dropped', () => {
    const device = shelf();
    const progress = createProgress(device);
    keepGuess(progress, guessKey('double-distance', 'doubled'), KEPT);
    expect(createProgress(device).getState().guesses).toEqual({ 'double-distance/doubled': KEPT });
    dropGuesses(progress, () => true);
    expect(createProgress(device).getState().guesses).toEqual({});
  });

  test.each(['', 'no json', '{"version":2,"guesses":{}}', '{"version":1,"guesses":{"a":{"said":1}}}'])(
    'what is no progress of ours counts as none: %s',
    (text) => expect(createProgress(shelf(text)).getState().guesses).toEqual({}),
  );

  test('a forbidden or full storage breaks nothing', () => {
    const full = {
      getItem: (): string | null => {
        throw new Error('forbidden');
      },
      setItem: () => {
        throw new Error('full');
      },
    };
    for (const device of [full, null]) {
      const progress = createProgress(device);
      keepGuess(progress, 'a/b', KEPT);
      expect(progress.getState().guesses['a/b']).toEqual(KEPT);
    }
  });
});

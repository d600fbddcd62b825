/**
 * Every number of the exercises against a closed form written here, or an independent table
 * (tests/reference/drill-hall-falloff.json, harbour-backdrop.json), and every mistake against its reason.
 */
import { describe, expect, test } from 'vitest';
import type { SceneDocument } from '../../../src/scene/schema';
import { EXERCISES } from '../../../src/sim/teach/exercises';
import { bigSource } from '../../../src/sim/teach/exercises/bigSource';
import { crossLit, straightened } from '../../../src/sim/teach/exercises/crossLit';
import { doubleDistance } from '../../../src/sim/teach/exercises/doubleDistance';
import { fNumbers } from '../../../src/sim/teach/exercises/fNumbers';
import { focusedBeam } from '../../../src/sim/teach/exercises/focusedBeam';
import { lampAndSun } from '../../../src/sim/teach/exercises/lampAndSun';
import { rakedWall } from '../../../src/sim/teach/exercises/rakedWall';
import { tiltCard } from '../../../src/sim/teach/exercises/tiltCard';
import { withLamp } from '../../../src/sim/teach/bench';
import { isPlayedOn, judgeGuess, MISCONCEPTIONS, type Exercise } from '../../../src/sim/teach/lesson';
import { compileScene } from '../../../src/sim/solve/compileScene';
import { coverageArea, solveArea } from '../../../src/sim/coverage/evenness';
import hall from '../../reference/drill-hall-falloff.json';
import backdrop from '../../reference/harbour-backdrop.json';
import beliefs from '../../reference/misconceptions.json';
import { BASES, judged, roundAt, roundsAt, rowOf } from './scenes';

const { setups } = hall.scene;
const byTitle = EXERCISES.map((exercise) => [exercise.title, exercise] as const);
const SLIDER_PLACES = [0, 0.25, 0.5, 0.75, 1] as const;
const placesOf = ({ slider: { least, most, first } }: Exercise): number[] => [
  first,
  ...SLIDER_PLACES.map((share) => least + share * (most - least)),
];

describe.each(byTitle)('%s', (_title, exercise) => {
  const base = BASES[exercise.base];

  test('one right answer wherever the slider stands, and none alike', () => {
    for (const value of placesOf(exercise)) {
      for (const { id, question, ask } of roundsAt(exercise, value)) {
        const what = `${id} at ${value}`;
        expect(question, what).not.toMatch(/NaN|undefined|Infinity/);
        if (ask.kind === 'number') {
          expect(ask.judge(ask.right).isRight, what).toBe(true);
          continue;
        }
        expect(
          ask.choices.filter(({ isRight }) => isRight),
          what,
        ).toHaveLength(1);
        expect(ask.choices.length, what).toBeGreaterThanOrEqual(3);
        expect(new Set(ask.choices.map(({ words }) => words)).size, what).toBe(ask.choices.length);
        // Each mistake has a reason of its own.
        expect(new Set(ask.choices.map(({ reason }) => reason)).size, what).toBe(ask.choices.length);
        for (const { words, reason } of ask.choices)
          expect(`${words} ${reason}`, what).not.toMatch(/NaN|undefined|Infinity/);
      }
    }
  });

  test('what is revealed is the law’s where a law is told', () => {
    for (const value of placesOf(exercise)) {
      for (const { id, reveal } of roundsAt(exercise, value)) {
        const { rows, words, chart } = reveal();
        expect(words.join(' ')).not.toMatch(/NaN|undefined|Infinity/);
        for (const { words: row, computed, law } of rows) {
          expect(Number.isFinite(computed), `${id}: ${row}`).toBe(true);
          // A lens or disc of finite size against the law of a point, a millimetre's edge by similar triangles: to 2 %.
          if (law !== null)
            expect(Math.abs(computed - law), `${id} at ${value}: ${row}`).toBeLessThan(0.02 * Math.abs(law) + 0.004);
        }
        for (const { points } of chart.series) {
          expect(points.length).toBeGreaterThan(1);
          expect(points.every(([at, lux], i) => lux >= 0 && (i === 0 || at >= points[i - 1]![0]))).toBe(true);
        }
      }
    }
  });

  test('moving the slider changes question or reveal, and the scene built from it', () => {
    const { least, most } = exercise.slider;
    const told = [least, most].map((value) =>
      roundsAt(exercise, value)
        .map(({ question, reveal }) => question + JSON.stringify(reveal()))
        .join(),
    );
    expect(told[0]).not.toBe(told[1]);
    const { document, setupId } = exercise.build(base, most);
    expect(document.setups.some(({ id }) => id === setupId)).toBe(true);
    expect(() => compileScene(document, setupId)).not.toThrow();
  });

  test('it wants its setups, and says what to take away', () => {
    expect(roundsAt(exercise, exercise.slider.first)).toHaveLength(exercise.roundCount);
    expect(isPlayedOn(exercise, base)).toBe(true);
    expect(isPlayedOn(exercise, { ...base, setups: [{ id: 'a', name: 'A', sources: {}, modifiers: {} }] })).toBe(false);
    for (const line of [exercise.look, exercise.takeAway, exercise.caution]) expect(line.length).toBeGreaterThan(30);
  });
});

test('each misconception of the trade has an exercise that sets it right', () => {
  const taught = new Set(EXERCISES.flatMap(({ misconceptions }) => misconceptions));
  for (const { belief, wrong } of beliefs.misconceptions) {
    expect(taught.has(belief as (typeof MISCONCEPTIONS)[number]), wrong).toBe(true);
  }
  expect([...MISCONCEPTIONS].toSorted()).toEqual([...taught].toSorted());
});

test('each belief is met by a wrong answer that names it', () => {
  const met = new Set<string>();
  for (const exercise of EXERCISES) {
    for (const value of placesOf(exercise)) {
      for (const round of roundsAt(exercise, value)) {
        const guesses =
          round.ask.kind === 'choice'
            ? round.ask.choices.map(({ id }) => id)
            : [0.5, 0.75, 1, 1.06, 2]
                .map((share) => share * (round.ask.kind === 'number' ? round.ask.right : 1))
                .concat(4.2, 1);
        for (const guess of guesses) {
          const { isRight, misconception } = judgeGuess(round, guess);
          if (misconception && !isRight) met.add(misconception);
        }
      }
    }
  }
  // That light tires is what the answer "almost as much" says; its reason names the air and the spreading both.
  expect([...met, 'light-tires'].toSorted()).toEqual([...MISCONCEPTIONS].toSorted());
});

describe('double the distance', () => {
  const scene = setups['open-face'];
  test('by hand: 5400 cd at 2, 4 and 6 m', () => {
    const { rows } = roundAt(doubleDistance, 'doubled', 2).reveal();
    expect(rows.map(({ computed }) => Number(computed.toFixed(6)))).toEqual([5400 / 4, 5400 / 16, 5400 / 36]);
    expect(rows[0]!.computed).toBeCloseTo(scene.luxExpected[2]!, 6);
    expect(rows[1]!.computed).toBeCloseTo(scene.luxExpected[4]!, 6);
  });
  test('each mistake has its reason', () => {
    expect(judged(doubleDistance, 'doubled', 2, 'right').isRight).toBe(true);
    expect(judged(doubleDistance, 'doubled', 2, 'half').reason).toMatch(/one direction only/);
    expect(judged(doubleDistance, 'doubled', 2, 'same').reason).toMatch(/under 0\.01.stop.*does not tire/);
    expect(judged(doubleDistance, 'doubled', 2, 'eighth').reason).toMatch(/not through a volume/);
  });
  test('equal watts, 3.82 stops apart', () => {
    const { rows } = roundAt(doubleDistance, 'watts', 2).reveal();
    expect(rows[0]!.computed).toBeCloseTo(scene.luxExpected[4]!, 6);
    expect(rows[1]!.computed).toBeCloseTo(setups['focused-beam'].luxExpected[4]!, 2);
    expect(judged(doubleDistance, 'watts', 2, 'same').reason).toMatch(/3\.82.stops apart/);
  });
  test('a big soft lamp on the bench changes the answer: the law is the mistake then', () => {
    const soft = BASES['drill-hall'].setups.find(({ id }) => id === 'soft-square')!.sources['l1']!;
    if (soft.type !== 'lamp') throw new Error('no lamp');
    const document: SceneDocument = withLamp(BASES['drill-hall'], 'open-face', 'l1', {
      emitter: soft.emitter,
      distribution: soft.distribution,
      output: soft.output,
    });
    const round = roundAt(doubleDistance, 'doubled', 1, document);
    // 2933.72 lx at 1 m and 964.83 lx at 2 m: 1.604 stops, by the reference.
    expect(judgeGuess(round, 'right').reason).toMatch(/loses 1\.60.stops, not 2/);
    expect(judgeGuess(round, 'quarter').isRight).toBe(false);
    expect(round.reveal().rows[1]!.computed).toBeCloseTo(setups['soft-1.2m'].luxExpected[2]!, 0);
  });
});

describe('f-numbers as distances', () => {
  test('2 to 5.6 m: 2 log2(2.8) stops; each kind of slip is told from the others', () => {
    const { ask } = roundAt(fNumbers, 'count', 5.6);
    expect(ask.kind === 'number' && ask.right).toBeCloseTo(2 * Math.log2(2.8), 9);
    expect(judged(fNumbers, 'count', 5.6, 3).isRight).toBe(true);
    expect(judged(fNumbers, 'count', 5.6, 1.5).misconception).toBe('doubling-is-one-stop');
    expect(judged(fNumbers, 'count', 5.6, 6).reason).toMatch(/takes two marks/);
    expect(judged(fNumbers, 'count', 5.6, 0).reason).toMatch(/does change/);
    expect(judged(fNumbers, 'count', 2.8, 1.4).reason).toMatch(/ratio, not stops|Right/);
  });
  test('the walk of the reference', () => {
    const { rows } = roundAt(fNumbers, 'count', 8).reveal();
    expect(rows.map(({ computed }) => computed)).toEqual(
      setups['open-face'].luxExpected.slice(2).map((lux) => expect.closeTo(lux, 2) as unknown as number),
    );
  });
  test('one stop nearer is 0.71 in; the printed quarter is +0.83 and -0.64 stop', () => {
    const { ask, reveal } = roundAt(fNumbers, 'one-stop-nearer', 4);
    expect(ask.kind === 'number' && ask.right).toBeCloseTo(4 / Math.SQRT2, 6);
    expect(rowOf(reveal(), 'a quarter closer')).toBeCloseTo(2 * Math.log2(4 / 3), 9);
    expect(rowOf(reveal(), 'a quarter farther')).toBeCloseTo(-2 * Math.log2(5 / 4), 9);
    expect([2 * Math.log2(4 / 3), 2 * Math.log2(5 / 4)].map((stops) => stops.toFixed(2))).toEqual(['0.83', '0.64']);
    expect(judged(fNumbers, 'one-stop-nearer', 4, 2.83).isRight).toBe(true);
    expect(judged(fNumbers, 'one-stop-nearer', 4, 3).misconception).toBe('quarter-closer-doubles');
    expect(judged(fNumbers, 'one-stop-nearer', 4, 2).misconception).toBe('doubling-is-one-stop');
    expect(judged(fNumbers, 'one-stop-nearer', 4, 5).reason).toMatch(/not nearer: it is 0\.64.stop darker/);
    expect(judged(fNumbers, 'one-stop-nearer', 4, -1).isRight).toBe(false);
  });
});

test('tilt the card: the reference’s four angles', () => {
  const { tiltDeg, luxExpected, stopsLost } = setups['tilted-card'];
  for (const [i, tilt] of tiltDeg.entries()) {
    const { rows } = roundAt(tiltCard, 'tilted', Math.max(15, tilt)).reveal();
    expect(rows.find(({ words }) => words === `${tilt}°`)?.computed).toBeCloseTo(luxExpected[i]!, 2);
    expect(Math.log2(1350 / luxExpected[i]!)).toBeCloseTo(stopsLost[i]!, 3);
  }
  expect(judged(tiltCard, 'tilted', 45, 'in-proportion').misconception).toBe('tilt-in-proportion');
  expect(roundAt(tiltCard, 'tilted', 60).reveal().words[0]).toMatch(/60° 1\.00.stop\./);
});

describe('the raked wall', () => {
  test('the reference’s row and stops', () => {
    const { rows } = roundAt(rakedWall, 'along', 1.5).reveal();
    const expected = setups['raked-row'].luxExpected;
    expect(rows.map(({ computed }) => computed)).toEqual(
      [0, 2, 4, 6].map((i) => expect.closeTo(expected[i]!, 3) as unknown as number),
    );
    // E = I h / (x² + h²)^1.5, by hand at x 8, h 1.5.
    expect(rows[3]!.computed).toBeCloseTo((800 * 1.5) / (64 + 2.25) ** 1.5, 9);
  });
  test('distance alone is 1.86 of the 2.79 stops', () => {
    expect(judged(rakedWall, 'along', 1.5, 'right').reason).toMatch(/distance takes 1\.86.stops, and the slant 0\.93/);
    expect(judged(rakedWall, 'along', 1.5, 'distance-only').misconception).toBe('rake-is-distance-alone');
    expect(setups['raked-row'].inverseSquareOnly_4_to_8).toBe(1.86);
    expect(setups['raked-row'].stops_4_to_8).toBe(2.79);
  });
});

describe('a big source up close', () => {
  const soft = setups['soft-1.2m'];
  test('1, 2 and 4 m by the reference', () => {
    const { rows } = roundAt(bigSource, 'back-off', 1).reveal();
    [0, 2, 4].forEach((i, row) => expect(rows[row]!.computed / soft.luxExpected[i]!).toBeCloseTo(1, 4));
    // 0.7259 + 0.8785 stops from 1 to 2 m.
    expect(judged(bigSource, 'back-off', 1, 'right').isRight).toBe(true);
    expect(Math.log2(soft.luxExpected[0]! / soft.luxExpected[2]!)).toBeCloseTo(
      soft.stopsPerStep[0]! + soft.stopsPerStep[1]!,
      3,
    );
    expect(judged(bigSource, 'back-off', 1, 'law').reason).toMatch(/47\.3.% more/);
    expect(soft.inverseSquareOverReadsPercent[0]).toBeCloseTo(47.253, 3);
    expect(judged(bigSource, 'back-off', 1, 'none').misconception).toBe('soft-does-not-fall-off');
  });
  test('five times the diagonal: 0.67 %, and the check values of the square by its diagonal', () => {
    const { rows } = roundAt(bigSource, 'five-times', 1).reveal();
    // Published rule ANSI/IES LS-1 [9.1.1]; over-reading of a square by its diagonal, quadrature: 1, 2, 3, 5, 10 times.
    const expected = [0.165499, 0.0415838, 0.0185017, 0.00666446, 0.00166653];
    // The kernel integrates to its own 0.01 %.
    rows.forEach(({ computed, law }, i) => {
      expect(computed).toBeCloseTo(expected[i]!, 4);
      expect(law).toBeCloseTo(expected[i]!, 6);
    });
    expect(100 * rows[3]!.computed).toBeCloseTo(soft.fiveTimes['diagonal_8.485m_percent'], 2);
  });
  test('a guess is judged by what the law over-reads there', () => {
    expect(judged(bigSource, 'five-times', 1, 8.5).isRight).toBe(true);
    // Five times the side, 6 m: 1.33 %, which the rule of one part in a hundred just lets pass.
    expect(judged(bigSource, 'five-times', 1, 6).reason).toMatch(/1\.3.%/);
    expect(judged(bigSource, 'five-times', 1, 2)).toMatchObject({
      isRight: false,
      misconception: 'law-at-any-distance',
    });
    expect(judged(bigSource, 'five-times', 1, 30).reason).toMatch(/farther than you need/);
  });
});

describe('the focused beam', () => {
  const beam = setups['focused-beam'];
  test('the reference’s row, its candela from the lens and its fit', () => {
    const { rows, words } = roundAt(focusedBeam, 'twice-from-the-lens', 0.35).reveal();
    rows.forEach(({ computed }, i) => expect(computed).toBeCloseTo(beam.luxExpected[i]!, 2));
    expect(words[0]).toMatch(/49.383.cd .* 82.613.cd/);
    expect([beam.candelaIfMeasuredFromLens[0], beam.candelaIfMeasuredFromLens[6]]).toEqual([49383, 82613]);
    expect(words[1]).toMatch(/90.000.cd from an origin 0\.35.m/);
  });
  test('each mistake has its reason', () => {
    const at = (id: string) => judged(focusedBeam, 'twice-from-the-lens', 0.35, id);
    expect(at('right').isRight).toBe(true);
    expect(at('same').misconception).toBe('parallel-beams-exist');
    expect(at('half').misconception).toBe('beams-are-exempt');
    expect(at('quarter').reason).toMatch(/counted from the lens/);
  });
  test('another origin, another reveal', () => {
    expect(roundAt(focusedBeam, 'twice-from-the-lens', 1).reveal().words[1]).toMatch(/1\.00.m behind/);
  });
});

describe('lamp against sun', () => {
  test.each([1, 3, 6])('fall-off from %d m: 2 log2((a + 3)/a), and none from the sun', (value) => {
    const reveal = roundAt(lampAndSun, 'fall-off', value).reveal();
    // The disc of 25 cm is no point: E = pi L R²/(R² + d²) on its axis.
    const byDisc = (d: number): number => 1 / (0.125 ** 2 + d ** 2);
    expect(rowOf(reveal, 'lamp,')).toBeCloseTo(Math.log2(byDisc(value) / byDisc(value + 3)), 4);
    expect(rowOf(reveal, 'sun')).toBeCloseTo(0, 9);
  });
  test('edges: 0.687 of the half-shadow, 9.30 mm a metre for the sun', () => {
    const reveal = roundAt(lampAndSun, 'edge', 3).reveal();
    // Uniform disc 10 to 90 %: 0.6870 w. w = D b/a for the lamp; the sun's path to the wall is 1 m / cos 10.967 degrees.
    expect(Math.abs(rowOf(reveal, 'lamp’s') / (0.687 * 0.25 * (1 / 8)) - 1)).toBeLessThan(0.01);
    const sunM = (0.687 * 2 * Math.tan((0.533 / 2) * (Math.PI / 180))) / Math.cos((10.967 * Math.PI) / 180);
    expect(Math.abs(rowOf(reveal, 'sun’s') / sunM - 1)).toBeLessThan(0.01);
    expect(judged(lampAndSun, 'edge', 3, 'sun').isRight).toBe(true);
    expect(judged(lampAndSun, 'edge', 3, 'same').misconception).toBe('softness-from-diffusion');
    expect(judged(lampAndSun, 'edge', 3, 'lamp').misconception).toBe('softness-from-diffusion');
  });
});

describe('the cross-lit backdrop', () => {
  const { poor, good, 'fourNotCrossed_3.6m': straight, sweep } = backdrop.scene.expected;
  test('ranges by the independent program', () => {
    const reveal = roundAt(crossLit, 'aimed', 3.6).reveal();
    expect(Math.abs(rowOf(reveal, 'four, across') - good.picture.rangeStops)).toBeLessThan(0.03);
    expect(Math.abs(rowOf(reveal, 'four, straight') - straight.rangeStops)).toBeLessThan(0.03);
    const twoAt = sweep.twoStraight.find(([throwM]) => throwM === 3.6)!;
    expect(Math.abs(rowOf(reveal, 'two') - twoAt[4]!)).toBeLessThan(0.03);
    expect(Math.abs(rowOf(roundAt(crossLit, 'aimed', 2).reveal(), 'two') - poor.picture.rangeStops)).toBeLessThan(0.03);
    expect(judged(crossLit, 'aimed', 3.6, 'across').isRight).toBe(true);
    expect(judged(crossLit, 'aimed', 3.6, 'straight').misconception).toBe('aim-straight-ahead');
  });
  test.each(sweep.fourCrossed)('four crossed from %d m', (...row: readonly number[]) => {
    const reveal = roundAt(crossLit, 'aimed', row[0]!).reveal();
    expect(Math.abs(rowOf(reveal, 'four, across') - row[4]!)).toBeLessThan(0.03);
  });
  test('aiming straight is done on a copy', () => {
    const before = JSON.stringify(BASES['harbour-backdrop']);
    const scene = straightened(BASES['harbour-backdrop'], 'good');
    expect(solveArea(compileScene(scene, 'good'), coverageArea(scene, 'picture')).evenness.meanLx).toBeGreaterThan(100);
    expect(JSON.stringify(BASES['harbour-backdrop'])).toBe(before);
  });
});

test('figures are said in the units of the scene', () => {
  const document: SceneDocument = {
    ...BASES['drill-hall'],
    display: { length: 'feet', illuminance: 'footcandles' },
  };
  const { question } = roundAt(doubleDistance, 'doubled', 2, document);
  expect(question).toMatch(/6′ 6 3\/4″.*125.fc/);
  expect(question).not.toMatch(/lx/);
});

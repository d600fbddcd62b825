import {
  axisMarks,
  axisReader,
  choicesAmong,
  curveOf,
  ladder,
  lampOf,
  levelsApart,
  onAxis,
  read,
  stopsLost,
} from '../bench';
import type { Bench, Exercise, Reveal, Round } from '../lesson';
import { axisOutput, lawOnAxis } from '../axisOutput';
import { compileScene } from '../../solve/compileScene';

const SETUP = 'open-face';
const OTHER = 'focused-beam';
const LAMP = 'l1';
const FARTHEST_M = 12;
/** Where the two lamps of equal watts are read, m. */
const WATTS_AT_M = 4;

/** Light lost in a metre of clear air, Koschmieder's 3.912 / visual range, for 20 km (from memory). */
const AIR_LOSS_PER_M = 3.912 / 20_000;

/** How a share of a level is called. */
function shareWords(share: number): string {
  const named = [
    [1 / 2, 'half'],
    [1 / 4, 'a quarter'],
    [1 / 8, 'an eighth'],
  ] as const;
  return named.find(([value]) => Math.abs(share / value - 1) < 0.02)?.[1] ?? `${Math.round(100 * share)} % of it`;
}

function doubled({ document, value, say }: Bench): Round {
  const level = axisReader(document, SETUP, LAMP);
  const [nearLx, farLx] = [level(value), level(2 * value)];
  const lost = stopsLost(nearLx, farLx);
  const isLaw = Math.abs(lost - 2) < 0.03;
  const answer = (id: string, share: number, reason: string) => ({
    id,
    value: share * nearLx,
    words: `${say.lux(share * nearLx)}, ${shareWords(share)}`,
    reason,
  });
  const airLx = nearLx * Math.exp(-AIR_LOSS_PER_M * value);
  return {
    id: 'doubled',
    question: `At ${say.length(value)} the meter reads ${say.lux(nearLx)}. You carry it to ${say.length(2 * value)}, twice as far. What will it read?`,
    ask: {
      kind: 'choice',
      choices: choicesAmong(
        answer(
          'right',
          farLx / nearLx,
          isLaw
            ? 'Twice the distance, and the beam is twice as wide and twice as high: the same light on four times the area.'
            : `Here it loses ${say.stops(lost)}, not 2: this lamp is no small point at ${say.length(value)}.`,
        ),
        [
          {
            ...answer('quarter', 1 / 4, 'A small point would do that. This lamp is not one at such a distance.'),
            misconception: 'law-at-any-distance',
          },
          {
            ...answer(
              'half',
              1 / 2,
              'Half would be right if the beam grew in one direction only. It grows in two: halved across, and halved again up.',
            ),
            misconception: 'doubling-is-one-stop',
          },
          answer(
            'eighth',
            1 / 8,
            'Light spreads over an area, not through a volume: twice by twice is four, not eight.',
          ),
          {
            id: 'same',
            value: airLx,
            words: `${say.lux(airLx)}, almost as much`,
            reason: `That is the loss in clear air alone, ${say.stops(stopsLost(nearLx, airLx))}. Light does not tire on the way: it spreads.`,
            misconception: 'air-eats-light',
          },
        ],
        levelsApart,
      ),
    },
    reveal: () => reveal({ document, value, say }, level, nearLx, farLx),
  };
}

function reveal(
  { document, value, say }: Bench,
  level: (distanceM: number) => number,
  nearLx: number,
  farLx: number,
): Reveal {
  const law = lawOnAxis(axisOutput(compileScene(document, SETUP), LAMP));
  const at = ladder(Math.min(0.5, value), Math.max(FARTHEST_M, 3 * value), 48);
  const thrice = level(3 * value);
  return {
    words: [
      `From ${say.length(value)} to ${say.length(2 * value)} the level goes from ${say.lux(nearLx)} to ${say.lux(farLx)}: ${say.stops(stopsLost(nearLx, farLx))}. Three times as far leaves ${say.lux(thrice)}, ${say.percent(thrice / nearLx)}.`,
      'One square of light becomes four at twice the distance, and nine at three times.',
    ],
    rows: [1, 2, 3].map((times) => ({
      words: say.length(times * value),
      quantity: 'illuminance',
      computed: level(times * value),
      law: law(times * value),
    })),
    lawWords: 'candela / distance²',
    picture: 'spread',
    chart: {
      along: 'length',
      alongWords: 'Distance from the lamp',
      series: [
        { id: 'curve', name: 'this lamp', kind: 'curve', points: curveOf(at, level) },
        { id: 'dots', name: 'read', kind: 'dots', points: curveOf([value, 2 * value, 3 * value], level) },
      ],
    },
  };
}

function watts({ document, say }: Bench): Round {
  const lamps = [SETUP, OTHER].map((setupId) => {
    const lamp = lampOf(document, setupId, LAMP);
    const scene = compileScene(document, setupId);
    const output = axisOutput(scene, LAMP);
    const levelLx = read(scene, onAxis(lamp, WATTS_AT_M));
    return { setupId, lamp, levelLx, candela: output.candela, lawLx: lawOnAxis(output)(WATTS_AT_M) };
  });
  const [first, second] = [lamps[0]!, lamps[1]!];
  const wattsOf = ({ lamp }: (typeof lamps)[number]): string => `${lamp.power?.mainsW ?? '?'} W`;
  const apart = Math.abs(stopsLost(first.levelLx, second.levelLx));
  return {
    id: 'watts',
    question: `Two lamps on the truck: one says ${wattsOf(first)}, the other ${wattsOf(second)}. Which gives more light at ${say.length(WATTS_AT_M)}?`,
    ask: {
      kind: 'choice',
      choices: [
        {
          id: 'unknown',
          words: 'The watts cannot say',
          isRight: true,
          reason: 'Watts are what the lamp takes from the wall. What arrives is candela over distance squared.',
        },
        {
          id: 'same',
          words: 'The one with more watts; with equal watts, both give the same',
          isRight: false,
          reason: `Watts are not light: here they are ${say.stops(apart)} apart. The law tells the change; for the level you need the candela.`,
          misconception: 'watts-are-light',
        },
        {
          id: 'bigger',
          words: 'The one with the bigger head',
          isRight: false,
          reason: 'A big head is softer, and its light is spread over more area. It says nothing about candela.',
        },
      ],
    },
    reveal: () => ({
      words: lamps.map(
        ({ lamp, levelLx, candela }) =>
          `${lamp.unit ?? lamp.name}: ${say.candela(candela)}, so ${say.lux(levelLx)} at ${say.length(WATTS_AT_M)}.`,
      ),
      rows: lamps.map(({ lamp, levelLx, lawLx }) => ({
        words: lamp.unit ?? lamp.name,
        quantity: 'illuminance',
        computed: levelLx,
        law: lawLx,
      })),
      lawWords: 'candela / distance²',
      chart: {
        along: 'length',
        alongWords: 'Distance from the lamp',
        firstView: 'logLog',
        series: lamps.map(({ setupId, lamp }) => ({
          id: setupId,
          name: lamp.unit ?? lamp.name,
          kind: 'curve',
          points: curveOf(ladder(0.5, FARTHEST_M, 40), axisReader(document, setupId, LAMP)),
        })),
      },
    }),
  };
}

export const doubleDistance: Exercise = {
  id: 'double-distance',
  title: 'Double the distance',
  base: 'drill-hall',
  needs: [
    { setupId: SETUP, sourceIds: [LAMP] },
    { setupId: OTHER, sourceIds: [LAMP] },
  ],
  misconceptions: ['light-tires', 'air-eats-light', 'doubling-is-one-stop', 'watts-are-light'],
  look: 'A small bright lamp down the hall, a meter square on to it. Watch what twice the distance does to the reading.',
  slider: { words: 'First reading at', quantity: 'length', least: 1, most: 4, step: 0.1, first: 2 },
  build: (document) => ({ document, setupId: SETUP }),
  view: 'side',
  marks: (bench) => axisMarks(bench, SETUP, LAMP, [bench.value, 2 * bench.value, 3 * bench.value]),
  roundCount: 2,
  rounds: (bench) => [doubled(bench), watts(bench)],
  takeAway: 'Twice as far is a quarter of the light: two stops.',
  caution: 'Bag the stand, keep eyes off the bare lamp, and tape the cable where the meter walks.',
};

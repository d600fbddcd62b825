import type { Point3 } from '../../../scene/schema';
import { pointIlluminance } from '../../photometry/closedForms';
import { compileScene } from '../../solve/compileScene';
import { axisOutput } from '../axisOutput';
import { choicesAmong, curveOf, lampOf, rungs, stopsApart, stopsLost, wallReader, withLamp } from '../bench';
import type { Bench, Exercise, Round } from '../lesson';

const SETUP = 'raked-row';
const LAMP = 'l1';
/** The long wall is y = 0 and faces +y. */
const OFF_WALL = [0, 1, 0] as const;
const NEAR_X_M = 4;
const FAR_X_M = 8;

/** The lamp pulled off the wall to `offM`; along the wall and in height it stays. */
function atDistance(document: Bench['document'], offM: number): Bench['document'] {
  const { pose } = lampOf(document, SETUP, LAMP);
  const [x, , z] = pose.positionM;
  return withLamp(document, SETUP, LAMP, { pose: { ...pose, positionM: [x, offM, z] } });
}

function along(bench: Bench): Round {
  const { value: offM, say } = bench;
  const document = atDistance(bench.document, offM);
  const readWall = wallReader(document, SETUP, OFF_WALL);
  const [lampX, , lampZ] = lampOf(document, SETUP, LAMP).pose.positionM;
  const level = (x: number): number => readWall([lampX + x, 0, lampZ] as Point3);
  const far = (x: number): number => Math.hypot(x, offM);
  const lost = stopsLost(level(NEAR_X_M), level(FAR_X_M));
  const distanceOnly = 2 * Math.log2(far(FAR_X_M) / far(NEAR_X_M));
  const slantOnly = Math.log2(far(FAR_X_M) / far(NEAR_X_M));
  const answer = (id: string, value: number, reason: string) => ({ id, value, words: say.stops(value), reason });
  return {
    id: 'along',
    question: `A bare bulb stands ${say.length(offM)} off a wall. Beside it along the wall, at ${say.length(NEAR_X_M)}, the meter lies flat on the wall and reads ${say.lux(level(NEAR_X_M))}. How many stops are lost by ${say.length(FAR_X_M)}?`,
    ask: {
      kind: 'choice',
      choices: choicesAmong(
        answer(
          'right',
          lost,
          `Farther and flatter: the distance takes ${say.stops(distanceOnly)}, and the slant ${say.stops(slantOnly)} on top.`,
        ),
        [
          {
            ...answer(
              'distance-only',
              distanceOnly,
              `That is the distance alone. Out there the light also comes in flatter, and the cosine takes ${say.stops(slantOnly)} more.`,
            ),
            misconception: 'rake-is-distance-alone',
          },
          answer('slant-only', slantOnly, 'That is the slant alone. The far mark is also farther from the lamp.'),
          answer(
            'twice-distance',
            2 * distanceOnly,
            'The slant takes half as much again as the distance does, not as much again.',
          ),
          answer('none', 0, 'A wall lit from one end is never even: the far end is farther, and lit flatter.'),
        ],
        stopsApart,
      ),
    },
    reveal: () => {
      const { candela } = axisOutput(compileScene(document, SETUP), LAMP);
      const law = (x: number): number => pointIlluminance(candela, far(x), Math.acos(offM / far(x)));
      const squareOn = (x: number): number => candela / far(x) ** 2;
      const at = rungs(0.5, FAR_X_M, 46);
      const marks = [1, 2, NEAR_X_M, FAR_X_M];
      return {
        words: [
          `From ${say.length(NEAR_X_M)} to ${say.length(FAR_X_M)} the wall loses ${say.stops(lost)}; a meter turned to the lamp would lose ${say.stops(distanceOnly)}.`,
          'Pull the lamp off the wall with the slider and watch the loss shrink.',
        ],
        rows: marks.map((x) => ({ words: say.length(x), quantity: 'illuminance', computed: level(x), law: law(x) })),
        lawWords: 'candela / distance² x cosine',
        chart: {
          along: 'length',
          alongWords: 'Along the wall from the lamp',
          firstView: 'stops',
          series: [
            { id: 'curve', name: 'on the wall', kind: 'curve', points: curveOf(at, level) },
            { id: 'law', name: 'facing the lamp', kind: 'law', points: curveOf(at, squareOn) },
            { id: 'dots', name: 'read', kind: 'dots', points: curveOf(marks, level) },
          ],
        },
      };
    },
  };
}

export const rakedWall: Exercise = {
  id: 'raked-wall',
  title: 'The raked wall',
  base: 'drill-hall',
  needs: [{ setupId: SETUP, sourceIds: [LAMP] }],
  misconceptions: ['rake-is-distance-alone'],
  look: 'A lamp close to a long wall. The meter lies flat on the wall and is slid away from the lamp.',
  slider: { words: 'Lamp off the wall', quantity: 'length', least: 0.5, most: 5, step: 0.1, first: 1.5 },
  build: (document, value) => ({ document: atDistance(document, value), setupId: SETUP }),
  view: 'plan',
  marks: ({ document, say }) => {
    const [x, , z] = lampOf(document, SETUP, LAMP).pose.positionM;
    return [NEAR_X_M, FAR_X_M].map((along) => ({ words: say.length(along), atM: [x + along, 0, z], normal: OFF_WALL }));
  },
  roundCount: 1,
  rounds: (bench) => [along(bench)],
  takeAway: 'A raked wall loses twice: once by distance, once by slant. It is worse than inverse square.',
  caution: 'Keep hot lamps clear of walls and drapes, by the distance the maker prints on them.',
};

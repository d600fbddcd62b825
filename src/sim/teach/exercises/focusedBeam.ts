import { formatNumberBand } from '../words';
import { fitReadings } from '../../photometry/fitReadings';
import { compileScene } from '../../solve/compileScene';
import { axisOutput, lawOnAxis } from '../axisOutput';
import { axisMarks, axisReader, choicesAmong, curveOf, ladder, lampOf, levelsApart, withLamp } from '../bench';
import type { Bench, Exercise, Round } from '../lesson';
import { MARKS_M } from './fNumbers';

const SETUP = 'focused-beam';
const LAMP = 'l1';
const NEAR_M = 4;
const FAR_M = 8;
const READ_AT_M = MARKS_M.filter((mark) => mark <= FAR_M);

/** The beam with its origin so far behind the lens; a lamp that is no beam stays as it is. */
function withOrigin(document: Bench['document'], originM: number): Bench['document'] {
  const { distribution } = lampOf(document, SETUP, LAMP);
  if (distribution.kind !== 'beam') return document;
  return withLamp(document, SETUP, LAMP, { distribution: { ...distribution, virtualOriginM: originM } });
}

function twiceFromTheLens(bench: Bench): Round {
  const { say } = bench;
  const document = withOrigin(bench.document, bench.value);
  const level = axisReader(document, SETUP, LAMP);
  const [nearLx, farLx] = [level(NEAR_M), level(FAR_M)];
  const answer = (id: string, value: number, words: string, reason: string) => ({ id, value, words, reason });
  return {
    id: 'twice-from-the-lens',
    question: `A focused lantern reads ${say.lux(nearLx)} at ${say.length(NEAR_M)} from its lens. What will it read at ${say.length(FAR_M)}?`,
    ask: {
      kind: 'choice',
      choices: choicesAmong(
        answer(
          'right',
          farLx,
          `${say.lux(farLx)}, a little over a quarter`,
          'It obeys the law, counted from a point behind the lens: from there the far mark is not quite twice as far.',
        ),
        [
          {
            ...answer(
              'same',
              0.98 * nearLx,
              `${say.lux(0.98 * nearLx)}, nearly as much: a focused beam runs parallel`,
              'No beam runs quite parallel. It opens, only less, and falls off with it.',
            ),
            misconception: 'parallel-beams-exist',
          },
          {
            ...answer(
              'half',
              nearLx / 2,
              `${say.lux(nearLx / 2)}, half: focused beams fall off less`,
              'A focused beam is no exception. It opens both ways, so from its origin twice as far is a quarter.',
            ),
            misconception: 'beams-are-exempt',
          },
          answer(
            'quarter',
            nearLx / 4,
            `${say.lux(nearLx / 4)}, just a quarter`,
            'Right law, wrong starting point: you counted from the lens. The light comes as if from farther back.',
          ),
        ],
        (a, b) => levelsApart(a, b) || Math.abs(a / b - 1) > 0.02,
      ),
    },
    reveal: () => {
      const law = lawOnAxis(axisOutput(compileScene(document, SETUP), LAMP));
      const rows = READ_AT_M.map((m) => ({ distanceM: m, illuminanceLx: level(m) }));
      const fit = fitReadings(rows);
      return {
        words: [
          `Counted from the lens, the candela seem to grow: ${say.candela(level(1))} from the reading at 1 m, ${say.candela(farLx * FAR_M ** 2)} from that at ${say.length(FAR_M)}.`,
          fit.ok
            ? `Fitted to the readings: ${formatNumberBand(fit)} from an origin ${say.length(fit.originM.value)} behind the lens.`
            : 'These readings cannot be fitted.',
        ],
        rows: rows.map(({ distanceM, illuminanceLx }) => ({
          words: say.length(distanceM),
          quantity: 'illuminance',
          computed: illuminanceLx,
          law: law(distanceM),
        })),
        lawWords: 'candela / (distance + origin)²',
        chart: {
          along: 'length',
          alongWords: 'Distance from the lens',
          firstView: 'logLog',
          series: [
            { id: 'curve', name: 'this lamp', kind: 'curve', points: curveOf(ladder(0.5, 12, 48), level) },
            {
              id: 'law',
              name: 'counted from the lens',
              kind: 'law',
              points: curveOf(ladder(0.5, 12, 48), (m) => (farLx * FAR_M ** 2) / m ** 2),
            },
            { id: 'dots', name: 'read', kind: 'dots', points: curveOf(READ_AT_M, level) },
          ],
        },
      };
    },
  };
}

export const focusedBeam: Exercise = {
  id: 'focused-beam',
  title: 'The focused beam',
  base: 'drill-hall',
  needs: [{ setupId: SETUP, sourceIds: [LAMP] }],
  misconceptions: ['beams-are-exempt', 'parallel-beams-exist'],
  look: 'A lensed lantern down the hall. The tape starts at the lens; ask where the light starts.',
  slider: { words: 'Origin behind the lens', quantity: 'length', least: 0.1, most: 2, step: 0.05, first: 0.35 },
  build: (document, value) => ({ document: withOrigin(document, value), setupId: SETUP }),
  view: 'side',
  marks: (bench) => axisMarks(bench, SETUP, LAMP, [NEAR_M, FAR_M]),
  roundCount: 1,
  rounds: (bench) => [twiceFromTheLens(bench)],
  takeAway: 'Focused beams obey the law too, counted from their origin behind the lens.',
  caution: 'A focused beam dazzles and heats far away: keep it off faces and off anything that can burn.',
};

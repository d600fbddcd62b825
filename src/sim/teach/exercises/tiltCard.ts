import { frameFromPose, sinDeg, cosDeg } from '../../../scene/geometry/frames';
import { add, scale } from '../../../scene/geometry/vector';
import { axisOutput, lawOnAxis } from '../axisOutput';
import { choicesAmong, curveOf, lampOf, onAxis, read, rungs, stopsApart, stopsLost } from '../bench';
import type { Bench, Exercise, Round } from '../lesson';
import { compileScene } from '../../solve/compileScene';

const SETUP = 'open-face';
const LAMP = 'l1';
const CARD_AT_M = 2;
const MOST_TILT_DEG = 80;

/** Level on the card at its place on the axis, turned upwards by `tiltDeg` from square on. */
function cardReader({ document }: Bench): (tiltDeg: number) => number {
  const scene = compileScene(document, SETUP);
  const lamp = lampOf(document, SETUP, LAMP);
  const square = onAxis(lamp, CARD_AT_M);
  const { up } = frameFromPose(lamp.pose);
  return (tiltDeg) =>
    read(scene, {
      pointM: square.pointM,
      normal: add(scale(square.normal, cosDeg(tiltDeg)), scale(up, sinDeg(tiltDeg))),
    });
}

function tilted(bench: Bench): Round {
  const { document, value, say } = bench;
  const level = cardReader(bench);
  const squareLx = level(0);
  const lost = stopsLost(squareLx, level(value));
  const answer = (id: string, stops: number, words: string, reason: string) => ({ id, value: stops, words, reason });
  const share = 1 - value / 90;
  return {
    id: 'tilted',
    question: `A card ${say.length(CARD_AT_M)} from the lamp reads ${say.lux(squareLx)} square on. You tilt it by ${say.angle(value)}. How much does it lose?`,
    ask: {
      kind: 'choice',
      choices: choicesAmong(
        answer(
          'right',
          lost,
          say.stops(lost),
          `Tilted, the card catches a narrower strip of the beam: the cosine of ${say.angle(value)} is ${cosDeg(value).toFixed(2)}.`,
        ),
        [
          answer(
            'none',
            0,
            'nothing: it is still as far away',
            'The distance is the same, but the card now takes up less of the beam.',
          ),
          {
            ...answer(
              'in-proportion',
              -Math.log2(share),
              say.stops(-Math.log2(share)),
              `You took ${say.angle(value)} of 90° as a share. The loss starts slowly: it goes by the cosine, not by the angle.`,
            ),
            misconception: 'tilt-in-proportion',
          },
          answer(
            'twice',
            2 * lost,
            say.stops(2 * lost),
            'That would be the cosine twice. The beam is narrowed one way only.',
          ),
          answer(
            'law',
            2,
            'two stops',
            'Two stops are for double the distance. Here nothing moved, the card only turned.',
          ),
        ],
        stopsApart,
      ),
    },
    reveal: () => {
      const law = lawOnAxis(axisOutput(compileScene(document, SETUP), LAMP))(CARD_AT_M);
      const tilts = [...new Set([0, 30, 45, 60, Math.round(value)])].toSorted((a, b) => a - b);
      return {
        words: [
          `At ${say.angle(value)} the card reads ${say.lux(level(value))}, ${say.stops(lost)} less. 45° costs ${say.stops(stopsLost(squareLx, level(45)))}, 60° ${say.stops(stopsLost(squareLx, level(60)))}.`,
          'A face turned away from the lamp, a floor under a low lamp and a raked wall all lose this way.',
        ],
        rows: tilts.map((tiltDeg) => ({
          words: say.angle(tiltDeg),
          quantity: 'illuminance',
          computed: level(tiltDeg),
          law: law * cosDeg(tiltDeg),
        })),
        lawWords: 'candela / distance² x cosine',
        chart: {
          along: 'angle',
          alongWords: 'Tilt from square on',
          series: [
            { id: 'curve', name: 'the card', kind: 'curve', points: curveOf(rungs(0, 85, 35), level) },
            { id: 'dots', name: 'read', kind: 'dots', points: curveOf(tilts, level) },
          ],
        },
      };
    },
  };
}

export const tiltCard: Exercise = {
  id: 'tilt-card',
  title: 'Tilt the card',
  base: 'drill-hall',
  needs: [{ setupId: SETUP, sourceIds: [LAMP] }],
  misconceptions: ['tilt-in-proportion'],
  look: 'A flat card at one place, turned away from the lamp bit by bit. Its distance never changes.',
  slider: { words: 'Tilt of the card', quantity: 'angle', least: 15, most: MOST_TILT_DEG, step: 1, first: 45 },
  build: (document, value) => ({
    document: {
      ...document,
      meters: {
        ...document.meters,
        card: {
          name: `Card tilted ${Math.round(value)}°`,
          positionM: [...onAxis(lampOf(document, SETUP, LAMP), CARD_AT_M).pointM] as [number, number, number],
          receptor: 'flat',
          aim: { panDeg: 180, tiltDeg: value },
        },
      },
    },
    setupId: SETUP,
  }),
  view: 'side',
  marks: ({ document, value, say }) => {
    const lamp = lampOf(document, SETUP, LAMP);
    const { pointM, normal } = onAxis(lamp, CARD_AT_M);
    const { up } = frameFromPose(lamp.pose);
    return [
      {
        words: say.angle(value),
        atM: [pointM[0], pointM[1], pointM[2]],
        normal: add(scale(normal, cosDeg(value)), scale(up, sinDeg(value))),
      },
    ];
  },
  roundCount: 1,
  rounds: (bench) => [tilted(bench)],
  takeAway: 'Tilt costs by the cosine: 45° is half a stop, 60° is one.',
  caution: 'Hold the card by its edge and keep your eyes on it, not on the lamp.',
};

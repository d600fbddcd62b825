import type { Lamp, Point3, SceneDocument } from '../../../scene/schema';
import { toDegrees, toRadians } from '../../../scene/geometry/frames';
import {
  discVisibleFraction,
  shaftFallOffStops,
  penumbraWidth,
  sunLikeDistance,
  sunPenumbraWidth,
  tenToNinetyShare,
} from '../../photometry/penumbra';
import { compileScene } from '../../solve/compileScene';
import { DEFAULT_SUN_DIAMETER_DEG } from '../../solve/compileSources';
import { axisOutput } from '../axisOutput';
import {
  choicesAmong,
  curveOf,
  lampOf,
  read,
  rungs,
  setupOf,
  stopsApart,
  stopsLost,
  wallReader,
  withLamp,
} from '../bench';
import type { Bench, Exercise, Round } from '../lesson';

const LAMP_SETUP = 'lamp';
const SUN_SETUP = 'sun';
const LAMP = 'l1';
const SUN = 'sun';
/** The light comes down the hall from the north; the near mark, the far one 3 m on, the bar and the long wall at y = 0. */
const NEAR_Y_M = 6;
const FAR_Y_M = 3;
const BAR_Y_M = 1;
const HEIGHT_M = 1.5;
const NORTH = [0, 1, 0] as const;

function atDistance(document: SceneDocument, fromNearM: number): SceneDocument {
  const { pose } = lampOf(document, LAMP_SETUP, LAMP);
  return withLamp(document, LAMP_SETUP, LAMP, {
    pose: { ...pose, positionM: [0, NEAR_Y_M + fromNearM, HEIGHT_M] },
  });
}
const faceM = ({ emitter }: Lamp): number =>
  emitter.shape === 'disc' || emitter.shape === 'sphere' ? emitter.diameterM : 0;

/** A meter at a depth of the hall that faces north. */
function depthReader(document: SceneDocument, setupId: string): (y: number) => number {
  const scene = compileScene(document, setupId);
  return (y) => read(scene, { pointM: [0, y, HEIGHT_M], normal: NORTH });
}

/** Width of the bar's shadow edge on the long wall, from 10 to 90 % of the light beside it; m. */
export function edgeWidthOnWall(document: SceneDocument, setupId: string): number {
  const level = wallReader(document, setupId, NORTH);
  const at = (x: number): number => level([x, 0, HEIGHT_M] as Point3);
  const openLx = at(-0.5);
  const crossing = (share: number): number => {
    let [lit, dark] = [-0.5, 0.1];
    for (let step = 0; step < 40; step++) {
      const middle = (lit + dark) / 2;
      if (at(middle) > share * openLx) lit = middle;
      else dark = middle;
    }
    return (lit + dark) / 2;
  };
  return crossing(0.1) - crossing(0.9);
}

function sunOf(document: SceneDocument): { angularRad: number; altitudeDeg: number } {
  const sun = setupOf(document, SUN_SETUP).sources[SUN];
  if (sun?.type !== 'sun') throw new RangeError('no sun in the setup of that name');
  return { angularRad: toRadians(sun.angularDiameterDeg ?? DEFAULT_SUN_DIAMETER_DEG), altitudeDeg: sun.altitudeDeg };
}

function fallOff(bench: Bench): Round {
  const { value, say } = bench;
  const document = atDistance(bench.document, value);
  const [lampAt, sunAt] = [depthReader(document, LAMP_SETUP), depthReader(document, SUN_SETUP)];
  const depthM = NEAR_Y_M - FAR_Y_M;
  const [lampLost, sunLost] = [
    stopsLost(lampAt(NEAR_Y_M), lampAt(FAR_Y_M)),
    stopsLost(sunAt(NEAR_Y_M), sunAt(FAR_Y_M)),
  ];
  const lawLost = shaftFallOffStops(value, depthM);
  const answer = (id: string, stops: number, words: string, reason: string) => ({ id, value: stops, words, reason });
  return {
    id: 'fall-off',
    question: `A lamp ${say.length(value)} before the near mark loses ${say.stops(lampLost)} on the ${say.length(depthM)} to the far mark. How much does the sun lose on the same stretch?`,
    ask: {
      kind: 'choice',
      choices: choicesAmong(
        answer(
          'right',
          sunLost,
          'nothing a meter could read',
          `From the sun, ${say.length(depthM)} more or less is no difference: it is 150 million kilometres away.`,
        ),
        [
          {
            ...answer(
              'same',
              lampLost,
              `${say.stops(lampLost)}, the same: light is light`,
              'The law counts from the source. For the lamp the far mark is much farther; for the sun both marks are as far.',
            ),
            misconception: 'lamp-falls-off-like-sun',
          },
          answer(
            'half',
            lampLost / 2,
            say.stops(lampLost / 2),
            'It is not the power of the sun that keeps its light even, but its distance. A stronger lamp in the same place falls off just as much.',
          ),
        ],
        stopsApart,
      ),
    },
    reveal: () => {
      const at = rungs(NEAR_Y_M, FAR_Y_M, 31);
      const nearest = (level: (y: number) => number) =>
        curveOf(
          at.map((y) => NEAR_Y_M - y),
          (depth) => level(NEAR_Y_M - depth),
        );
      const { candela } = axisOutput(compileScene(document, LAMP_SETUP), LAMP);
      return {
        words: [
          `The lamp goes from ${say.lux(lampAt(NEAR_Y_M))} to ${say.lux(lampAt(FAR_Y_M))}; the sun stays at ${say.lux(sunAt(NEAR_Y_M))}.`,
          `To fall off by a third of a stop only, the lamp must stand ${say.length(depthM / (2 ** (1 / 6) - 1))} before the near mark.`,
        ],
        rows: [
          { words: `lamp, ${say.length(value)} off`, quantity: 'stops', computed: lampLost, law: lawLost },
          { words: 'sun', quantity: 'stops', computed: sunLost, law: 0 },
          {
            words: 'lamp at the near mark',
            quantity: 'illuminance',
            computed: lampAt(NEAR_Y_M),
            law: candela / value ** 2,
          },
        ],
        lawWords: '2 log2 of the distances’ ratio',
        chart: {
          along: 'place',
          alongWords: 'Past the near mark',
          firstView: 'stops',
          series: [
            { id: 'curve', name: 'lamp', kind: 'curve', points: nearest(lampAt) },
            {
              id: 'law',
              name: 'sun',
              kind: 'law',
              points: nearest(sunAt).map(
                ([depth, lux]) => [depth, (lux * lampAt(NEAR_Y_M)) / sunAt(NEAR_Y_M)] as const,
              ),
            },
          ],
        },
      };
    },
  };
}

function edge(bench: Bench): Round {
  const { value, say } = bench;
  const document = atDistance(bench.document, value);
  const lamp = lampOf(document, LAMP_SETUP, LAMP);
  const [lampM, sunM] = [edgeWidthOnWall(document, LAMP_SETUP), edgeWidthOnWall(document, SUN_SETUP)];
  const toBarM = NEAR_Y_M + value - BAR_Y_M;
  const { angularRad, altitudeDeg } = sunOf(document);
  const looksDeg = toDegrees(2 * Math.atan(faceM(lamp) / 2 / toBarM));
  const isSunCrisper = sunM < lampM;
  const sizes = `Seen from the bar the lamp is ${looksDeg.toFixed(1)}° wide and the sun ${toDegrees(angularRad).toFixed(1)}°`;
  return {
    id: 'edge',
    question: `A bar stands ${say.length(BAR_Y_M)} off the wall. The lamp’s face is ${say.fine(faceM(lamp))} wide and ${say.length(toBarM)} from the bar. Whose shadow edge is crisper?`,
    ask: {
      kind: 'choice',
      choices: [
        {
          id: 'lamp',
          words: 'The lamp’s: its face is small and the sun is huge',
          isRight: !isSunCrisper,
          reason: `${sizes}. It is not the size that counts but how big it looks from the bar.`,
          misconception: 'softness-from-diffusion',
        },
        {
          id: 'sun',
          words: 'The sun’s',
          isRight: isSunCrisper,
          reason: `${sizes}: what looks smaller throws the crisper edge.`,
        },
        {
          id: 'same',
          words: 'Neither: only diffusion makes an edge soft',
          isRight: false,
          reason: `Diffusion softens by making a bigger face, no other way. ${sizes}.`,
          misconception: 'softness-from-diffusion',
        },
      ],
    },
    reveal: () => {
      const level = (setupId: string) => wallReader(document, setupId, NORTH);
      const reach = Math.max(0.05, 2 * lampM);
      const at = rungs(-reach, reach, 41);
      const share = (setupId: string) => {
        const reader = level(setupId);
        const openLx = reader([-0.5, 0, HEIGHT_M]);
        return at.map((x) => [x + reach, Math.max(0.001, (100 * reader([x, 0, HEIGHT_M])) / openLx)] as const);
      };
      const tenToNinety = tenToNinetyShare(discVisibleFraction);
      const pathM = BAR_Y_M / Math.cos(toRadians(altitudeDeg));
      return {
        words: [
          `Edge on the wall, 10 to 90 %: lamp ${say.fine(lampM)}, sun ${say.fine(sunM)}. The lamp’s is ${(lampM / sunM).toFixed(1)} times as wide.`,
          `To look as small as the sun this face must stand ${say.length(sunLikeDistance(faceM(lamp), angularRad))} from the bar.`,
        ],
        rows: [
          {
            words: 'lamp’s edge',
            quantity: 'fineLength',
            computed: lampM,
            law: tenToNinety * penumbraWidth(faceM(lamp), toBarM, BAR_Y_M),
          },
          {
            words: 'sun’s edge',
            quantity: 'fineLength',
            computed: sunM,
            law: tenToNinety * sunPenumbraWidth(angularRad, pathM),
          },
        ],
        lawWords: 'similar triangles, 0.687 of the half-shadow',
        chart: {
          along: 'place',
          alongWords: 'Along the wall, across the edge',
          up: 'percent',
          series: [
            { id: 'curve', name: 'lamp', kind: 'curve', points: share(LAMP_SETUP) },
            { id: 'law', name: 'sun', kind: 'law', points: share(SUN_SETUP) },
          ],
        },
      };
    },
  };
}

export const lampAndSun: Exercise = {
  id: 'lamp-and-sun',
  title: 'Lamp against sun',
  base: 'drill-hall',
  needs: [
    { setupId: LAMP_SETUP, sourceIds: [LAMP] },
    { setupId: SUN_SETUP, sourceIds: [SUN] },
  ],
  misconceptions: ['lamp-falls-off-like-sun', 'softness-from-diffusion'],
  look: 'A lamp plays the sun down the hall. Two marks, 3 m apart; then a bar a metre off the wall.',
  slider: { words: 'Lamp before the near mark', quantity: 'length', least: 1, most: 6, step: 0.1, first: 3 },
  build: (document, value) => ({ document: atDistance(document, value), setupId: LAMP_SETUP }),
  view: 'planFromNorth',
  marks: () => [
    { words: 'near mark', atM: [0, NEAR_Y_M, HEIGHT_M], normal: NORTH },
    { words: 'far mark', atM: [0, FAR_Y_M, HEIGHT_M], normal: NORTH },
  ],
  roundCount: 2,
  rounds: (bench) => [fallOff(bench), edge(bench)],
  takeAway: 'A fake sun must stand far off: distance keeps its light even and its shadows crisp, not power.',
  caution: 'Never look into the sun or the lamp to compare them: judge the shadows.',
};

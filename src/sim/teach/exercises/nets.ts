import type { Distribution, Lamp, Modifier, Point3, SceneDocument } from '../../../scene/schema';
import { pointIlluminance } from '../../photometry/closedForms';
import { compileScene } from '../../solve/compileScene';
import { axisOutput } from '../axisOutput';
import { addScaled, subtract } from '../../../scene/geometry/vector';
import { curveOf, lampOf, levelsAlong, rungs, setupOf, withLamp, withModifiers } from '../bench';
import type { Bench, Choice, Exercise, RevealRow, Round } from '../lesson';

const BARE = 'rake-bare';
const NETTED = 'rake-netted';
const LAMP = 'l1';
const WALL = 'long-wall';
/** The stretch of the long wall that is to be even, and its height; m. */
export const STRETCH = { nearX: 2, middleX: 3.1, farX: 4.7, z: 1.3 } as const;
const MARKS_X = [STRETCH.nearX, STRETCH.middleX, STRETCH.farX] as const;
const ALONG_M = 0.1;
/** First net before the lens in the setup; the slider moves the whole rig in proportion. */
export const FIRST_NET_M = 0.5;
const LINE_SHOWS = 0.1;
/** The half scrim's side: 0 is right, seen from behind the lamp, where the near end of the wall lies. */
const NEAR_SIDE_DEG = 0;
/** A lensed lantern for the same place: its small source stands magnified behind the lens, so a half scrim makes a ramp. */
const LANTERN: Distribution = {
  kind: 'lensed',
  lensDiameterM: 0.3,
  focalLengthM: 0.3,
  sourceDiameterM: 0.06,
  lampToLensM: 0.2,
  beamAngleDeg: 60,
  fieldAngleDeg: 90,
};

/** Levels along the stretch and a little beyond, each `PITCH_M`. */
interface Row {
  readonly at: readonly number[];
  readonly levelsLx: readonly number[];
}
const PITCH_M = 0.025;
const ROW_FROM_X = 1.4;
const ROW_TO_X = 5;
const SAMPLES = Math.round((ROW_TO_X - ROW_FROM_X) / PITCH_M) + 1;

function rowOf(document: SceneDocument, setupId: string): Row {
  const at = rungs(ROW_FROM_X, ROW_TO_X, SAMPLES);
  const from: Point3 = [ROW_FROM_X, 0, STRETCH.z];
  const to: Point3 = [ROW_TO_X, 0, STRETCH.z];
  return { at, levelsLx: levelsAlong(compileScene(document, setupId), WALL, from, to, SAMPLES) };
}
const levelAt = ({ levelsLx }: Row, x: number): number => levelsLx[Math.round((x - ROW_FROM_X) / PITCH_M)] ?? NaN;

/** The nets of the netted setup, all carried along their rays so that the first stands `firstM` before the lens. */
function carried(document: SceneDocument, firstM: number): SceneDocument {
  const times = firstM / FIRST_NET_M;
  const lens = lampOf(document, NETTED, LAMP).pose.positionM;
  const nets = Object.entries(setupOf(document, NETTED).modifiers).map(([id, net]): [string, Modifier] => {
    const [x, y, z] = addScaled(lens, subtract(net.pose.positionM, lens), times);
    const shape =
      net.shape.kind === 'rectangle'
        ? { ...net.shape, widthM: net.shape.widthM * times, heightM: net.shape.heightM * times }
        : net.shape;
    return [id, { ...net, shape, pose: { ...net.pose, positionM: [x, y, z] } }];
  });
  return withModifiers(document, NETTED, Object.fromEntries(nets));
}
const HALF_DOUBLE: NonNullable<Lamp['accessories']> = [
  { kind: 'wireScrim', stops: 1, half: { clockDeg: NEAR_SIDE_DEG }, slotM: 0.05 },
];
/** The bare rake with a half double scrim in the lamp, on the side of the near end. */
const halfScrimmed = (document: SceneDocument): SceneDocument =>
  withLamp(document, BARE, LAMP, { accessories: HALF_DOUBLE });
const lantern = (document: SceneDocument, accessories: NonNullable<Lamp['accessories']>): SceneDocument =>
  withLamp(document, BARE, LAMP, { distribution: LANTERN, accessories });
const dimmed = (document: SceneDocument): SceneDocument => withLamp(document, BARE, LAMP, { level: 0.5 });

/** Range of the stretch, brightest to darkest; stops. */
function rangeOf({ at, levelsLx }: Row): number {
  const within = levelsLx.filter((_, i) => at[i]! > STRETCH.nearX - 1e-9 && at[i]! < STRETCH.farX + 1e-9);
  return Math.log2(Math.max(...within) / Math.min(...within));
}
/** Steepest change in ten centimetres that the nets alone make, against the bare rake; stops. */
function steepestStep(netted: Row, bare: Row): number {
  const ratios = netted.levelsLx.map((level, i) => Math.log2(level / bare.levelsLx[i]!));
  const hop = Math.round(ALONG_M / PITCH_M);
  return Math.max(...ratios.slice(hop).map((ratio, i) => Math.abs(ratio - ratios[i]!)));
}

/** The bare rake by closed form: a lens far smaller than its throw, as bright every way inside its field. */
function bareLaw(document: SceneDocument): Row {
  const { candela } = axisOutput(compileScene(document, BARE), LAMP);
  const [lensX, offM, lensZ] = lampOf(document, BARE, LAMP).pose.positionM;
  const at = rungs(ROW_FROM_X, ROW_TO_X, SAMPLES);
  const levelsLx = at.map((x) => {
    const distanceM = Math.hypot(x - lensX, offM, STRETCH.z - lensZ);
    return pointIlluminance(candela, distanceM, Math.acos(offM / distanceM));
  });
  return { at, levelsLx };
}

interface Gear {
  readonly bare: Row;
  readonly near: Row;
  readonly here: Row;
  readonly scrim: Row;
  readonly lantern: Row;
  readonly lanternScrim: Row;
  readonly dim: Row;
}
const curveIn = ({ at, levelsLx }: Row) => curveOf(at, (x) => levelsLx[at.indexOf(x)]!).filter((_, i) => i % 3 === 0);

const FAR_NETS_M = 1.5;
function gearOf({ document, value }: Bench): Gear & { readonly far: Row } {
  const netted = (firstM: number): Row => rowOf(carried(document, firstM), NETTED);
  return {
    bare: rowOf(document, BARE),
    near: netted(FIRST_NET_M),
    here: netted(value),
    far: netted(FAR_NETS_M),
    scrim: rowOf(halfScrimmed(document), BARE),
    lantern: rowOf(lantern(document, []), BARE),
    lanternScrim: rowOf(lantern(document, HALF_DOUBLE), BARE),
    dim: rowOf(dimmed(document), BARE),
  };
}

function whichTool(bench: Bench): Round {
  const { say } = bench;
  const gear = gearOf(bench);
  const left = (row: Row): string => say.stops(rangeOf(row));
  const nearIsBest = rangeOf(gear.near) < rangeOf(gear.scrim) && rangeOf(gear.near) < rangeOf(gear.dim);
  const choices: Choice[] = [
    {
      id: 'nets-near',
      words: `A double and two singles, staggered in from the near side, ${say.length(FIRST_NET_M)} from the lens`,
      isRight: nearIsBest,
      reason: `So close to the lens each net’s edge melts into a long ramp: it leaves ${left(gear.near)} and no line.`,
    },
    {
      id: 'nets-far',
      words: `The same nets on the same rays, ${say.length(FAR_NETS_M)} from the lens`,
      isRight: false,
      reason: `Farther out the edges turn sharp: a step of ${say.quantity('step', steepestStep(gear.far, gear.bare))}, a line on the wall.`,
      misconception: 'nets-work-anywhere',
    },
    {
      id: 'half-scrim',
      words: 'A half double scrim in this projection spot',
      isRight: false,
      reason: `In a projection spot every point of the lens carries the whole picture, so a half scrim only dims: ${left(gear.scrim)} is left of ${left(gear.bare)}. In a lensed lantern it makes a ramp: ${left(gear.lanternScrim)} of ${left(gear.lantern)}.`,
      misconception: 'half-scrim-everywhere',
    },
    {
      id: 'dim',
      words: 'Dim the lamp by a stop',
      isRight: false,
      reason: `That takes a stop from both ends: ${left(gear.dim)} is left, as before.`,
    },
  ];
  return {
    id: 'which-tool',
    question: `A projection spot rakes the wall: ${say.lux(levelAt(gear.bare, STRETCH.nearX))} at the near mark, ${say.lux(levelAt(gear.bare, STRETCH.farX))} at the far one, ${left(gear.bare)} apart. What evens it out without leaving a line?`,
    ask: { kind: 'choice', choices },
    reveal: () => {
      const row = (words: string, of: Row, law: Row | null = null): RevealRow => ({
        words,
        quantity: 'stops',
        computed: rangeOf(of),
        law: law && rangeOf(law),
      });
      return {
        words: [
          `With the first net at ${say.length(bench.value)}: ${MARKS_X.map((x) => say.lux(levelAt(gear.here, x))).join(', ')} along the wall; ${left(gear.here)} left; steepest step ${say.quantity('step', steepestStep(gear.here, gear.bare))}${steepestStep(gear.here, gear.bare) > LINE_SHOWS ? ', which shows as a line' : ', which no eye finds'}.`,
          'Move the nets with the slider: the ramp of an edge is the lens times what is left of the throw, over the distance from the lens.',
        ],
        rows: [
          row('bare', gear.bare, bareLaw(bench.document)),
          row(`nets from ${say.length(bench.value)}`, gear.here),
          row(`nets from ${say.length(FAR_NETS_M)}`, gear.far),
          row('half double scrim in this spot', gear.scrim),
          row('a lensed lantern, bare', gear.lantern),
          row('half double scrim in the lantern', gear.lanternScrim),
          row('dimmed', gear.dim),
        ],
        lawWords: 'candela / distance² x cosine',
        chart: {
          along: 'place',
          alongWords: 'Along the wall',
          firstView: 'stops',
          series: [
            { id: 'bare', name: 'bare', kind: 'law', points: curveIn(gear.bare) },
            { id: 'curve', name: 'with nets', kind: 'curve', points: curveIn(gear.here) },
            {
              id: 'dots',
              name: 'read',
              kind: 'dots',
              points: curveOf(MARKS_X, (x) => levelAt(gear.here, x)),
            },
          ],
        },
      };
    },
  };
}

export const nets: Exercise = {
  id: 'nets-and-half-scrim',
  title: 'Half scrim and staggered nets',
  base: 'drill-hall',
  needs: [
    { setupId: BARE, sourceIds: [LAMP] },
    { setupId: NETTED, sourceIds: [LAMP] },
  ],
  surfaceIds: [WALL],
  misconceptions: ['nets-work-anywhere', 'half-scrim-everywhere'],
  look: 'A rake along the long wall, hot at the near end. Nets go in from that side; watch for a line.',
  slider: { words: 'First net from the lens', quantity: 'length', least: 0.3, most: 1.5, step: 0.05, first: 0.5 },
  build: (document, value) => ({ document: carried(document, value), setupId: NETTED }),
  view: 'plan',
  marks: ({ say }) => MARKS_X.map((x) => ({ words: say.length(x), atM: [x, 0, STRETCH.z], normal: [0, 1, 0] })),
  roundCount: 1,
  rounds: (bench) => [whichTool(bench)],
  takeAway: 'Nets close to the lens melt into a ramp; far from it they leave a line.',
  caution: 'Nets near a lens get hot: keep the maker’s distance, gloves on, and bag both stands.',
};

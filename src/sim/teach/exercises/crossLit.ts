import type { SceneDocument, Setup } from '../../../scene/schema';
import { coverageArea, solveArea } from '../../coverage/evenness';
import { compileScene } from '../../solve/compileScene';
import { rungs, setupOf } from '../bench';
import type { Bench, Choice, Exercise, Round } from '../lesson';

const TWO = 'poor';
const FOUR = 'good';
const AREA = 'picture';

/** The same lamps in the same places, each looking straight ahead instead of across. */
export function straightened(document: SceneDocument, setupId: string): SceneDocument {
  const setup = setupOf(document, setupId);
  const sources: Setup['sources'] = Object.fromEntries(
    Object.entries(setup.sources).map(([id, source]) => {
      if (source.type !== 'lamp' || !('atM' in source.pose.aim)) return [id, source];
      const [x] = source.pose.positionM;
      const [, y, z] = source.pose.aim.atM;
      return [
        id,
        {
          ...source,
          pose: { ...source.pose, aim: { ...source.pose.aim, atM: [x, y, z] as [number, number, number] } },
        },
      ];
    }),
  );
  return {
    ...document,
    setups: document.setups.map((other) => (other.id === setupId ? { ...setup, sources } : other)),
  };
}

/** The lamps of a setup, all carried so that the nearest stands `throwM` before the cloth; where they look stays. */
function thrown(document: SceneDocument, setupId: string, throwM: number): SceneDocument {
  const cloth = document.surfaces[AREA]?.pose.positionM[1] ?? 0;
  const setup = setupOf(document, setupId);
  const sources: Setup['sources'] = Object.fromEntries(
    Object.entries(setup.sources).map(([id, source]) => {
      if (source.type !== 'lamp') return [id, source];
      const [x, , z] = source.pose.positionM;
      return [
        id,
        { ...source, pose: { ...source.pose, positionM: [x, cloth - throwM, z] as [number, number, number] } },
      ];
    }),
  );
  return {
    ...document,
    setups: document.setups.map((other) => (other.id === setupId ? { ...setup, sources } : other)),
  };
}

interface Evenly {
  readonly stops: number;
  readonly meanLx: number;
  /** Levels along the middle of the picture, by place from its left edge. */
  readonly middle: readonly (readonly [number, number])[];
}
function evenly(document: SceneDocument, setupId: string): Evenly {
  const { grid, evenness } = solveArea(compileScene(document, setupId), coverageArea(document, AREA));
  const row = Math.floor(grid.rows / 2);
  const pitch = grid.widthM / grid.columns;
  return {
    stops: evenness.rangeStops ?? NaN,
    meanLx: evenness.meanLx,
    middle: rungs(0, grid.columns - 1, grid.columns).map((column) => [
      (column + 0.5) * pitch,
      grid.illuminanceLx[row * grid.columns + column] ?? 0,
    ]),
  };
}

function aimed(bench: Bench): Round {
  const { value, say } = bench;
  const document = thrown(thrown(bench.document, TWO, value), FOUR, value);
  const across = evenly(document, FOUR);
  const straight = evenly(straightened(document, FOUR), FOUR);
  const two = evenly(document, TWO);
  const best = Math.min(across.stops, straight.stops, two.stops);
  const choice = (id: string, words: string, found: Evenly, reason: string): Choice => ({
    id,
    words,
    isRight: found.stops === best,
    reason: `${reason} Brightest to darkest: ${say.stops(found.stops)}.`,
    ...(found.stops === best ? {} : { misconception: 'aim-straight-ahead' as const }),
  });
  return {
    id: 'aimed',
    question: `A painted cloth, 8 m of picture, soft mats ${say.length(value)} away. Which way of lighting it is the most even?`,
    ask: {
      kind: 'choice',
      choices: [
        choice(
          'two',
          'Two mats before the cloth, square on',
          two,
          'Each makes a pool where it points, and the corners stay dark.',
        ),
        choice(
          'straight',
          'Four mats at the sides, each aimed straight ahead',
          straight,
          'Each lights its own end most, and the middle goes down.',
        ),
        choice(
          'across',
          'Four mats at the sides, each aimed across at the far part',
          across,
          'Each mat’s hot centre lands on the far part, where its distance takes light away: the two slopes add up to nearly flat.',
        ),
      ],
    },
    reveal: () => ({
      words: [
        `Range over the picture: two square on ${say.stops(two.stops)}, four straight ahead ${say.stops(straight.stops)}, four across ${say.stops(across.stops)}.`,
        `The mean is ${say.lux(across.meanLx)}. Move the throw: farther is more even and dimmer.`,
      ],
      rows: [
        { words: 'two, square on', quantity: 'stops', computed: two.stops, law: null },
        { words: 'four, straight ahead', quantity: 'stops', computed: straight.stops, law: null },
        { words: 'four, across', quantity: 'stops', computed: across.stops, law: null },
      ],
      lawWords: 'no short law: the mats’ light is summed',
      chart: {
        along: 'place',
        alongWords: 'Across the picture, at its middle',
        firstView: 'stops',
        series: [
          { id: 'curve', name: 'four across', kind: 'curve', points: across.middle },
          { id: 'straight', name: 'four straight', kind: 'law', points: straight.middle },
          { id: 'two', name: 'two square on', kind: 'law', points: two.middle },
        ],
      },
    }),
  };
}

export const crossLit: Exercise = {
  id: 'cross-lit-backdrop',
  title: 'The cross-lit backdrop',
  base: 'harbour-backdrop',
  needs: [
    { setupId: TWO, sourceIds: ['k1', 'k2'] },
    { setupId: FOUR, sourceIds: ['k1', 'k2', 'k3', 'k4'] },
  ],
  surfaceIds: [AREA],
  misconceptions: ['aim-straight-ahead'],
  look: 'The harbour cloth outside the windows. It must look as if one even sky lit it.',
  slider: { words: 'Throw to the cloth', quantity: 'length', least: 1.2, most: 6, step: 0.1, first: 3.6 },
  build: (document, value) => ({ document: thrown(document, FOUR, value), setupId: FOUR }),
  view: 'plan',
  marks: () => [],
  roundCount: 1,
  rounds: (bench) => [aimed(bench)],
  takeAway: 'Aim each lamp across at the far part: two slopes that cross add up flat.',
  caution: 'Low lamps on the floor get kicked: mark them, and tape the cables before the cloth moves.',
};

/**
 * Black foil at the rim of a lit face. What is left of the face is the face of a published view factor, so that its value is
 * the check; and brute force puts out the samples that lie under the foil.
 */
import { describe, expect, test } from 'vitest';
import { findCautions } from '../../src/scene/cautions';
import { sourceProblems } from '../../src/scene/invariants';
import type { Emitter, Lamp } from '../../src/scene/schema';
import { lampSchema } from '../../src/scene/schemaSources';
import { mirroredThing, throughLine } from '../../src/ui/tools/mirror';
import { blackenedScene } from '../brute/blackenedScene';
import { settledAgreement } from '../validation/kernelAgainstBrute';
import { blackEdgeRows } from '../validation/blackEdgeRows';
import { facing, glowing, lamp, reading, sceneOf, SETUP } from '../validation/scenes';

type Accessories = NonNullable<Lamp['accessories']>;
type Edges = Extract<Accessories[number], { kind: 'blackEdges' }>;
const PANEL: Emitter = { shape: 'rectangle', widthM: 1, heightM: 0.5 };
const TUBE: Emitter = { shape: 'tube', lengthM: 1.2, diameterM: 0.04 };
const masked = (emitter: Emitter, edges: Omit<Edges, 'kind'>): Lamp => ({
  ...glowing(facing([0, 0, 2], 90, 0), emitter, 3000),
  accessories: [{ kind: 'blackEdges', ...edges }],
});
const problems = (one: Lamp): string[] => sourceProblems(one, []).map(({ path }) => path.join('.'));

test.each(blackEdgeRows().map((row) => [row.id, row] as const))('%s: what is left is a published face', (_, row) => {
  expect(row).toMatchObject({ pass: true });
});

describe('brute force', () => {
  const SCENES = 10;
  const LARGEST = 0.003;
  const MEAN = 0.0002;
  test.each(Array.from({ length: SCENES }, (_, i) => i + 1))(
    'random scene %d: at most 0.3 % of peak, mean 0.02 %',
    (seed) => {
      const agreement = settledAgreement(blackenedScene(seed), seed, LARGEST);
      expect(agreement.bySource.filter((one) => !(one.largest <= LARGEST))).toEqual([]);
      expect(agreement.mean).toBeLessThanOrEqual(MEAN);
    },
    120_000,
  );

  test('every kind of face comes up', () => {
    const faces = Array.from({ length: SCENES }, (_, i) => blackenedScene(i + 1)).flatMap(({ document }) =>
      Object.values(document.setups[0]!.sources).flatMap((one) =>
        one.type === 'lamp' && one.accessories?.some(({ kind }) => kind === 'blackEdges')
          ? [one.distribution.kind === 'lensed' ? 'lens' : one.emitter.shape]
          : [],
      ),
    );
    expect(new Set(faces)).toEqual(new Set(['rectangle', 'tube', 'disc', 'lens']));
  }, 60_000);
});

describe('the document', () => {
  test('edges are kept, and may be left out', () => {
    const panel = masked(PANEL, { leftM: 0.1, topM: 0.05 });
    expect(lampSchema.parse(panel)).toEqual(panel);
    expect(problems(panel)).toEqual([]);
    expect(lampSchema.safeParse(masked(PANEL, { leftM: -0.1 })).success).toBe(false);
  });

  test('black that leaves nothing is refused', () => {
    expect(problems(masked(PANEL, { leftM: 0.5, rightM: 0.5 }))).toEqual(['accessories.0']);
    expect(problems(masked(PANEL, { topM: 0.3, bottomM: 0.19 }))).toEqual([]);
    expect(problems(masked(PANEL, { topM: 0.3, bottomM: 0.2 }))).toEqual(['accessories.0']);
    expect(problems(masked(TUBE, { leftM: 1.2 }))).toEqual(['accessories.0']);
    expect(problems(masked({ shape: 'disc', diameterM: 0.2 }, { ringM: 0.1 }))).toEqual(['accessories.0']);
    const lens = {
      kind: 'lensed',
      lensDiameterM: 0.2,
      focalLengthM: 0.3,
      sourceDiameterM: 0.02,
      lampToLensM: 0.2,
      beamAngleDeg: 40,
    } as const;
    const lensed = { ...masked({ shape: 'disc', diameterM: 0.2 }, { ringM: 0.1 }), distribution: lens };
    expect(problems(lensed)).toEqual(['accessories.0']);
  });

  test('black at a side that the face has not got does nothing, and is said', () => {
    const at = { at: [2, 0.3, 1.8], normal: [-1, 0, 0] } as const;
    const odd = masked({ shape: 'sphere', diameterM: 0.4 }, { leftM: 0.1 });
    expect(reading(odd, at)).toBe(reading({ ...odd, accessories: [] }, at));
    const words = (one: Lamp): string =>
      findCautions(sceneOf({ sources: { one } }), SETUP)
        .map(({ sentence }) => sentence)
        .join(' ');
    expect(words(odd)).toContain('black edges');
    expect(words(masked(PANEL, { ringM: 0.1 }))).toContain('black edges');
    expect(words(masked(PANEL, { leftM: 0.1 }))).not.toContain('black edges');
  });

  test('a mirrored lamp has its black on the other hand', () => {
    const panel = masked(PANEL, { leftM: 0.1, topM: 0.05 });
    const [edges] = (mirroredThing(panel, throughLine(0, 0)) as Lamp).accessories!;
    expect(edges).toEqual({ kind: 'blackEdges', rightM: 0.1, topM: 0.05 });
  });
});

describe('where it lies', () => {
  test('left is left seen from behind: the light’s middle moves to the right', () => {
    // Looking along +x from behind, right is -y.
    const panel = masked(PANEL, { leftM: 0.6 });
    const on = (y: number): number => reading(panel, { at: [0.4, y, 2], normal: [-1, 0, 0] });
    expect(on(-0.3)).toBeGreaterThan(1.5 * on(0.3));
    const low = masked(PANEL, { topM: 0.3 });
    const at = (z: number): number => reading(low, { at: [0.4, 0, z], normal: [-1, 0, 0] });
    expect(at(1.85)).toBeGreaterThan(1.5 * at(2.15));
  });

  test('a strip keeps its cells where they are', () => {
    const strip: Emitter = { ...PANEL, cells: { count: 4, levels: [1, 0, 0, 0.5] } } as Emitter;
    // The two left cells under foil: what is left shines like a strip whose left half is at none.
    const foil = masked(strip, { leftM: 0.5 });
    const dark = glowing(
      facing([0, 0, 2], 90, 0),
      { ...PANEL, cells: { count: 4, levels: [0, 0, 0, 0.5] } } as Emitter,
      3000,
    );
    for (const y of [-0.4, 0, 0.5]) {
      const probe = { at: [0.8, y, 2.2], normal: [-1, 0, 0] } as const;
      expect(reading(foil, probe) / reading(dark, probe)).toBeCloseTo(1, 4);
    }
  });

  test('an egg crate and black edges: the crate takes its share of what is left', () => {
    const crate = { kind: 'eggCrate', cellM: 0.05, depthM: 0.05 } as const;
    const small: Lamp = { ...masked(PANEL, { leftM: 0.9, topM: 0.4 }) };
    const at = { at: [4, -0.4, 1.8], normal: [-1, 0, 0] } as const;
    const share = reading({ ...small, accessories: [...small.accessories!, crate] }, at) / reading(small, at);
    // What is left is 10 cm square about y = -0.45, z = 1.8: 5 cm aside of the probe and level with it, 4 m away. The
    // mean lean is 0.05/4 across, and a mean of 0.025/4 over both halves upright.
    expect(share).toBeCloseTo((1 - 0.05 / 4) * (1 - 0.025 / 4), 4);
  });

  test('a stated output is that of the lamp without black', () => {
    const at = { at: [50, 0, 2], normal: [-1, 0, 0] } as const;
    const bare = lamp(facing([0, 0, 2], 90, 0), PANEL, { kind: 'lambertian' }, { kind: 'lumens', lumens: 4000 });
    const foil: Lamp = { ...bare, accessories: [{ kind: 'blackEdges', leftM: 0.25, rightM: 0.25 }] };
    expect(reading(foil, at) / reading(bare, at)).toBeCloseTo(0.5, 4);
  });
});

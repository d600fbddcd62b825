/** Layers that are taken from before must be those that would be solved again, to the last bit. */
import { describe, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import { sceneSchema, type SceneDocument } from '../../../src/scene/schema';
import { compileScene } from '../../../src/sim/solve/compileScene';
import { digest, keeping, KeptLayers } from '../../../src/sim/solve/keptLayers';
import { GRID_QUALITY } from '../../../src/sim/solve/quality';
import { solveGrid } from '../../../src/sim/solve/solveGrid';
import { randomScene } from '../../brute/randomScene';

const GRID = { surfaceId: 'floor', columns: 24, rows: 18 };

/** Counts what is solved: `take` that finds nothing. */
class Counted extends KeptLayers {
  solved = 0;
  override take(key: string): ReturnType<KeptLayers['take']> {
    const layer = super.take(key);
    if (!layer) this.solved++;
    return layer;
  }
}

function solveBoth(document: SceneDocument, setupId: string, kept: KeptLayers, surfaceId = 'floor'): void {
  const scene = compileScene(document, setupId);
  const request = { ...GRID, surfaceId };
  const fresh = solveGrid(scene, request);
  const again = solveGrid(scene, request, {}, GRID_QUALITY, keeping(kept, scene));
  expect(again.illuminanceLx).toEqual(fresh.illuminanceLx);
  expect(again.layers).toEqual(fresh.layers);
}

/** The document with something changed in its first setup. */
function changed(document: SceneDocument, change: (draft: SceneDocument) => void): SceneDocument {
  const draft = structuredClone(document) as SceneDocument;
  change(draft);
  return sceneSchema.parse(draft);
}

describe('a scene with several lamps', () => {
  const { document, setupId } = randomScene(4);
  const count = Object.keys(document.setups[0]!.sources).length;

  test('solves no lamp twice, and only the one that moved', () => {
    const kept = new Counted();
    solveBoth(document, setupId, kept);
    expect(count).toBeGreaterThan(1);
    expect(kept.solved).toBe(count);
    solveBoth(document, setupId, kept);
    expect(kept.solved).toBe(count);
    const moved = changed(document, (draft) => {
      const lamp = Object.values(draft.setups[0]!.sources).find((one) => one.type === 'lamp')!;
      (lamp.pose.positionM as [number, number, number])[0] += 0.01;
    });
    solveBoth(moved, setupId, kept);
    expect(kept.solved).toBe(count + 1);
  });

  test('dims and renames lamps without solving any', () => {
    const kept = new Counted();
    solveBoth(document, setupId, kept);
    const dimmed = changed(document, (draft) => {
      for (const source of Object.values(draft.setups[0]!.sources))
        Object.assign(source, { name: 'Other', level: 0.3 });
    });
    solveBoth(dimmed, setupId, kept);
    expect(kept.solved).toBe(count);
  });

  test('solves all anew on another surface, another grid, and when anything in the light moves', () => {
    const kept = new Counted();
    solveBoth(document, setupId, kept);
    solveBoth(document, setupId, kept, 'desk');
    expect(kept.solved).toBe(2 * count);
    const grip = changed(document, (draft) => {
      const thing = Object.values(draft.setups[0]!.modifiers)[0]!;
      (thing.pose.positionM as [number, number, number])[2] += 0.02;
    });
    solveBoth(grip, setupId, kept);
    expect(kept.solved).toBe(3 * count);
  });
});

test.each([1, 2, 3, 5, 6, 7])('random scene %d is the same with what other scenes left behind', (seed) => {
  const kept = new KeptLayers();
  for (const other of [seed, seed + 20, seed]) {
    const { document, setupId } = randomScene(other);
    solveBoth(document, setupId, kept);
  }
});

test('the demo’s setups, one after the other and back, mirror and measured webs among them', () => {
  const text = readFileSync(new URL('../../../scenes-demo/customs-office-shaft.json', import.meta.url), 'utf8');
  const document = sceneSchema.parse(JSON.parse(text));
  const surfaceId = Object.keys(document.surfaces)[0]!;
  const kept = new KeptLayers();
  const ids = document.setups.map((setup) => setup.id);
  for (const id of [...ids, ...ids.toReversed()]) solveBoth(document, id, kept, surfaceId);
});

describe('what is kept', () => {
  test('is bounded: what was asked for longest ago goes first', () => {
    const kept = new KeptLayers(10);
    kept.keep('a', new Float32Array(4));
    kept.keep('b', new Float32Array(4));
    expect(kept.take('a')).not.toBeNull();
    kept.keep('c', new Float32Array(4));
    expect([kept.take('a'), kept.take('b'), kept.take('c')].map((layer) => layer !== null)).toEqual([
      true,
      false,
      true,
    ]);
    kept.keep('whole', new Float32Array(11));
    expect(kept.take('whole')).toBeNull();
  });
  test('is a copy: whoever takes it may write on it', () => {
    const kept = new KeptLayers();
    const layer = Float32Array.of(1, 2);
    kept.keep('a', layer);
    layer[0] = 9;
    kept.take('a')![1] = 9;
    expect([...kept.take('a')!]).toEqual([1, 2]);
  });
  test('goes by digests that tell a hundred thousand near texts apart', () => {
    const found = new Set<string>();
    for (let i = 0; i < 100_000; i++) found.add(digest(`{"origin":[${i / 1000},0,1.5]}`));
    expect(found.size).toBe(100_000);
  });
});

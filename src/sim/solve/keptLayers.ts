/**
 * Layers of light that were solved before, by all that they depend on. When one lamp moves, the other lamps' layers are
 * the same to the last bit and are not solved again. Colour, dimmer and names are no part of what a layer depends on.
 */
import type { BlockerLayer, CompiledScene, CompiledSource } from './compiled';
import type { Quality } from './quality';
import { layersInLight } from './receivers';
import type { ReceiverGrid } from './gridLight';
import type { ReceiverPlane } from './edgeTable';

/** 64 MB of layers. */
const MOST_CELLS = 1 << 24;

export class KeptLayers {
  private readonly layers = new Map<string, Float32Array>();
  private readonly mostCells: number;
  private cells = 0;

  /** @param mostCells receivers kept in all; the layers that were asked for longest ago go first */
  constructor(mostCells = MOST_CELLS) {
    this.mostCells = mostCells;
  }

  /** A copy of the layer kept under `key`, or null. */
  take(key: string): Float32Array<ArrayBuffer> | null {
    const layer = this.layers.get(key);
    if (!layer) return null;
    this.layers.delete(key);
    this.layers.set(key, layer);
    return layer.slice();
  }

  /** Keeps a copy of `layer`. */
  keep(key: string, layer: Float32Array): void {
    this.drop(key);
    this.layers.set(key, layer.slice());
    this.cells += layer.length;
    for (const oldest of this.layers.keys()) {
      if (this.cells <= this.mostCells) return;
      this.drop(oldest);
    }
  }

  private drop(key: string): void {
    const layer = this.layers.get(key);
    if (!layer) return;
    this.layers.delete(key);
    this.cells -= layer.length;
  }
}

/** What is kept, and for each source of the scene a key of what its light depends on wherever it falls. */
export interface Keeping {
  readonly kept: KeptLayers;
  readonly sourceKeys: readonly string[];
}

export function keeping(kept: KeptLayers, scene: CompiledScene): Keeping {
  const ofLayers = new Map<BlockerLayer, string>();
  const digestOf = (layer: BlockerLayer): string => {
    const known = ofLayers.get(layer) ?? digest(JSON.stringify(layer));
    ofLayers.set(layer, known);
    return known;
  };
  const keyOf = (source: CompiledSource): string => {
    const { frame, shape, profile, peakCandela, outletM, image } = source;
    const mirror = image && [image.origin, image.normal];
    const own = JSON.stringify([frame, shape, profile, peakCandela, outletM, mirror], shortened);
    return digest([own, ...layersInLight(scene, source).map(digestOf)].join());
  };
  return { kept, sourceKeys: scene.sources.map(keyOf) };
}

/** Key of one source's layer: `surfaceId` counts because receivers do not see their own surface's layers. */
export const layerKey = (
  sourceKey: string,
  surfaceId: string,
  plane: ReceiverPlane,
  grid: ReceiverGrid,
  quality: Quality,
): string => `${sourceKey} ${JSON.stringify([surfaceId, plane, grid, quality])}`;

/** Of the tables of measured lamps, which are compiled once and then shared. */
const digests = new WeakMap<ArrayBufferView, string>();

/** Tables by their digest, so that a key stays short. */
function shortened(_key: string, value: unknown): unknown {
  if (!(value instanceof Float64Array) && !(value instanceof Int32Array)) return value;
  const known = digests.get(value) ?? digest(value.join());
  digests.set(value, known);
  return known;
}

const PRIMES = [0x9e3779b1, 0x85ebca77] as const;

/** 64 bits of a text: two sums of 32 bits, multiplied and mixed with each character. */
export function digest(text: string): string {
  let [a, b] = [0x811c9dc5, 0xdeadbeef];
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    a = Math.imul(a ^ code, PRIMES[0]);
    a ^= a >>> 15;
    b = Math.imul(b ^ code, PRIMES[1]);
    b ^= b >>> 13;
  }
  return `${(a >>> 0).toString(36)}-${(b >>> 0).toString(36)}`;
}

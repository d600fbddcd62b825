/** Random scenes of dressed and of shaped lamps whose lit faces have black foil at their rims. */
import { sceneSchema, type Lamp } from '../../src/scene/schema';
import { dressedScene } from './dressedScene';
import type { RandomScene } from './randomScene';
import { drawFrom, type Draw } from './randomThings';
import { shapedScene } from './shapedScene';

/** Up to 0.4 of a side from either rim, so that something is always left. */
function blacken(draw: Draw, lamp: Lamp): Lamp {
  const part = (sizeM: number): number => draw.one([0, sizeM * draw.between(0.02, 0.4)]);
  const put = (edges: Readonly<Record<string, number>>): Lamp => ({
    ...lamp,
    accessories: [...(lamp.accessories ?? []), { kind: 'blackEdges', ...edges }],
  });
  const { emitter, distribution } = lamp;
  if (distribution.kind === 'lensed') return put({ ringM: distribution.lensDiameterM * draw.between(0.05, 0.3) });
  switch (emitter.shape) {
    case 'rectangle': {
      const [w, h] = [emitter.widthM, emitter.heightM];
      return put({ leftM: w * draw.between(0.1, 0.4), rightM: part(w), topM: part(h), bottomM: part(h) });
    }
    case 'tube':
      return put({ leftM: part(emitter.lengthM), rightM: emitter.lengthM * draw.between(0.1, 0.4) });
    case 'disc':
      return put({ ringM: emitter.diameterM * draw.between(0.05, 0.4) });
    default:
      return lamp;
  }
}

/** The random scene of a seed, its lamps' rims blackened; receivers as in the scene without. */
export function blackenedScene(seed: number): RandomScene {
  const scene = seed % 2 === 0 ? dressedScene(seed) : shapedScene(seed);
  const draw = drawFrom(seed + 130_000);
  const [setup] = scene.document.setups;
  const sources = Object.fromEntries(
    Object.entries(setup!.sources).map(([id, source]) => [id, source.type === 'lamp' ? blacken(draw, source) : source]),
  );
  return { ...scene, document: sceneSchema.parse({ ...scene.document, setups: [{ ...setup, sources }] }) };
}

/** Random scenes with mirrors hung in them, and receivers of which half are reached off a mirror. */
import { sceneSchema, type Modifier, type SceneDocument } from '../../src/scene/schema';
import { prepareBrute, type BruteReceiver } from './bruteIlluminance';
import { axesOf, onFace } from './poses';
import { randomScene, type RandomScene } from './randomScene';
import { drawFrom, type Draw } from './randomThings';
import { plus, size, unit, type Triple } from './vectors';

const MIRRORS = 2;
const RECEIVERS = 48;
const TRIES = 2000;
/** Receivers that a mirror has to reach. */
export const LEAST_REACHED = 12;
const SURFACES = ['floor', 'back', 'side', 'face'];

function pointOn(draw: Draw, document: SceneDocument): BruteReceiver {
  const surfaceId = draw.one(SURFACES);
  const surface = document.surfaces[surfaceId]!;
  const axes = axesOf(surface.pose);
  const { shape } = surface;
  const [width, height] = shape.kind === 'rectangle' ? [shape.widthM, shape.heightM] : [1, 1];
  const pointM = onFace(axes, draw.between(0.02, 0.98) * width, draw.between(0.02, 0.98) * height);
  return { pointM, normal: axes.out, surfaceId };
}

/** A mirror that throws the light of one of the lamps on one of the surfaces. */
function mirrorFor(draw: Draw, document: SceneDocument, place: Triple): Modifier {
  const lamps = Object.values(document.setups[0]!.sources).filter((source) => source.type === 'lamp');
  const lamp = draw.one(lamps);
  const towards = (at: Triple): Triple => unit(plus(at, place, -1));
  const target = pointOn(draw, document).pointM;
  const normal = unit(plus(towards(lamp.pose.positionM), towards(target)));
  return {
    name: 'Mirror',
    pose: {
      positionM: [...place],
      aim: { atM: [...plus(place, normal)] as [number, number, number], rollDeg: draw.between(-180, 180) },
    },
    shape: draw.chance(0.5)
      ? { kind: 'rectangle', widthM: draw.between(0.4, 1.5), heightM: draw.between(0.4, 1.5) }
      : { kind: 'disc', diameterM: draw.between(0.5, 1.5) },
    material: { kind: 'mirror', reflectance: draw.between(0.6, 0.95) },
  };
}

/**
 * The random scene of a seed with two mirrors in it, hung anew until they reach enough receivers; the same seed always
 * gives the same scene.
 */
export function mirrorScene(seed: number): RandomScene {
  const plain = randomScene(seed);
  const draw = drawFrom(seed + 7000);
  let scene = withMirrors(plain, draw);
  while (scene.inPenumbra < LEAST_REACHED) scene = withMirrors(plain, draw);
  return scene;
}

function withMirrors({ document: plain, setupId }: RandomScene, draw: Draw): RandomScene {
  const setup = plain.setups[0]!;
  const lamps = Object.values(setup.sources).flatMap((source) =>
    source.type === 'lamp' ? [source.pose.positionM] : [],
  );
  const mirrors: Record<string, Modifier> = {};
  for (let i = 0; i < MIRRORS; i++) {
    let place: Triple;
    // No mirror hangs inside a globe or a tube.
    do place = pointOn(draw, plain).pointM.map((x) => x + draw.between(-1, 1)) as unknown as Triple;
    while (lamps.some((at) => size(plus(at, place, -1)) < 1.6));
    mirrors[`mirror${i + 1}`] = mirrorFor(draw, plain, place);
  }
  const document = sceneSchema.parse({
    ...plain,
    setups: [{ ...setup, modifiers: { ...setup.modifiers, ...mirrors } }],
  });
  const off = prepareBrute(document, setupId, 64, 5);
  const without = prepareBrute(plain, setupId, 64, 5);
  const reached: BruteReceiver[] = [];
  const others: BruteReceiver[] = [];
  for (let i = 0; i < TRIES && (reached.length < RECEIVERS / 2 || others.length < RECEIVERS / 2); i++) {
    const receiver = pointOn(draw, document);
    const before = without.illuminanceLx(receiver);
    const gains = off.illuminanceLx(receiver).some((lux, s) => lux > before[s]! + 1);
    const list = gains ? reached : others;
    if (list.length < RECEIVERS / 2) list.push(receiver);
  }
  return { document, setupId, receivers: [...reached, ...others], inPenumbra: reached.length };
}

/**
 * Random scenes with a slatted blind on both windows: shut, open, level, turned inside out, hung in the reveal or in the
 * room; behind panes of glass by their refraction and absorption; and receivers of which most stand where slats hide part of a source.
 */
import { sceneSchema, type Opening, type SceneDocument } from '../../src/scene/schema';
import { prepareBrute, type BruteReceiver } from './bruteIlluminance';
import { axesOf, onFace } from './poses';
import { randomScene, type RandomScene } from './randomScene';
import { drawFrom, type Draw } from './randomThings';

const RECEIVERS = 32;
const TRIES = 4000;
/** Receivers that see part of a source past the slats, and part of it hidden by them. */
export const LEAST_SHADED = 16;
const SURFACES = ['floor', 'floor', 'back', 'face', 'desk'];
/** Grip that is left in the scene: more would hide the windows. */
const MOST_GRIP = 3;

function withBlind(draw: Draw, opening: Opening, thicknessM: number): Opening {
  const slatWidthM = draw.between(0.025, 0.12);
  const tiltDeg = draw.one([0, 90, draw.between(-80, 80), draw.between(-30, 60), draw.between(90, 270)]);
  const hangs = draw.one(['absent', 'reveal', 'room'] as const);
  const depthM = hangs === 'room' ? -draw.between(0.02, 0.2) : draw.between(0, 1) * thicknessM;
  const bare = opening.window ?? { columns: 1, rows: 1, barWidthM: 0 };
  const window = draw.chance(0.6) ? { ...bare, glass: randomGlass(draw) } : bare;
  const pitchM = slatWidthM * draw.between(0.7, 1.6);
  return {
    ...opening,
    window: { ...window, blind: { pitchM, slatWidthM, tiltDeg, ...(hangs === 'absent' ? {} : { depthM }) } },
  };
}

const randomGlass = (draw: Draw) => ({
  refractiveIndex: draw.between(1, 1.9),
  ...(draw.chance(0.7) ? { absorptionPerM: draw.between(0, 60) } : {}),
  ...(draw.chance(0.7) ? { thicknessM: draw.between(0.002, 0.03) } : {}),
});

function pointOn(draw: Draw, document: SceneDocument): BruteReceiver {
  const surfaceId = draw.one(SURFACES);
  const { pose, shape } = document.surfaces[surfaceId]!;
  const axes = axesOf(pose);
  const [width, height] = shape.kind === 'rectangle' ? [shape.widthM, shape.heightM] : [0.4, 0.3];
  const pointM = onFace(axes, draw.between(0.02, 0.98) * width, draw.between(0.02, 0.98) * height);
  return { pointM, normal: axes.out, surfaceId };
}

/** The random scene of a seed with blinds in it, drawn anew until they shade enough receivers. */
export function blindScene(seed: number): RandomScene {
  const plain = randomScene(seed);
  const draw = drawFrom(seed + 9000);
  let scene = withBlinds(plain, draw);
  while (scene.inPenumbra < LEAST_SHADED) scene = withBlinds(plain, draw);
  return scene;
}

function withBlinds({ document: plain, setupId }: RandomScene, draw: Draw): RandomScene {
  const setup = plain.setups[0]!;
  const wall = plain.surfaces.side!;
  const openings = Object.fromEntries(
    Object.entries(wall.openings!).map(([id, opening]) => [id, withBlind(draw, opening, wall.thicknessM!)]),
  );
  const modifiers = Object.fromEntries(Object.entries(setup.modifiers).slice(0, MOST_GRIP));
  const sparse = { ...plain, setups: [{ ...setup, modifiers }] };
  const document = sceneSchema.parse({ ...sparse, surfaces: { ...plain.surfaces, side: { ...wall, openings } } });
  const behind = prepareBrute(document, setupId, 256, 5);
  const without = prepareBrute(sparse, setupId, 256, 5);
  const shaded: BruteReceiver[] = [];
  const others: BruteReceiver[] = [];
  for (let i = 0; i < TRIES && shaded.length < (2 * RECEIVERS) / 3; i++) {
    const receiver = pointOn(draw, document);
    const before = without.illuminanceLx(receiver);
    const part = behind.illuminanceLx(receiver).some((lux, s) => lux > 0.02 * before[s]! && lux < 0.98 * before[s]!);
    if (part) shaded.push(receiver);
    else if (others.length < RECEIVERS / 3) others.push(receiver);
  }
  return { document, setupId, receivers: [...shaded, ...others], inPenumbra: shaded.length };
}

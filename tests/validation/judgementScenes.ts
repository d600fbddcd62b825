/** The scenes behind the judgement's check values, as documents. Walls in the plane x = 0 face +x: right is +y, up +z. */
import type { Lamp, Modifier, SceneDocument, Source, Surface } from '../../src/scene/schema';
import type { SunCheck } from '../../src/sim/results';
import { judgeSun } from '../../src/sim/judgement/judgeSun';
import { compileScene } from '../../src/sim/solve/compileScene';
import { facing, glowing, lamp, pointLamp, sceneOf, SETUP, sheetAcrossX } from './scenes';

type Point = [number, number, number];
export const WALL_ID = 'wall';
const LAMP_ID = 'lamp';

/** The wall x = 0 from y0 to y1 and z0 to z1, lit from +x. */
export const wallX0 = (y0: number, y1: number, z0: number, z1: number): Surface => ({
  name: 'Wall',
  kind: 'wall',
  pose: facing([0, y0, z0], 90, 0),
  shape: { kind: 'rectangle', widthM: y1 - y0, heightM: z1 - z0 },
});
/** A thin strip of that wall about z = 0. */
export const strip = (y0: number, y1: number): Surface => wallX0(y0, y1, -0.0005, 0.0005);

export interface JudgedParts {
  readonly source: Source;
  readonly wall: Surface;
  readonly modifiers?: Record<string, Modifier>;
  readonly surfaces?: Record<string, Surface>;
  readonly story?: SceneDocument['story'];
}
export function judgedScene({ source, wall, modifiers = {}, surfaces = {}, story }: JudgedParts): SceneDocument {
  const scene = sceneOf({ sources: { [LAMP_ID]: source }, modifiers, surfaces: { [WALL_ID]: wall, ...surfaces } });
  return story ? { ...scene, story } : scene;
}
/** The judgement of that one source on that wall. */
export function judged(parts: JudgedParts): SunCheck {
  const scene = compileScene(judgedScene(parts), SETUP);
  return judgeSun(scene, scene.sources[0]!, scene.surfaces.get(WALL_ID)!);
}

/** A plain net that covers x0..x1 in the plane y = `y`, as tall as the scene. */
export const plainNetAcrossY = (y: number, x0: number, x1: number, stops: number, z = 0): Modifier => ({
  name: 'Net',
  pose: facing([(x0 + x1) / 2, y, z], 0, 0),
  shape: { kind: 'rectangle', widthM: x1 - x0, heightM: 20 },
  material: { kind: 'net', stops, weave: 'plain' },
});

export const isotropic = (at: Point): Lamp => pointLamp(at, 1000);
export const disc = (at: Point, lookAt: Point, diameterM: number, candela: number): Lamp =>
  lamp(
    { positionM: at, aim: { atM: lookAt } },
    { shape: 'disc', diameterM },
    { kind: 'lambertian' },
    { kind: 'candela', candela },
  );

/** Scene N: a lens of 0.18 m throws the window 0.70 x 1.00 m (2 x 3 panes, 40 mm bars, thin wall y = 0) on the wall x = 0. */
const N_LAMP: Point = [3, -5.5, 3.2];
const N_AIM: Point = [0, 1.5, 1.2];
const N_WALL_REACH_M = 10;
/** The thin wall y = 0 faces +y: its right is -x, so the opening x 0.25 to 0.95 is measured from x = +10. */
export const wallWithOpeningY0 = (x0: number, x1: number, z0: number, z1: number, bars: boolean): Surface => ({
  name: 'Window wall',
  kind: 'wall',
  pose: facing([N_WALL_REACH_M, 0, -N_WALL_REACH_M], 0, 0),
  shape: { kind: 'rectangle', widthM: 2 * N_WALL_REACH_M, heightM: 2 * N_WALL_REACH_M },
  openings: {
    window: {
      leftM: N_WALL_REACH_M - x1,
      sillM: N_WALL_REACH_M + z0,
      shape: { kind: 'rectangle', widthM: x1 - x0, heightM: z1 - z0 },
      ...(bars ? { window: { columns: 2, rows: 3, barWidthM: 0.04 } } : {}),
    },
  },
});
export const sceneN = (nets: Record<string, Modifier> = {}, bars = true): JudgedParts => ({
  source: disc(N_LAMP, N_AIM, 0.18, 60_000),
  wall: wallX0(0.3, 3, 0, 2.4),
  surfaces: { 'window-wall': wallWithOpeningY0(0.25, 0.95, 1.2, 2.2, bars) },
  modifiers: nets,
});
/** Two plain singles in the plane y = -4 with free edges at x = 2.3233 and 2.4040, covering smaller x. */
export const netsOfN = (): Record<string, Modifier> => ({
  'net-a': plainNetAcrossY(-4, -2, 2.3233, 0.5),
  'net-b': plainNetAcrossY(-4, -2, 2.404, 0.5),
});
/** The real sun from the direction of scene N's lamp. */
export function sunOfN(): JudgedParts {
  const [dx, dy, dz] = [N_LAMP[0] - N_AIM[0], N_LAMP[1] - N_AIM[1], N_LAMP[2] - N_AIM[2]];
  const source: Source = {
    type: 'sun',
    name: 'Sun',
    altitudeDeg: (Math.atan2(dz, Math.hypot(dx, dy)) * 180) / Math.PI,
    azimuthDeg: (Math.atan2(dx, dy) * 180) / Math.PI,
    normalIlluminanceLx: 60_000,
  };
  return { ...sceneN(), source };
}

/** Scene M: the wall strip 2.4 x 0.6 m under a Lambertian disc of 0.06 m, no openings. */
export const sceneM = (nets: Record<string, Modifier> = {}): JudgedParts => ({
  source: disc([1.4, -3.6, 2.6], [0, 1.2, 1.5], 0.06, 30_000),
  wall: wallX0(0, 2.4, 1.2, 1.8),
  modifiers: nets,
});

/** A wall square-on to a lamp on the x axis, and a sheet between them that covers y < 0. */
export function halfCovered(
  lampParts: Lamp,
  sheetM: number,
  material: Modifier['material'],
  reachM: number,
): JudgedParts {
  const sheet = sheetAcrossX([sheetM, -reachM, 0], 2 * reachM, 4, material);
  return { source: lampParts, wall: wallX0(-reachM * 0.8, reachM * 0.8, -0.15, 0.15), modifiers: { sheet } };
}
/** A Lambertian disc on the x axis that looks at the wall x = 0. */
export const discOnAxis = (distanceM: number, diameterM: number, turnDeg = 0): Lamp =>
  glowing(facing([distanceM, 0, 0], 270 + turnDeg, 0), { shape: 'disc', diameterM }, 100_000);

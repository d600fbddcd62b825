/** Scenes to start from: bare ground, a wall and a floor, a room with a window, a window and a wall it throws light on. */
import { emptyScene } from '../../scene/emptyScene';
import { frameFromPose, worldFromLocal } from '../../scene/geometry/frames';
import { add, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import { applyCommand, type Command } from '../../scene/commands';
import type { Point2, SceneDocument } from '../../scene/schema';
import { newLamp } from '../newThings';
import { tuple } from '../tools/things';
import { drawnCommand, FIRST_SETTINGS, openingCommand } from '../tools/draw/drawnThings';

export type StartKind = 'bare' | 'wallAndFloor' | 'room' | 'windowAndWall';

/** Figures of a start, metres. */
export interface StartFigures {
  readonly widthM: number;
  readonly depthM: number;
  readonly heightM: number;
  readonly windowWidthM: number;
  readonly windowHeightM: number;
  readonly sillM: number;
  /** Which wall the window throws its light on. */
  readonly lit: 'facing' | 'beside';
  /** From the lens to the window. */
  readonly lampDistanceM: number;
}
export const FIRST_FIGURES: StartFigures = {
  widthM: 5,
  depthM: 4,
  heightM: 3,
  windowWidthM: 1.2,
  windowHeightM: 1.5,
  sillM: 0.9,
  lit: 'beside',
  lampDistanceM: 6,
};

function bare(name: string): SceneDocument {
  return { ...emptyScene(name), surfaces: {} };
}

/** @throws {Error} where the figures give no sound scene; the dialog keeps them within bounds that do */
function done(scene: SceneDocument, command: Command): SceneDocument {
  const result = applyCommand(scene, command);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
}

/** Corners anti-clockwise from the origin: the wall to the south first, then east, north, west. */
const corners = ({ widthM, depthM }: StartFigures): Point2[] => [
  [0, 0],
  [widthM, 0],
  [widthM, depthM],
  [0, depthM],
];
const WALL_NAMES = ['South wall', 'East wall', 'North wall', 'West wall'] as const;

function room(figures: StartFigures, name: string): SceneDocument {
  const settings = {
    ...FIRST_SETTINGS,
    heightM: figures.heightM,
    openingWidthM: figures.windowWidthM,
    openingHeightM: figures.windowHeightM,
    sillM: figures.sillM,
  };
  let scene = bare(name);
  const walls = drawnCommand(scene, 'walls', { corners: corners(figures), isClosed: true }, settings);
  if (!walls.ok) throw new Error(walls.fault);
  scene = done(scene, walls.command);
  WALL_NAMES.forEach((wallName, index) => {
    scene = done(scene, {
      type: 'patch',
      at: { kind: 'surface', id: `wall-${index + 1}` },
      fields: { name: wallName },
    });
  });
  const opening = openingCommand(scene, 'wall-1', 'window', figures.widthM / 2, settings);
  if (!opening.ok) throw new Error(opening.fault);
  return done(scene, opening.command);
}

/** Where on the lit wall the middle of the shaft should land, metres of its own. */
const TARGET_HEIGHT_M = 1.1;

const rounded = ([x, y, z]: Vec3): Vec3 => [Number(x.toFixed(2)), Number(y.toFixed(2)), Number(z.toFixed(2))];

/** A lamp outside, on the line from the middle of the lit wall through the middle of the window, that plays the sun. */
function withLampOutside(scene: SceneDocument, figures: StartFigures): SceneDocument {
  const surfaceId = figures.lit === 'facing' ? 'wall-3' : 'wall-2';
  const wall = scene.surfaces[surfaceId]!;
  const alongM = (figures.lit === 'facing' ? figures.widthM : figures.depthM) / 2;
  const target = worldFromLocal(frameFromPose(wall.pose), [alongM, TARGET_HEIGHT_M]);
  const middle: Vec3 = [figures.widthM / 2, 0, figures.sillM + figures.windowHeightM / 2];
  const out = normalise(subtract(middle, target));
  const at = rounded(add(middle, scale(out, figures.lampDistanceM)));
  const setupId = scene.setups[0]!.id;
  const lamp = {
    ...newLamp(scene, setupId, surfaceId),
    pose: { positionM: tuple(at), aim: { atM: tuple(rounded(target)) } },
  };
  return done(scene, {
    type: 'sequence',
    label: 'Place a lamp',
    commands: [
      { type: 'add', at: { kind: 'source', setupId, id: 'lamp-1' }, value: lamp },
      { type: 'patchScene', part: 'story', fields: { playsSun: [{ sourceId: 'lamp-1', surfaceId }] } },
    ],
  });
}

/** A scene to start from. @throws {Error} where the figures contradict each other, saying which */
export function startScene(kind: StartKind, figures: StartFigures): SceneDocument {
  switch (kind) {
    case 'bare':
      return bare('New scene');
    case 'wallAndFloor':
      return emptyScene();
    case 'room':
      return room(figures, 'New room');
    case 'windowAndWall':
      return withLampOutside(room(figures, 'New shaft'), figures);
  }
}

/** Why these figures give no room, or null. */
export function figuresFault({ widthM, heightM, windowWidthM, windowHeightM, sillM }: StartFigures): string | null {
  if (windowWidthM > widthM - 0.1) return 'The window is wider than its wall.';
  if (sillM + windowHeightM > heightM - 0.05) return 'Sill and window together are higher than the room.';
  return null;
}

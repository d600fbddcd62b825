/**
 * What opens but should be looked at: places that cannot be meant, and parts that the light leaves out. Only what the
 * document says by itself; that no light arrives somewhere is for the solver to say.
 */
import { openingRing, ringOf } from './invariants';
import { ringsOverlap, sideOfRing } from './outlines';
import { frameFromPose, localFromWorld, worldFromLocal, type Frame } from './geometry/frames';
import { dot } from './geometry/vector';
import { isOnSurface, modifierRing } from './placing';
import type { Modifier, Point3, SceneDocument, Setup, Surface } from './schema';
import { uncomputedInLamp, uncomputedInModifier, uncomputedInOpening, type UncomputedPart } from './uncomputed';

export type CautionKind =
  'insideWall' | 'underFloor' | 'inPlaneOfSurface' | 'sunBelowHorizon' | 'sunPlayerOff' | 'notComputed';
export interface Caution {
  readonly kind: CautionKind;
  /** The things to look at, the one to act on first. */
  readonly objectIds: readonly string[];
  readonly sentence: string;
}

/** Planes nearer than this, metres, count as one: the solver could not say which is in front. */
const SAME_PLANE_M = 0.001;
/** Sine of the angle up to which two planes count as parallel: a tenth of a degree. */
const PARALLEL_SINE = Math.sin((0.1 * Math.PI) / 180);

interface Placed {
  readonly id: string;
  readonly name: string;
  readonly positionM: Point3;
}

/** Lamps and meters of the setup, which have a place and no plane. */
function placedThings(document: SceneDocument, setup: Setup): Placed[] {
  const lamps = Object.entries(setup.sources).flatMap(([id, source]) =>
    source.type === 'lamp' ? [{ id, name: source.name, positionM: source.pose.positionM }] : [],
  );
  const meters = Object.entries(document.meters).map(([id, { name, positionM }]) => ({ id, name, positionM }));
  return [...lamps, ...meters];
}

function placeCautions(surfaceId: string, surface: Surface, things: readonly Placed[]): Caution[] {
  const axes = frameFromPose(surface.pose);
  const thicknessM = surface.thicknessM ?? 0;
  const openings = Object.values(surface.openings ?? {});
  return things.flatMap(({ id, name, positionM }): Caution[] => {
    const { right, up, above: inFrontM } = localFromWorld(axes, positionM);
    const inPlaneM = [right, up] as const;
    if (inFrontM >= -SAME_PLANE_M || !isOnSurface(surface, inPlaneM)) return [];
    if (inFrontM > -thicknessM + SAME_PLANE_M) {
      if (openings.some((opening) => sideOfRing(inPlaneM, openingRing(opening)) === 'inside')) return [];
      const sentence = `${name} stands inside the thickness of ${surface.name}. Move it out.`;
      return [{ kind: 'insideWall', objectIds: [id, surfaceId], sentence }];
    }
    if (surface.kind !== 'floor' || axes.forward[2] <= 0) return [];
    return [
      { kind: 'underFloor', objectIds: [id, surfaceId], sentence: `${name} is under ${surface.name}. Raise it.` },
    ];
  });
}

interface Piece {
  readonly id: string;
  readonly modifier: Modifier;
  readonly frame: Frame;
}

/** Whether a piece of grip lies in the plane of a face of the surface and over its material. */
function liesInFace({ modifier, frame: own }: Piece, surface: Surface, plane: Frame): boolean {
  const alongNormal = Math.abs(dot(own.forward, plane.forward));
  if (Math.sqrt(Math.max(0, 1 - alongNormal * alongNormal)) > PARALLEL_SINE) return false;
  const { above: inFrontM } = localFromWorld(plane, modifier.pose.positionM);
  const faces = surface.kind === 'readingPlane' ? [] : [0, -(surface.thicknessM ?? 0)];
  if (!faces.some((faceM) => Math.abs(inFrontM - faceM) < SAME_PLANE_M)) return false;
  const ring = modifierRing(modifier.shape).map((corner) => {
    const { right, up } = localFromWorld(plane, worldFromLocal(own, corner));
    return [right, up] as const;
  });
  return ringsOverlap(ring, ringOf(surface.shape));
}

function planeCautions(surfaceId: string, surface: Surface, pieces: readonly Piece[]): Caution[] {
  const plane = frameFromPose(surface.pose);
  return pieces.flatMap((piece): Caution[] => {
    if (!liesInFace(piece, surface, plane)) return [];
    const { id, modifier } = piece;
    const sentence = `${modifier.name} lies in the plane of ${surface.name}, so neither is in front. Move it 1 cm off.`;
    return [{ kind: 'inPlaneOfSurface', objectIds: [id, surfaceId], sentence }];
  });
}

function sunCautions(document: SceneDocument, setup: Setup): Caution[] {
  const below = Object.entries(setup.sources).flatMap(([id, source]): Caution[] =>
    source.type === 'sun' && source.altitudeDeg <= 0
      ? [
          {
            kind: 'sunBelowHorizon',
            objectIds: [id],
            sentence: `${source.name} is below the horizon and gives no light.`,
          },
        ]
      : [],
  );
  const players = new Set((document.story?.playsSun ?? []).map((pair) => pair.sourceId));
  const off = Object.entries(setup.sources).flatMap(([id, source]): Caution[] =>
    players.has(id) && (source.off === true || source.level === 0)
      ? [{ kind: 'sunPlayerOff', objectIds: [id], sentence: `${source.name} plays the sun and is off. Turn it on.` }]
      : [],
  );
  return [...below, ...off];
}

function partCautions(name: string, objectIds: readonly string[], parts: readonly UncomputedPart[]): Caution[] {
  return parts.map(({ words, many, but = `which ${many ? 'are' : 'is'} not computed yet` }) => ({
    kind: 'notComputed',
    objectIds,
    sentence: `${name} carries ${words}, ${but}.`,
  }));
}

function uncomputedCautions(document: SceneDocument, setup: Setup): Caution[] {
  const openings = Object.entries(document.surfaces).flatMap(([surfaceId, surface]) =>
    Object.entries(surface.openings ?? {}).flatMap(([id, opening]) =>
      partCautions(opening.name ?? `${surface.name}, ${id},`, [id, surfaceId], uncomputedInOpening(opening)),
    ),
  );
  const lamps = Object.entries(setup.sources).flatMap(([id, source]) =>
    source.type === 'lamp' ? partCautions(source.name, [id], uncomputedInLamp(source)) : [],
  );
  const modifiers = Object.entries(setup.modifiers).flatMap(([id, modifier]) =>
    partCautions(modifier.name, [id], uncomputedInModifier(modifier)),
  );
  return [...lamps, ...modifiers, ...openings];
}

/**
 * Cautions of one setup: misplaced things first, then what is not computed.
 * @returns empty when there are none, or no such setup
 */
export function findCautions(document: SceneDocument, setupId: string): Caution[] {
  const setup = document.setups.find(({ id }) => id === setupId);
  if (setup === undefined) return [];
  const things = placedThings(document, setup);
  const surfaces = Object.entries(document.surfaces);
  const pieces = Object.entries(setup.modifiers).map(([id, modifier]): Piece => {
    return { id, modifier, frame: frameFromPose(modifier.pose) };
  });
  return [
    ...surfaces.flatMap(([id, surface]) => placeCautions(id, surface, things)),
    ...surfaces.flatMap(([id, surface]) => planeCautions(id, surface, pieces)),
    ...sunCautions(document, setup),
    ...uncomputedCautions(document, setup),
  ];
}

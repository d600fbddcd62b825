/**
 * Light off mirrors, one reflection: a mirror shows every source before it once more, behind its plane and turned round
 * as reflections are. That image shines through the mirror's outline; what stands between the real source and the mirror
 * stands, reflected, between the image and the outline. Everything else about it is a source like any other.
 */
import type { Frame } from '../../scene/geometry/frames';
import { addScaled, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer, CompiledSource, ConvexPiece, EmitterShape, HardEdge } from './compiled';

/** What lies this near to a mirror's plane lies in it, m. */
const IN_PLANE_M = 1e-9;
/** Half the size of the dark plane round a mirror: beyond any scene's coordinates that light could cross it at, m. */
const ALL_ROUND_M = 2000;

/** A mirror's plane: `normal` points out of its shining face. */
export interface MirrorPlane {
  readonly id: string;
  readonly name: string;
  readonly frame: Frame;
  readonly reflectance: number;
  /** Its outline in convex pieces, and its edges, light passing inside. */
  readonly pieces: readonly ConvexPiece[];
  readonly edges: readonly HardEdge[];
  readonly role: BlockerLayer['role'];
}

type Blockers = { readonly layers: readonly BlockerLayer[]; readonly hardEdges: readonly HardEdge[] };

const heightOver = ({ frame }: MirrorPlane, point: Vec3): number => dot(frame.forward, subtract(point, frame.origin));
const turned = ({ frame }: MirrorPlane, direction: Vec3): Vec3 =>
  addScaled(direction, frame.forward, -2 * dot(frame.forward, direction));
const reflected = (mirror: MirrorPlane, point: Vec3): Vec3 =>
  addScaled(point, mirror.frame.forward, -2 * heightOver(mirror, point));

/** The part of a convex polygon that lies before the mirror's plane. */
function partBefore(mirror: MirrorPlane, corners: readonly Vec3[]): Vec3[] {
  const kept: Vec3[] = [];
  corners.forEach((from, i) => {
    const to = corners[(i + 1) % corners.length]!;
    const [a, b] = [heightOver(mirror, from), heightOver(mirror, to)];
    if (a > IN_PLANE_M) kept.push(from);
    if (a > IN_PLANE_M !== b > IN_PLANE_M) kept.push(addScaled(from, subtract(to, from), a / (a - b)));
  });
  return kept.length < 3 ? [] : kept;
}

/** What of a layer stands before the mirror; null where nothing does. */
function layerBefore(mirror: MirrorPlane, layer: BlockerLayer): BlockerLayer | null {
  const pieces = layer.pieces
    .map((piece): ConvexPiece => ({ ...piece, corners: partBefore(mirror, piece.corners) }))
    .filter((piece) => piece.corners.length > 0);
  return pieces.length > 0 ? { ...layer, pieces } : null;
}

const inMirror = (mirror: MirrorPlane, id: string): string => `${id} in ${mirror.id}`;

function reflectedLayer(mirror: MirrorPlane, layer: BlockerLayer): BlockerLayer {
  const { weave } = layer;
  return {
    ...layer,
    id: inMirror(mirror, layer.id),
    ownSurfaceId: null,
    origin: reflected(mirror, layer.origin),
    normal: turned(mirror, layer.normal),
    // A reflection turns the corners' sense round.
    pieces: layer.pieces.map((piece) => ({
      ...piece,
      corners: piece.corners.map((corner) => reflected(mirror, corner)).reverse(),
    })),
    weave: weave && { ...weave, frame: reflectedFrame(mirror, weave.frame) },
  };
}

const reflectedFrame = (mirror: MirrorPlane, frame: Frame): Frame => ({
  origin: reflected(mirror, frame.origin),
  right: turned(mirror, frame.right),
  up: turned(mirror, frame.up),
  forward: turned(mirror, frame.forward),
});

/** Dark all round the mirror's outline, in its plane. */
function outlineLayer({ id, frame, pieces, role }: MirrorPlane): BlockerLayer {
  const corner = (x: number, y: number): Vec3 =>
    addScaled(addScaled(frame.origin, frame.right, x * ALL_ROUND_M), frame.up, y * ALL_ROUND_M);
  const all = { corners: [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)], hole: false };
  return {
    id: `${id} outline`,
    ownSurfaceId: null,
    onlySourceId: null,
    role,
    origin: frame.origin,
    normal: frame.forward,
    opacity: 1,
    weave: null,
    pieces: [all, ...pieces.map((piece) => ({ ...piece, hole: !piece.hole }))],
  };
}

function edgeBefore(mirror: MirrorPlane, edge: HardEdge): HardEdge | null {
  const [a, b] = [heightOver(mirror, edge.from), heightOver(mirror, edge.to)];
  if (a <= IN_PLANE_M && b <= IN_PLANE_M) return null;
  const along = subtract(edge.to, edge.from);
  const cut = addScaled(edge.from, along, a / (a - b));
  return { ...edge, from: a > IN_PLANE_M ? edge.from : cut, to: b > IN_PLANE_M ? edge.to : cut };
}

const reflectedEdge = (mirror: MirrorPlane, edge: HardEdge): HardEdge => ({
  ...edge,
  from: reflected(mirror, edge.from),
  to: reflected(mirror, edge.to),
  open: turned(mirror, edge.open),
  layerId: inMirror(mirror, edge.layerId),
  openingId: null,
  label: `${edge.label} in ${mirror.name}`,
});

/** Scene blockers as seen through a mirror: those before it, and their reflections behind it. */
function unfolded(mirror: MirrorPlane, blockers: Blockers, sourceId: string): Blockers {
  const own = (id: string | null): boolean => id === null || id === sourceId;
  const before = blockers.layers
    .filter((layer) => layer.id !== mirror.id && own(layer.onlySourceId))
    .flatMap((layer) => layerBefore(mirror, layer) ?? []);
  const edges = blockers.hardEdges.flatMap((edge) => edgeBefore(mirror, edge) ?? []);
  return {
    layers: [
      // What hangs in a lamp's slot acts on the way to the mirror, not on the way from it.
      ...before.filter((layer) => layer.onlySourceId === null),
      outlineLayer(mirror),
      ...before.map((layer) => reflectedLayer(mirror, layer)),
    ],
    hardEdges: [
      ...edges,
      ...mirror.edges.map((edge) => ({ ...edge, layerId: `${mirror.id} outline` })),
      ...edges.map((edge) => reflectedEdge(mirror, edge)),
    ],
  };
}

/** How far an emitter reaches from its middle along a unit direction, m; for the sun a direction cosine. */
function reachAlong({ shape, frame }: CompiledSource, direction: Vec3): number {
  const right = Math.abs(dot(frame.right, direction));
  const up = Math.abs(dot(frame.up, direction));
  switch (shape.kind) {
    case 'point':
      return 0;
    case 'disc':
      return shape.radiusM * Math.hypot(right, up);
    case 'sun':
      return shape.tangentRadius * Math.hypot(right, up);
    case 'rectangle':
      return shape.halfWidthM * right + shape.halfHeightM * up;
    case 'tube':
      return shape.halfLengthM * right + shape.radiusM;
    case 'sphere':
      return shape.radiusM;
  }
}

/** A tube's lit side turns over with it. */
const imageShape = (shape: EmitterShape, mirror: MirrorPlane): EmitterShape =>
  shape.kind === 'tube' && shape.lit
    ? { ...shape, lit: { ...shape.lit, middle: turned(mirror, shape.lit.middle) } }
    : shape;

/**
 * The image of a source in a mirror, under the source's own id; null for a source behind the mirror's face.
 * @remarks Light that two mirrors send on one after the other is left out, and so is the glass's doubled edge.
 */
export function imageOf(source: CompiledSource, mirror: MirrorPlane, blockers: Blockers): CompiledSource | null {
  const isSun = source.shape.kind === 'sun';
  const { frame } = source;
  const facing = isSun ? dot(mirror.frame.forward, frame.origin) : heightOver(mirror, frame.origin);
  if (facing + reachAlong(source, mirror.frame.forward) <= IN_PLANE_M || mirror.reflectance === 0) return null;
  const image = reflectedFrame(mirror, frame);
  return {
    ...source,
    shape: imageShape(source.shape, mirror),
    frame: isSun ? { ...image, origin: turned(mirror, frame.origin) } : image,
    peakCandela: source.peakCandela * mirror.reflectance,
    image: {
      mirrorId: mirror.id,
      origin: mirror.frame.origin,
      normal: mirror.frame.forward,
      ...unfolded(mirror, blockers, source.id),
    },
  };
}

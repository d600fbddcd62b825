/**
 * What stands at a lamp's front and cuts its light alone: the rim of a lens, the ring that barn doors hang from and their
 * leaves, a snoot. All opaque, all plane: layers like any other.
 */
import { blackenedM } from '../../scene/blackEdges';
import type { Lamp, Point2 } from '../../scene/schema';
import { cosDeg, frameFromPose, sinDeg, worldFromLocal, type Frame } from '../../scene/geometry/frames';
import { add, addScaled, cross, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import { areaMatchedCircle } from '../geometry/convexPieces';
import type { BlockerLayer, HardEdge } from './compiled';
import { slotsOf } from './lampScrims';
import { rectangleOutline } from './shapes';

type Accessory = NonNullable<Lamp['accessories']>[number];
type Doors = Extract<Accessory, { kind: 'barnDoors' }>;

/** Doors and snoots sit this far before the lens, or before the outermost scrim, m (common practice, no source). */
const MOUNT_AHEAD_M = 0.01;
/** Half the size of the ring that doors hang from on a lamp that has no front of its own (a point), m. */
const POINT_RING_M = 0.1;
/** Corners that stand for a round rim; its area is exact, its radius within 0.04 %. */
const RIM_CORNERS = 96;
/** The dark round a hole: so wide that no ray of the scene passes beside it, m. */
const REACH_M = 20_000;
const ALL_ROUND = rectangleOutline(-REACH_M, -REACH_M, 2 * REACH_M, 2 * REACH_M);

/** Half sizes of a lamp's front along its right and up. */
interface Front {
  readonly round: boolean;
  readonly halfWidthM: number;
  readonly halfHeightM: number;
}
export interface FrontParts {
  readonly layers: readonly BlockerLayer[];
  readonly hardEdges: readonly HardEdge[];
}

/** The opening that the light leaves by; null for tubes, globes and bare points, which shine all round. */
function frontOf({ emitter, distribution }: Pick<Lamp, 'emitter' | 'distribution'>): Front | null {
  const round = (radiusM: number): Front => ({ round: true, halfWidthM: radiusM, halfHeightM: radiusM });
  if (distribution.kind === 'lensed') return round(distribution.lensDiameterM / 2);
  switch (emitter.shape) {
    case 'point':
      return distribution.kind === 'uniform' ? null : round(POINT_RING_M);
    case 'disc':
      return round(emitter.diameterM / 2);
    case 'rectangle':
      return { round: false, halfWidthM: emitter.widthM / 2, halfHeightM: emitter.heightM / 2 };
    default:
      return null;
  }
}

/** True where doors, snoot and egg crate have a front to sit on. */
export const hasFront = (lamp: Pick<Lamp, 'emitter' | 'distribution'>): boolean => frontOf(lamp) !== null;

const isMounted = ({ kind }: Accessory): boolean => kind === 'barnDoors' || kind === 'snoot';

/** How far before the lens doors and snoot sit, m; null for a lamp without them. */
function mountM(lamp: Lamp): number | null {
  if (!hasFront(lamp) || !(lamp.accessories ?? []).some(isMounted)) return null;
  return MOUNT_AHEAD_M + slotsOf(lamp).reduce((most, { slotM }) => Math.max(most, slotM), 0);
}

/**
 * How far before its lens (or face) a lamp's light is out in the open, m: what is nearer is the lamp's own body, which
 * holds half scrims and doors, lets nothing out sideways between the lens and them, and ends where its snoot ends.
 */
export function outletM(lamp: Lamp): number {
  const mount = mountM(lamp);
  if (mount !== null) return mount + Math.max(0, ...snootsOf(lamp).map(({ lengthM }) => lengthM));
  const halves = slotsOf(lamp).filter(({ scrim }) => scrim.half !== undefined);
  return halves.reduce((most, { slotM }) => Math.max(most, slotM), 0);
}

const snootsOf = ({ accessories = [] }: Lamp): Extract<Accessory, { kind: 'snoot' }>[] =>
  accessories.filter((accessory) => accessory.kind === 'snoot');

/** Makes layers that cut one lamp's light. */
class Builder {
  readonly layers: BlockerLayer[] = [];
  readonly hardEdges: HardEdge[] = [];
  private readonly sourceId: string;

  constructor(sourceId: string) {
    this.sourceId = sourceId;
  }

  private addLayer(id: string, frame: Frame, pieces: BlockerLayer['pieces']): void {
    this.layers.push({
      id,
      ownSurfaceId: null,
      onlySourceId: this.sourceId,
      role: 'cut',
      origin: frame.origin,
      normal: frame.forward,
      opacity: 1,
      weave: null,
      pieces,
    });
  }

  private addEdge(id: string, label: string, from: Vec3, to: Vec3, open: Vec3): void {
    this.hardEdges.push({ from, to, open, layerId: id, role: 'cut', openingId: null, label });
  }

  /** Dark all round a hole in the plane `aheadM` before the lens. */
  addRing(label: string, lens: Frame, aheadM: number, hole: readonly Point2[]): void {
    const id = `${this.sourceId} ${label}`;
    const frame = { ...lens, origin: addScaled(lens.origin, lens.forward, aheadM) };
    const place = (outline: readonly Point2[]): Vec3[] => outline.map((corner) => worldFromLocal(frame, corner));
    const corners = place(hole);
    this.addLayer(id, frame, [
      { corners: place(ALL_ROUND), hole: false },
      { corners, hole: true },
    ]);
    corners.forEach((from, i) => {
      const to = corners[(i + 1) % corners.length]!;
      this.addEdge(id, label, from, to, normalise(cross(frame.forward, subtract(to, from))));
    });
  }

  addLeaf(label: string, hinge: Vec3, along: Vec3, out: Vec3, widthM: number, lengthM: number): void {
    const id = `${this.sourceId} ${label}`;
    const half = scale(along, widthM / 2);
    const tip = addScaled(hinge, out, lengthM);
    const corners = [subtract(hinge, half), add(hinge, half), add(tip, half), subtract(tip, half)] as const;
    const normal = cross(along, out);
    this.addLayer(id, { origin: hinge, right: along, up: out, forward: normal }, [{ corners, hole: false }]);
    this.addEdge(id, label, corners[1], corners[2], along);
    this.addEdge(id, label, corners[2], corners[3], out);
    this.addEdge(id, label, corners[3], corners[0], scale(along, -1));
  }
}

/** Leaves hang from the ring's edge at their turn; open 0 lies shut over the front, 90 points ahead, 180 is folded flat out. */
function addDoors(builder: Builder, doors: Doors, lens: Frame, front: Front, aheadM: number): void {
  const [halfWidthM, halfHeightM] = [front.halfWidthM + aheadM, front.halfHeightM + aheadM];
  const hole = front.round
    ? areaMatchedCircle(halfWidthM, RIM_CORNERS)
    : rectangleOutline(-halfWidthM, -halfHeightM, 2 * halfWidthM, 2 * halfHeightM);
  builder.addRing('door ring', lens, aheadM, hole);
  const centre = addScaled(lens.origin, lens.forward, aheadM);
  doors.leaves.forEach(({ turnDeg, openDeg, lengthM }, index) => {
    const [c, s] = [cosDeg(turnDeg), sinDeg(turnDeg)];
    // Turn runs from the right to the top as seen from behind the lamp, where the frame's right is the left.
    const aside = addScaled(scale(lens.right, -c), lens.up, s);
    const along = addScaled(scale(lens.right, s), lens.up, c);
    const reachM = front.round ? halfWidthM : halfWidthM * Math.abs(c) + halfHeightM * Math.abs(s);
    const wideM = front.round ? halfWidthM : halfWidthM * Math.abs(s) + halfHeightM * Math.abs(c);
    const out = addScaled(scale(aside, -cosDeg(openDeg)), lens.forward, sinDeg(openDeg));
    builder.addLeaf(`door ${index + 1}`, addScaled(centre, aside, reachM), along, out, 2 * wideM, lengthM);
  });
}

/**
 * @returns what a lamp's own front cuts from its light
 * @remarks A snoot is the holes at its two ends: a cylinder is convex, so a straight ray that passes both ends passes all
 *   of it, and black walls give nothing back. Leaves are as wide as the ring they hang from, and have no thickness; what
 *   their inner faces throw back is left out.
 */
export function lampFront(sourceId: string, lamp: Lamp): FrontParts {
  const builder = new Builder(sourceId);
  const lens = frameFromPose(lamp.pose);
  const front = frontOf(lamp);
  if (lamp.distribution.kind === 'lensed') {
    const openM = lamp.distribution.lensDiameterM / 2 - blackenedM(lamp).ringM;
    builder.addRing('lens rim', lens, 0, areaMatchedCircle(openM, RIM_CORNERS));
  }
  const aheadM = mountM(lamp);
  if (front === null || aheadM === null) return builder;
  for (const accessory of lamp.accessories ?? []) {
    if (accessory.kind === 'barnDoors') addDoors(builder, accessory, lens, front, aheadM);
  }
  for (const { diameterM, lengthM } of snootsOf(lamp)) {
    const hole = areaMatchedCircle(diameterM / 2, RIM_CORNERS);
    builder.addRing('snoot', lens, aheadM, hole);
    builder.addRing('snoot end', lens, aheadM + lengthM, hole);
  }
  return builder;
}

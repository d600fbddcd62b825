/**
 * Where a solid flag must stand so that no part of a lamp's face sees what must stay dark: the edge on the line from the
 * far rim of the lens to the dark line (similar triangles), the cloth over every other ray to the dark part.
 */
import { frameFromPose, panTiltFromDirection, type Frame } from '../../scene/geometry/frames';
import { add, addScaled, dot, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { CompiledSource } from '../solve/compiled';

/** Cloth beyond the rays that it must stop, m; none at the edge that makes the cut. */
const MARGIN_M = 0.02;
const RIM_POINTS = 48;
/** Rays flatter than this to the flag's plane never meet it within a set. */
const LEAST_DEPTH_M = 0.01;

export type FlagSide = 'right' | 'top' | 'left' | 'bottom';
/** A plane across the light with the flag's needed cloth in it. */
export interface FlagPlace {
  /** Axes of the flag, facing the lamp; the origin is where the ray to the dark part crosses the plane. */
  readonly frame: Frame;
  readonly panDeg: number;
  readonly tiltDeg: number;
  readonly rollDeg: number;
  /** The side of the flag, seen from its face, whose edge makes the cut. */
  readonly cutSide: FlagSide;
  /** Needed cloth in the frame's axes, m from its origin; the cut's own edge without margin. */
  readonly leftM: number;
  readonly rightM: number;
  readonly bottomM: number;
  readonly topM: number;
  /** Room on the plane between the cut and the nearest wanted ray from the lens' centre, m; negative where it cuts in. */
  readonly roomM: number;
}

/** Places of the emitter's rim that stand for all of its face, as seen down the beam. */
export function rimOfEmitter({ shape, frame }: CompiledSource): Vec3[] {
  const at = (x: number, y: number): Vec3 => addScaled(addScaled(frame.origin, frame.right, x), frame.up, y);
  switch (shape.kind) {
    case 'point':
    case 'sun':
      return [frame.origin];
    case 'rectangle':
      return [-1, 1].flatMap((x) => [-1, 1].map((y) => at(x * shape.halfWidthM, y * shape.halfHeightM)));
    case 'tube':
      return [-1, 1].flatMap((x) => [-1, 1].map((y) => at(x * shape.halfLengthM, y * shape.radiusM)));
    case 'disc':
    case 'sphere': {
      // Of a polygon round the circle, so that nothing of the face looks past.
      const radius = shape.radiusM / Math.cos(Math.PI / RIM_POINTS);
      return Array.from({ length: RIM_POINTS }, (_, i) => {
        const turn = (2 * Math.PI * i) / RIM_POINTS;
        return at(radius * Math.cos(turn), radius * Math.sin(turn));
      });
    }
  }
}

type Flat = readonly [right: number, up: number];
/** Where rays from a place to others cross the plane of a frame, in its axes; null for a ray that does not. */
function crossing(frame: Frame, from: Vec3, to: Vec3): Flat | null {
  const depth = dot(frame.forward, subtract(from, frame.origin));
  const beyond = -dot(frame.forward, subtract(to, frame.origin));
  if (depth <= 0 || beyond < LEAST_DEPTH_M) return null;
  const at = subtract(addScaled(from, subtract(to, from), depth / (depth + beyond)), frame.origin);
  return [dot(at, frame.right), dot(at, frame.up)];
}

const along = ([x, y]: Flat, [a, b]: Flat): number => x * a + y * b;

/** The direction across the plane, square to one of the edges, that parts dark from wanted with the most room. */
function cutAcross(dark: readonly Flat[], wanted: readonly Flat[], edges: readonly Flat[]): Flat {
  const room = (way: Flat): number =>
    Math.min(...wanted.map((place) => along(place, way))) - Math.max(...dark.map((place) => along(place, way)));
  const ways = edges.flatMap(([x, y]): Flat[] => [
    [-y, x],
    [y, -x],
  ]);
  if (wanted.length === 0) return ways[0]!;
  return ways.reduce((best, way) => (room(way) > room(best) + 1e-9 ? way : best));
}

const SIDES: readonly FlagSide[] = ['right', 'top', 'left', 'bottom'];

/**
 * @param dark places that must stay dark, those at its border among them
 * @param wanted places whose light is wanted
 * @param borders straight borders of the dark part, as pairs of places: the cut runs along one of them
 * @param rim places of the emitter that the dark part must not see: its rim, or its centre for half light at the line
 * @returns the place, or null where part of what must be dark lies nearer than the flag
 */
export function placeFlag(
  lens: Vec3,
  rim: readonly Vec3[],
  dark: readonly Vec3[],
  wanted: readonly Vec3[],
  borders: readonly (readonly [Vec3, Vec3])[],
  distanceM: number,
): FlagPlace | null {
  const middle = scale(dark.reduce(add, [0, 0, 0] as Vec3), 1 / dark.length);
  const towards = normalise(subtract(lens, middle));
  const origin = addScaled(lens, towards, -distanceM);
  const aim = panTiltFromDirection(towards);
  const level = frameFromPose({ positionM: [...origin], aim });
  const flat = (from: Vec3, places: readonly Vec3[]): (Flat | null)[] => places.map((to) => crossing(level, from, to));
  const isFlat = (place: Flat | null): place is Flat => place !== null;
  const darkFlat = flat(lens, dark);
  if (!darkFlat.every(isFlat)) return null;
  const wantedFlat = flat(lens, wanted).filter(isFlat);
  const edges = borders.flatMap(([a, b]): Flat[] => {
    const [p, q] = flat(lens, [a, b]);
    if (!p || !q) return [];
    const [x, y] = [q[0] - p[0], q[1] - p[1]];
    const size = Math.hypot(x, y);
    return size < 1e-9 ? [] : [[x / size, y / size]];
  });
  const across = cutAcross(darkFlat, wantedFlat, edges.length > 0 ? edges : [[0, 1]]);
  // Turned by less than half a right angle, so that one of its four sides makes the cut.
  const acrossDeg = (Math.atan2(across[1], across[0]) * 180) / Math.PI;
  const quarter = Math.round(acrossDeg / 90);
  const rollDeg = acrossDeg - 90 * quarter;
  const cutSide = SIDES[(quarter + 4) % 4]!;
  const frame = frameFromPose({ positionM: [...origin], aim: { ...aim, rollDeg } });
  const crossings = rim.flatMap((from) => dark.map((to) => crossing(frame, from, to)));
  if (!crossings.every(isFlat)) return null;
  const span = (axis: 0 | 1): [number, number] =>
    crossings.reduce<[number, number]>(
      ([low, high], at) => [Math.min(low, at[axis]), Math.max(high, at[axis])],
      [Infinity, -Infinity],
    );
  const [[left, right], [bottom, top]] = [span(0), span(1)];
  const more = (side: FlagSide): number => (cutSide === side ? 0 : MARGIN_M);
  const place = {
    leftM: left - more('left'),
    rightM: right + more('right'),
    bottomM: bottom - more('bottom'),
    topM: top + more('top'),
  };
  return { frame, ...aim, rollDeg, cutSide, ...place, roomM: roomOf(frame, cutSide, place, lens, wanted) };
}

function roomOf(
  frame: Frame,
  cutSide: FlagSide,
  { leftM, rightM, bottomM, topM }: Pick<FlagPlace, 'leftM' | 'rightM' | 'bottomM' | 'topM'>,
  lens: Vec3,
  wanted: readonly Vec3[],
): number {
  const beyond = wanted.flatMap((to) => {
    const at = crossing(frame, lens, to);
    if (!at) return [];
    return [{ right: at[0] - rightM, top: at[1] - topM, left: leftM - at[0], bottom: bottomM - at[1] }[cutSide]];
  });
  return beyond.reduce((least, one) => Math.min(least, one), Infinity);
}

/** Centre of a flag of this size whose cutting edge is where the place wants it, its other sides over the needed cloth. */
export function flagCentre(place: FlagPlace, widthM: number, heightM: number): Vec3 {
  const { frame, cutSide, leftM, rightM, bottomM, topM } = place;
  const x = { right: rightM - widthM / 2, left: leftM + widthM / 2, top: null, bottom: null }[cutSide];
  const y = { top: topM - heightM / 2, bottom: bottomM + heightM / 2, right: null, left: null }[cutSide];
  const right = addScaled(frame.origin, frame.right, x ?? (leftM + rightM) / 2);
  return addScaled(right, frame.up, y ?? (bottomM + topM) / 2);
}

/** Where a projection spot's shutters cut the light on the surface of an elevation, each with a handle to drag it by. */
import type { Lamp } from '../scene/schema';
import { cosDeg, localFromWorld, sinDeg, toRadians, type Frame } from '../scene/geometry/frames';
import { addScaled, dot, scale, subtract, type Vec3 } from '../scene/geometry/vector';
import type { HitTarget } from './hitTest';
import { RANK } from './hitTest';
import { toScreen, type SheetContext } from './picture';
import type { LampThing, SurfaceThing } from './sceneThings';
import type { Sketch } from './sketch';

type Shutter = NonNullable<Extract<Lamp['distribution'], { kind: 'projection' }>['shutters']>[number];

const HANDLE_PX = 6;
/** A cut that lies outside the field still shows a short line, so that it can be drawn back in; share of the field. */
const LEAST_LINE = 0.2;

/** Where the ray of the picture (tangents right and up, seen from behind) from the lens's middle meets the plane. */
function landing(lamp: Frame, plane: Frame, x: number, y: number): Vec3 | null {
  const ray = addScaled(addScaled(lamp.forward, scale(lamp.right, -1), x), lamp.up, y);
  const rate = dot(plane.forward, ray);
  const along = dot(plane.forward, subtract(plane.origin, lamp.origin)) / rate;
  return rate < -1e-6 && along > 0 ? addScaled(lamp.origin, ray, along) : null;
}

export interface CutLine {
  readonly index: number;
  readonly ends: readonly [Vec3, Vec3];
  readonly handle: Vec3;
}

/** The cuts of a lamp's shutters on a surface's plane; those that run past it are left out. */
export function cutLines({ lamp, frame }: LampThing, surface: SurfaceThing): CutLine[] {
  const { distribution } = lamp;
  if (distribution.kind !== 'projection') return [];
  const radius = Math.tan(toRadians(distribution.fieldAngleDeg / 2));
  return (distribution.shutters ?? []).flatMap((shutter, index) => {
    const [c, s] = [cosDeg(shutter.turnDeg), sinDeg(shutter.turnDeg)];
    const offset = Math.tan(toRadians(shutter.offsetDeg));
    const half = Math.max(LEAST_LINE * radius, Math.sqrt(Math.max(0, radius * radius - offset * offset)));
    const at = (along: number): Vec3 | null =>
      landing(frame, surface.frame, c * offset - s * along, s * offset + c * along);
    const [from, handle, to] = [at(-half), at(0), at(half)];
    return from && handle && to ? [{ index, ends: [from, to] as const, handle }] : [];
  });
}

/** Angle from the axis at which a shutter would cut through a point. */
export function offsetThrough({ frame }: Pick<LampThing, 'frame'>, { turnDeg }: Shutter, point: Vec3): number {
  const { right, up, above } = localFromWorld(frame, point);
  const across = (-right * cosDeg(turnDeg) + up * sinDeg(turnDeg)) / Math.max(above, 1e-6);
  return (Math.atan(across) * 180) / Math.PI;
}

/** Draws the cuts of the lamp in hand, with their handles. */
export function drawShutters(
  context: SheetContext,
  surface: SurfaceThing,
  lamp: LampThing,
  sketch: Sketch,
  targets: HitTarget[],
): void {
  for (const { index, ends, handle } of cutLines(lamp, surface)) {
    const [from, to, at] = [ends[0], ends[1], handle].map((point) => toScreen(context, point)) as [
      readonly [number, number],
      readonly [number, number],
      readonly [number, number],
    ];
    sketch.line([[...from, ...to]], { role: 'accent', widthPx: 1.25, dash: [6, 4], cased: true });
    const turn = Math.atan2(to[1] - from[1], to[0] - from[0]);
    const [x, y] = at;
    // Two bars along the cut: a plate's edge that can be taken between finger and thumb.
    const [ax, ay] = [HANDLE_PX * Math.cos(turn), HANDLE_PX * Math.sin(turn)];
    const bars = [-1, 1].map((side) => {
      const [bx, by] = [(-side * ay) / 2, (side * ax) / 2];
      return [x - ax + bx, y - ay + by, x + ax + bx, y + ay + by];
    });
    sketch.line(bars, { role: 'accent', widthPx: 2, cased: true });
    targets.push({
      hit: { object: { kind: 'source', id: lamp.id }, handle: 'shutter', shutter: { index, atM: handle } },
      rank: RANK.handle,
      shape: { kind: 'point', x, y, radiusPx: HANDLE_PX },
    });
  }
}

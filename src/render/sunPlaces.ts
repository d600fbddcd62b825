/** Where the markers of real suns and of the story's stand on the plan. */
import { worldFromLocal } from '../scene/geometry/frames';
import type { Vec3 } from '../scene/geometry/vector';
import { sunnyOpenings } from './drawSheet';
import { formatDegrees } from './format';
import { toScreen, type SheetContext } from './picture';

export interface SunPlace {
  readonly x: number;
  readonly y: number;
  readonly turn: number;
  /** Source that the marker stands for; null for the story's sun. */
  readonly id: string | null;
  readonly label: string;
}
/** Distance along the rays and beside them, px, in order of liking. */
const SUN_OUT = [
  [110, 30],
  [110, 60],
  [80, 60],
  [140, 60],
  [110, 100],
  [70, 90],
  [140, 130],
  [180, 60],
] as const;
const SUN_NEAR = [
  [50, 24],
  [50, 44],
  [30, 40],
] as const;
const SUN_CLEAR_PX = 50;

const within = (camera: { widthPx: number; heightPx: number }, x: number, y: number): boolean =>
  x > 22 && y > 22 && x < camera.widthPx - 22 && y < camera.heightPx - 30;

/** Where the markers of the sun stand on the plan: up-light of the window it shines in by, kept on the sheet. */
export function sunPlaces(context: SheetContext): SunPlace[] {
  const { things, state, camera } = context;
  const clock = state.document.story?.clock;
  const told = things.suns.map(({ id, sun, towards }) => ({
    id,
    towards,
    label: `${sun.name} ${formatDegrees(sun.altitudeDeg)} up`,
  }));
  const story =
    told.length === 0 && things.storySun
      ? [{ id: null, towards: things.storySun.towards, label: clock ? `Sun, ${clock} story` : 'Story sun' }]
      : [];
  return [...told, ...story].flatMap(({ id, towards, label }) => {
    const size = Math.hypot(towards[0], towards[1]);
    if (size < 1e-3) return [];
    const [ux, uy] = [towards[0] / size, -towards[1] / size];
    const by = sunnyOpenings(context, towards)[0];
    const anchor: Vec3 | null = by
      ? worldFromLocal(by.thing.frame, [(by.opening.leftM + by.opening.rightM) / 2, by.opening.sillM])
      : null;
    const [ax, ay] = anchor ? toScreen(context, anchor) : [camera.widthPx / 2, camera.heightPx / 2];
    const lamps = things.lamps.map((lamp) => toScreen(context, lamp.lamp.pose.positionM));
    const grip = things.modifiers.map((one) => toScreen(context, one.frame.origin));
    // A lamp's tag stands below it, if it can.
    const tags = lamps.map(([lampX, lampY]) => [lampX + 46, lampY + 34] as const);
    const crowd = [...lamps, ...grip, ...(context.isSmall ? [] : tags)];
    // Beside the rays, so that the marker does not sit on its own lines, and clear of lamps and grip.
    const places = (context.isSmall ? SUN_NEAR : SUN_OUT).flatMap(([out, aside]) =>
      [1, -1].map((side) => ({ x: ax + ux * out - uy * aside * side, y: ay + uy * out + ux * aside * side })),
    );
    const free = places.filter(({ x, y }) => within(camera, x, y));
    const isClear = (room: number) => (place: { x: number; y: number }) =>
      crowd.every(([cx, cy]) => Math.hypot(place.x - cx, place.y - cy) > room);
    const place = free.find(isClear(SUN_CLEAR_PX)) ?? free[0] ?? { x: 40, y: 44 };
    return [{ ...place, turn: (Math.atan2(-ux, uy) * 180) / Math.PI, id, label }];
  });
}

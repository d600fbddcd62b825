import { useEffect, useRef, type KeyboardEvent, type PointerEvent, type RefObject } from 'react';
import { frameFromPose, worldFromLocal } from '../../scene/geometry/frames';
import type { Surface } from '../../scene/schema';
import { boundingBox } from '../../sim/worker/bands';
import { useApp, useDocument, useResults, useSession } from '../app';
import { swipeShare } from './sheetState';
import type { SheetHandle } from './SheetView';

const KEY_STEP = 0.01;
const WIDE_KEY_STEP = 0.1;
const held = (share: number): number => Math.min(1, Math.max(0, Number(share.toFixed(4))));

/** Where the left and the right end of a surface lie on the drawing, px. */
function endsPx(surface: Surface, handle: SheetHandle): readonly [left: number, right: number] {
  const { leftM, bottomM, widthM } = boundingBox(surface.shape);
  const frame = frameFromPose(surface.pose);
  const at = (rightM: number): number => handle.screenFromWorld(worldFromLocal(frame, [rightM, bottomM])).x;
  return [at(leftM), at(leftM + widthM)];
}

/** The upright line between the lamp's levels and the sun's: dragged, or moved with the arrow keys. */
export function TwinDivider({
  handle,
  surfaceId,
}: {
  readonly handle: RefObject<SheetHandle | null>;
  readonly surfaceId: string | null;
}) {
  const { session } = useApp();
  const share = useSession(swipeShare);
  const surface = useDocument((state) => (surfaceId === null ? undefined : state.shown.surfaces[surfaceId]));
  const isThere = useResults((state) => surfaceId !== null && state.twin?.fields[surfaceId] !== undefined);
  const line = useRef<HTMLDivElement>(null);
  const isOn = share !== null && surface !== undefined && isThere;

  // The drawing is moved and zoomed without the page being told: the line looks where its place is, frame by frame.
  useEffect(() => {
    if (!isOn) return undefined;
    let frame = 0;
    const follow = (): void => {
      frame = requestAnimationFrame(follow);
      if (!line.current || !handle.current) return;
      const [left, right] = endsPx(surface, handle.current);
      const place = `${Math.round(left + share * (right - left))}px`;
      if (line.current.style.left !== place) line.current.style.left = place;
    };
    follow();
    return () => cancelAnimationFrame(frame);
  }, [isOn, share, surface, handle]);

  if (!isOn) return null;
  const move = (next: number): void => session.setState({ swipe: held(next) });

  function onKeyDown(event: KeyboardEvent): void {
    if (share === null) return;
    const step = event.shiftKey ? WIDE_KEY_STEP : KEY_STEP;
    const next = {
      ArrowLeft: share - step,
      ArrowDown: share - step,
      ArrowRight: share + step,
      ArrowUp: share + step,
      PageDown: share - WIDE_KEY_STEP,
      PageUp: share + WIDE_KEY_STEP,
      Home: 0,
      End: 1,
    }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    move(next);
  }
  function onPointerMove(event: PointerEvent<HTMLDivElement>): void {
    const box = event.currentTarget.parentElement?.getBoundingClientRect();
    if (!event.currentTarget.hasPointerCapture(event.pointerId) || !box || !surface || !handle.current) return;
    const [left, right] = endsPx(surface, handle.current);
    move((event.clientX - box.left - left) / (right - left));
  }
  const percent = Math.round(share * 100);
  return (
    <div
      ref={line}
      className="twin-divider"
      role="slider"
      tabIndex={0}
      aria-label="Divider between lamp and sun"
      aria-orientation="horizontal"
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={percent}
      aria-valuetext={`lamp on the left ${percent} %, sun on the right`}
      onKeyDown={onKeyDown}
      onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
      onPointerMove={onPointerMove}
    >
      <span aria-hidden="true">Lamp</span>
      <i aria-hidden="true" />
      <span aria-hidden="true">Sun</span>
    </div>
  );
}

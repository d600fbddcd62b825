/** Black foil at a lamp's lit face, where the sheet shows the face large enough: strips at their true place. */
import { blackenedM, maskedShape } from '../scene/blackEdges';
import { addScaled, type Vec3 } from '../scene/geometry/vector';
import type { Path } from './geometry2d';
import { toScreen, type SheetContext } from './picture';
import type { LampThing } from './sceneThings';
import type { Sketch } from './sketch';

/** Faces shorter than this on the sheet are drawn as symbols at reading size: nothing on them has a true place. */
const SHORTEST_FACE_PX = 26;
/** Seen edge-on a strip is drawn this thick, so that it can be seen at all. */
const FOIL_THICK_PX = 5;
/** Foil is black on either sheet; its outline is in the sheet's own ink. */
const FOIL_BLACK = 0x0b0d0f;

/** A strip of the face from and to, right (as the frame has it) and up, m. */
type Strip = readonly [left: number, low: number, right: number, high: number];

/** A ring is shown by its two ends across; edge-on that is all there is to see of it. */
function stripsOf({ lamp }: LampThing): { readonly face: Strip; readonly strips: readonly Strip[] } {
  const { leftM, rightM, topM, bottomM, ringM } = blackenedM(lamp);
  const { emitter, distribution } = lamp;
  const shape = maskedShape(lamp);
  if (shape === 'rectangle' && emitter.shape === 'rectangle') {
    const [w, h] = [emitter.widthM / 2, emitter.heightM / 2];
    const strips: Strip[] = [
      [w - leftM, -h, w, h],
      [-w, -h, rightM - w, h],
      [-w, h - topM, w, h],
      [-w, -h, w, bottomM - h],
    ];
    return { face: [-w, -h, w, h], strips: strips.filter(([left, low, right, high]) => right > left && high > low) };
  }
  if (shape === 'tube' && emitter.shape === 'tube') {
    const w = emitter.lengthM / 2;
    const strips: Strip[] = [
      [w - leftM, 0, w, 0],
      [-w, 0, rightM - w, 0],
    ];
    return { face: [-w, 0, w, 0], strips: strips.filter(([left, , right]) => right > left) };
  }
  const diameterM =
    distribution.kind === 'lensed' ? distribution.lensDiameterM : emitter.shape === 'disc' ? emitter.diameterM : 0;
  const w = diameterM / 2;
  if (ringM === 0) return { face: [-w, 0, w, 0], strips: [] };
  return {
    face: [-w, 0, w, 0],
    strips: [
      [w - ringM, 0, w, 0],
      [-w, 0, ringM - w, 0],
    ],
  };
}

/** The strip's outline as it is drawn: itself, or a bar along it where it is seen edge-on. */
function thickened(path: Path): Path {
  let [across, along, far] = [0, 0, 0];
  const [x0, y0] = [path[0]!, path[1]!];
  for (let i = 2; i < path.length; i += 2) {
    const [dx, dy] = [path[i]! - x0, path[i + 1]! - y0];
    if (Math.hypot(dx, dy) > Math.hypot(across, along)) [across, along, far] = [dx, dy, Math.hypot(dx, dy)];
  }
  if (far === 0) return path;
  const [nx, ny] = [-along / far, across / far];
  const heights = path.flatMap((x, i) => (i % 2 === 0 ? [(x - x0) * nx + (path[i + 1]! - y0) * ny] : []));
  if (Math.max(...heights) - Math.min(...heights) >= FOIL_THICK_PX) return path;
  const [hx, hy] = [(nx * FOIL_THICK_PX) / 2, (ny * FOIL_THICK_PX) / 2];
  const [x1, y1] = [x0 + across, y0 + along];
  return [x0 + hx, y0 + hy, x1 + hx, y1 + hy, x1 - hx, y1 - hy, x0 - hx, y0 - hy];
}

/** Seen edge-on along one axis of the face, strips at the ends of the other axis would hide all of it: they are left out. */
function isInView([left, low, right, high]: Strip, rightPx: number, upPx: number, faceM: Strip): boolean {
  const thin = Math.min(rightPx, upPx) * Math.max(faceM[2] - faceM[0], faceM[3] - faceM[1]) < FOIL_THICK_PX;
  if (!thin) return true;
  return rightPx >= upPx ? right - left < faceM[2] - faceM[0] : high - low < faceM[3] - faceM[1];
}

/** Draws the foil over the lamp's symbol; nothing where the symbol is larger than the lamp. */
export function drawBlackEdges(context: SheetContext, sketch: Sketch, lamp: LampThing): void {
  const { face, strips } = stripsOf(lamp);
  if (strips.length === 0 || (face[2] - face[0]) * context.camera.pixelsPerMetre < SHORTEST_FACE_PX) return;
  const { origin, right, up } = lamp.frame;
  const at = (x: number, y: number): Vec3 => addScaled(addScaled(origin, right, x), up, y);
  const [x0, y0] = toScreen(context, origin);
  const perMetrePx = (to: Vec3): number => {
    const [x, y] = toScreen(context, to);
    return Math.hypot(x - x0, y - y0);
  };
  const [rightPx, upPx] = [perMetrePx(at(1, 0)), perMetrePx(at(0, 1))];
  for (const strip of strips) {
    if (!isInView(strip, rightPx, upPx, face)) continue;
    const [left, low, far, high] = strip;
    const path: Path = [at(left, low), at(far, low), at(far, high), at(left, high)].flatMap((corner) =>
      toScreen(context, corner),
    );
    const outline = thickened(path);
    sketch.fill([outline], FOIL_BLACK, 1);
    sketch.line([[...outline, ...outline.slice(0, 2)]], { role: 'ink1', widthPx: 1 });
  }
}

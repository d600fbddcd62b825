/** Pictures of a plan, under everything else on the plan sheet, and the marks of the one in hand. */
import { pictureCorners } from '../scene/planPictures';
import { PICTURE_OPACITY, type PlanPicture } from '../scene/schemaPlan';
import { drawTurnHandle, isSame } from './drawThings';
import { RANK, type HitTarget } from './hitTest';
import { toScreen, type Layer, type SheetContext } from './picture';
import type { RasterOp, Sketch } from './sketch';

const screenCorners = (context: SheetContext, picture: PlanPicture): (readonly [number, number])[] =>
  pictureCorners(picture).map(([x, y]) => toScreen(context, [x, y, 0]));

const turned = new WeakMap<Uint8Array, Uint8Array>();
/** The same picture with lightness turned over and hues kept (max + min of a colour mirrored): dark lines turn light. */
function lightOnDark(bytes: Uint8Array): Uint8Array {
  const known = turned.get(bytes);
  if (known) return known;
  const result = new Uint8Array(bytes.length);
  for (let at = 0; at < bytes.length; at += 4) {
    const [red, green, blue] = [bytes[at]!, bytes[at + 1]!, bytes[at + 2]!];
    const shift = 255 - Math.max(red, green, blue) - Math.min(red, green, blue);
    result[at] = red + shift;
    result[at + 1] = green + shift;
    result[at + 2] = blue + shift;
    result[at + 3] = bytes[at + 3]!;
  }
  turned.set(bytes, result);
  return result;
}

function rasterOf(context: SheetContext, id: string, picture: PlanPicture): RasterOp[] {
  const pixels = context.state.planPixels?.[id];
  if (picture.hidden === true || pixels?.image !== picture.image) return [];
  const { columns, rows } = pixels;
  const isTurned = context.state.theme !== 'light' && picture.keepsColours !== true;
  const bytes = isTurned ? lightOnDark(pixels.bytes) : pixels.bytes;
  const [upperLeft, upperRight, , lowerLeft] = screenCorners(context, picture);
  const [[x0, y0], [x1, y1], [x2, y2]] = [upperLeft!, upperRight!, lowerLeft!];
  return [
    {
      kind: 'raster',
      bytes,
      columns,
      rows,
      matrix: [(x1 - x0) / columns, (y1 - y0) / columns, (x2 - x0) / rows, (y2 - y0) / rows, x0, y0],
      alpha: picture.opacity ?? PICTURE_OPACITY,
      smooth: true,
      shrinks: true,
    },
  ];
}

/** The lowest layer of the plan; null while the scene has no picture. */
export function planPictureLayer(context: SheetContext): Layer | null {
  const { camera, memo, state } = context;
  const { pictures } = state.document;
  if (!pictures) return null;
  return memo.get('planPictures', [camera, pictures, state.planPixels, state.theme], () => ({
    name: 'pictures',
    rasters: Object.entries(pictures).flatMap(([id, picture]) => rasterOf(context, id, picture)),
    shapes: [],
    texts: [],
  }));
}

/** The picture's edge on the screen. */
export const pictureRing = (context: SheetContext, picture: PlanPicture): number[] =>
  screenCorners(context, picture).flat();

const HANDLE_PX = 9;

/** Edge and handles of the chosen picture. Only it can be grabbed: elsewhere a drag on the ground moves the view. */
export function drawChosenPicture(context: SheetContext, sketch: Sketch, targets: HitTarget[]): void {
  for (const [id, picture] of Object.entries(context.state.document.pictures ?? {})) {
    if (picture.hidden === true || !isSame(context.state.selection, 'picture', id)) continue;
    const object = { kind: 'picture', id } as const;
    const ring = pictureRing(context, picture);
    const dash = picture.locked === true ? { dash: [6, 4] } : {};
    sketch.line([ring], { role: 'accent', widthPx: 2, closed: true, cased: true, ...dash });
    if (picture.locked === true) continue;
    targets.push({ hit: { object, handle: 'body' }, rank: RANK.picture, shape: { kind: 'area', rings: [ring] } });
    const middle = toScreen(context, picture.positionM);
    drawTurnHandle(sketch, targets, object, middle, (picture.turnDeg ?? 0) + 180, HANDLE_PX);
  }
}

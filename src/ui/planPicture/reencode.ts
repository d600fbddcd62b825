/** From a file of the user's to the picture that the scene keeps: drawn anew, so that nothing but its pixels comes along. */
import { barePicture } from '../../files/planPicture/barePicture';
import { MOST_PICTURE_CHARS, MOST_PICTURE_PX } from '../../scene/schemaPlan';
import type { RasterKind } from '../../files/planPicture/sniffPicture';

export interface Reencoded {
  /** Data URL. */
  readonly image: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Size in the file, upright, where it was larger than what is kept. */
  readonly scaledFrom: readonly [widthPx: number, heightPx: number] | null;
}

const JPEG_QUALITY = 0.85;
const SHRINK = 0.8;
const LEAST_PX = 64;

/** More letters than this in one call are too many arguments. */
const RUN = 0x8000;
function base64(bytes: Uint8Array): string {
  let letters = '';
  for (let at = 0; at < bytes.length; at += RUN) letters += String.fromCharCode(...bytes.subarray(at, at + RUN));
  return btoa(letters);
}

async function dataUrl(canvas: HTMLCanvasElement, kind: 'png' | 'jpeg'): Promise<string> {
  const type = `image/${kind}`;
  const file = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, type, JPEG_QUALITY));
  if (file?.type !== type) throw new Error(`this browser writes no ${kind}`);
  return `data:${type};base64,${base64(barePicture(new Uint8Array(await file.arrayBuffer())))}`;
}

/** The picture on white paper at a share of its size; a plan drawn on nothing would vanish on a dark ground. */
function drawn(bitmap: ImageBitmap, share: number): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * share));
  canvas.height = Math.max(1, Math.round(bitmap.height * share));
  const context = canvas.getContext('2d', { alpha: false });
  if (!context) throw new Error('this browser gives no canvas');
  context.imageSmoothingQuality = 'high';
  context.fillStyle = '#fff';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  return canvas;
}

/**
 * The pixels of a picture file as a new picture: at most MOST_PICTURE_PX on its longer side and MOST_PICTURE_CHARS as a
 * data URL. Line drawings stay PNG while that fits; the rest is JPEG. Metadata (EXIF with its place and names, text, colour
 * profiles) is gone: turned upright by it first, the picture is drawn anew.
 * @throws {Error} if the browser cannot read the picture
 */
export async function reencode(file: Blob, kind: RasterKind): Promise<Reencoded> {
  const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' });
  try {
    let share = Math.min(1, MOST_PICTURE_PX / Math.max(bitmap.width, bitmap.height));
    for (;;) {
      const canvas = drawn(bitmap, share);
      const own = await dataUrl(canvas, kind === 'jpeg' ? 'jpeg' : 'png');
      const image = own.length <= MOST_PICTURE_CHARS ? own : await dataUrl(canvas, 'jpeg');
      const { width: widthPx, height: heightPx } = canvas;
      if (image.length <= MOST_PICTURE_CHARS || Math.max(widthPx, heightPx) <= LEAST_PX) {
        const scaledFrom = share < 1 ? ([bitmap.width, bitmap.height] as const) : null;
        return { image, widthPx, heightPx, scaledFrom };
      }
      share *= SHRINK;
    }
  } finally {
    bitmap.close();
  }
}

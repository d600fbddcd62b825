/** What a file is by its first bytes, whatever its name says: a raster picture with its size, or what it is instead. */

export type RasterKind = 'png' | 'jpeg' | 'webp';
export type Sniffed =
  | { readonly ok: true; readonly kind: RasterKind; readonly widthPx: number; readonly heightPx: number }
  /** `what` completes "it is ...". */
  | { readonly ok: false; readonly what: string };

/** So many bytes of a file are looked at; a photograph may hold its own small copy before its size. */
export const SNIFFED_BYTES = 1_000_000;

const text = (bytes: Uint8Array, from: number, length: number): string =>
  String.fromCharCode(...bytes.subarray(from, from + length));
const size = (kind: RasterKind, widthPx: number, heightPx: number): Sniffed =>
  widthPx > 0 && heightPx > 0 ? { ok: true, kind, widthPx, heightPx } : { ok: false, what: `a ${kind} of no size` };
const broken = (kind: string): Sniffed => ({ ok: false, what: `a ${kind} that breaks off before its size` });

/** ISO/IEC 15948: signature, then the IHDR chunk with width and height. */
function png(bytes: Uint8Array, view: DataView): Sniffed {
  if (bytes.length < 24 || text(bytes, 12, 4) !== 'IHDR') return broken('PNG');
  return size('png', view.getUint32(16), view.getUint32(20));
}

/** ITU-T T.81: segments up to the frame header (SOF0 to SOF15 but DHT, JPG and DAC), which holds lines and samples. */
function jpeg(bytes: Uint8Array, view: DataView): Sniffed {
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) return broken('JPEG');
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at += 1; // fill byte
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) return size('jpeg', view.getUint16(at + 7), view.getUint16(at + 5));
    at += 2 + view.getUint16(at + 2);
  }
  return broken('JPEG');
}

/** RFC 9649: a RIFF file whose first chunk is VP8X (canvas), VP8L (lossless) or VP8 (lossy). */
function webp(bytes: Uint8Array, view: DataView): Sniffed {
  if (bytes.length < 30) return broken('WebP');
  const chunk = text(bytes, 12, 4);
  const three = (at: number): number => view.getUint16(at, true) + (bytes[at + 2]! << 16);
  if (chunk === 'VP8X') return size('webp', three(24) + 1, three(27) + 1);
  if (chunk === 'VP8L') {
    const bits = view.getUint32(21, true);
    return size('webp', (bits & 0x3fff) + 1, ((bits >>> 14) & 0x3fff) + 1);
  }
  if (chunk === 'VP8 ') return size('webp', view.getUint16(26, true) & 0x3fff, view.getUint16(28, true) & 0x3fff);
  return broken('WebP');
}

/** Other things that people have plans in, by how they start. */
function otherThing(bytes: Uint8Array): string {
  const start = text(bytes, 0, Math.min(bytes.length, 512));
  if (bytes.length === 0) return 'an empty file';
  if (start.startsWith('%PDF')) return 'a PDF';
  if (start.startsWith('GIF8')) return 'a GIF';
  if (start.startsWith('BM')) return 'a bitmap (BMP)';
  if (start.startsWith('II*\0') || start.startsWith('MM\0*')) return 'a TIFF';
  if (start.slice(4, 8) === 'ftyp') return 'a picture or film of another kind (HEIC, AVIF or MP4)';
  if (/<svg[\s>]/i.test(start)) return 'an SVG drawing';
  if (/^AC10\d\d/.test(start) || /^\s*0\s+SECTION/.test(start)) return 'a CAD drawing';
  return 'no picture';
}

/** @param bytes the start of the file, up to SNIFFED_BYTES */
export function sniffPicture(bytes: Uint8Array): Sniffed {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (text(bytes, 0, 8) === '\x89PNG\r\n\x1a\n') return png(bytes, view);
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return jpeg(bytes, view);
  if (text(bytes, 0, 4) === 'RIFF' && text(bytes, 8, 4) === 'WEBP') return webp(bytes, view);
  return { ok: false, what: otherThing(bytes) };
}

const MOST_FILE_BYTES = 40_000_000;
const MOST_MEGAPIXELS = 100;

/** One sentence why a file cannot be a picture of a plan, or null. */
export function pictureFault(sniffed: Sniffed, fileName: string, fileBytes: number): string | null {
  const end = 'Nothing was brought in.';
  if (!sniffed.ok) return `${fileName} is ${sniffed.what}: a plan picture is PNG, JPEG or WebP. ${end}`;
  if (fileBytes > MOST_FILE_BYTES) return `${fileName} is over ${MOST_FILE_BYTES / 1e6} MB. ${end}`;
  const { widthPx, heightPx } = sniffed;
  if (widthPx * heightPx <= MOST_MEGAPIXELS * 1e6) return null;
  return `${fileName} is ${widthPx} x ${heightPx} px: more than ${MOST_MEGAPIXELS} megapixels. ${end}`;
}

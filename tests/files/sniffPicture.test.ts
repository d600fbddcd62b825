/**
 * Pictures are known by their bytes. The heads are written here by hand from the formats' own documents: PNG
 * (ISO/IEC 15948, 11.2.2 IHDR), JPEG (ITU-T T.81, B.2.2 frame header), WebP (RFC 9649, 2.5 to 2.7).
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { pictureFault, sniffPicture } from '../../src/files/planPicture/sniffPicture';

const latin = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));
const bytes = (...parts: (string | readonly number[])[]): Uint8Array =>
  Uint8Array.from(parts.flatMap((part) => (typeof part === 'string' ? latin(part) : part)));
const zeros = (count: number): number[] => new Array<number>(count).fill(0);

const PNG = bytes('\x89PNG\r\n\x1a\n', [0, 0, 0, 13], 'IHDR', [0, 0, 3, 32], [0, 0, 2, 88], [8, 2, 0, 0, 0]);
/** An APP1 segment of 16 bytes, then a progressive frame (SOF2) of 600 lines with 800 samples. */
const JPEG = bytes(
  [0xff, 0xd8, 0xff, 0xe1, 0, 16],
  'Exif\0\0',
  zeros(8),
  [0xff, 0xff, 0xc2, 0, 17, 8, 0x02, 0x58, 0x03, 0x20, 3],
  zeros(10),
);
const riff = (chunk: string, body: readonly number[]): Uint8Array =>
  bytes('RIFF', [50, 0, 0, 0], 'WEBP', chunk, [20, 0, 0, 0], body, zeros(12));
const WEBP_LOSSY = riff('VP8 ', [0, 0, 0, 0x9d, 0x01, 0x2a, 0x20, 0x03, 0x58, 0x02]);
/** 14 bits of width less one, then 14 of height less one: 799 | 599 << 14. */
const WEBP_LOSSLESS = riff('VP8L', [0x2f, 0x1f, 0xc3, 0x95, 0x00]);
const WEBP_EXTENDED = riff('VP8X', [0, 0, 0, 0, 0x1f, 0x03, 0, 0x57, 0x02, 0]);

test.each([
  ['png', PNG],
  ['jpeg', JPEG],
  ['webp', WEBP_LOSSY],
  ['webp', WEBP_LOSSLESS],
  ['webp', WEBP_EXTENDED],
])('a %s of 800 x 600 px is known with its size', (kind, head) =>
  expect(sniffPicture(head)).toEqual({ ok: true, kind, widthPx: 800, heightPx: 600 }),
);

test.each([
  ['<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" width="10"/>', 'an SVG drawing'],
  ['<svg viewBox="0 0 1 1"/>', 'an SVG drawing'],
  ['%PDF-1.7\n', 'a PDF'],
  ['GIF89a', 'a GIF'],
  ['BM......', 'a bitmap (BMP)'],
  ['II*\0........', 'a TIFF'],
  ['\0\0\0\x18ftypheic', 'a picture or film of another kind (HEIC, AVIF or MP4)'],
  ['AC1032\0\0', 'a CAD drawing'],
  ['  0\nSECTION\n  2\nHEADER', 'a CAD drawing'],
  ['hello', 'no picture'],
  ['', 'an empty file'],
])('%j is refused in one line, whatever its name says', (text, what) => {
  const sniffed = sniffPicture(bytes(text));
  expect(sniffed).toEqual({ ok: false, what });
  expect(pictureFault(sniffed, 'office.png', text.length)).toBe(
    `office.png is ${what}: a plan picture is PNG, JPEG or WebP. Nothing was brought in.`,
  );
});

test('what breaks off, has no size or is too large is refused; what is fit is not', () => {
  expect(sniffPicture(JPEG.subarray(0, 24))).toEqual({ ok: false, what: 'a JPEG that breaks off before its size' });
  expect(sniffPicture(PNG.subarray(0, 20))).toEqual({ ok: false, what: 'a PNG that breaks off before its size' });
  const flat = PNG.slice();
  flat.fill(0, 16, 20);
  expect(sniffPicture(flat).ok).toBe(false);
  const good = sniffPicture(PNG);
  expect(pictureFault(good, 'a.png', 40_000_000)).toBeNull();
  expect(pictureFault(good, 'a.png', 40_000_001)).toBe('a.png is over 40 MB. Nothing was brought in.');
  const vast = { ok: true, kind: 'png', widthPx: 20_000, heightPx: 5_001 } as const;
  expect(pictureFault(vast, 'a.png', 100)).toMatch(/^a\.png is 20000 x 5001 px: more than 100 megapixels/);
  expect(pictureFault({ ...vast, heightPx: 5_000 }, 'a.png', 100)).toBeNull();
});

test('property: no bytes make it throw', () =>
  fc.assert(
    fc.property(
      fc.constantFrom(PNG, JPEG, WEBP_LOSSY, WEBP_LOSSLESS),
      fc.nat(60),
      fc.uint8Array(),
      (head, cut, rest) => {
        const read = sniffPicture(Uint8Array.from([...head.subarray(0, cut), ...rest]));
        expect(read.ok || read.what !== '').toBe(true);
      },
    ),
  ));

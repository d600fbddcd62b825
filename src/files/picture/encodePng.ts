/** A picture as a PNG file (ISO/IEC 15948): 8 bits a channel, colour with alpha, not interlaced. */
import { zlibSync } from 'fflate';

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const COLOUR_WITH_ALPHA = 6;

/** Table of the cyclic redundancy check of ISO/IEC 15948, annex D: polynomial 0xedb88320. */
const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, index) => {
  let value = index;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value >>> 0;
});

function crc32(bytes: Uint8Array): number {
  let value = 0xffffffff;
  for (const byte of bytes) value = (CRC_TABLE[(value ^ byte) & 255] ?? 0) ^ (value >>> 8);
  return (value ^ 0xffffffff) >>> 0;
}

function chunk(type: string, data: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(12 + data.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, data.length);
  for (let index = 0; index < 4; index += 1) bytes[4 + index] = type.charCodeAt(index);
  bytes.set(data, 8);
  view.setUint32(8 + data.length, crc32(bytes.subarray(4, 8 + data.length)));
  return bytes;
}

/**
 * The bytes of a PNG file.
 * @param rgba red, green, blue, alpha of each pixel, 0..255, top row first
 * @throws {RangeError} if the size is not whole and positive or does not fit the pixels
 */
export function encodePng(width: number, height: number, rgba: Uint8Array): Uint8Array {
  if (!(Number.isInteger(width) && Number.isInteger(height) && width > 0 && height > 0)) {
    throw new RangeError(`A picture of ${width} by ${height} pixels cannot be written.`);
  }
  if (rgba.length !== width * height * 4) throw new RangeError('The pixels do not fit the size of the picture.');
  const header = new Uint8Array(13);
  const view = new DataView(header.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  header.set([8, COLOUR_WITH_ALPHA, 0, 0, 0], 8);
  // Each row begins with its filter; 0 leaves it as it is.
  const rows = new Uint8Array(height * (1 + width * 4));
  for (let row = 0; row < height; row += 1) {
    rows.set(rgba.subarray(row * width * 4, (row + 1) * width * 4), row * (1 + width * 4) + 1);
  }
  const parts = [
    Uint8Array.from(SIGNATURE),
    chunk('IHDR', header),
    chunk('IDAT', zlibSync(rows)),
    chunk('IEND', new Uint8Array(0)),
  ];
  const file = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let offset = 0;
  for (const part of parts) {
    file.set(part, offset);
    offset += part.length;
  }
  return file;
}

/** Base64 of bytes, as a data address in a drawing needs it. */
export function base64(bytes: Uint8Array): string {
  const pieces: string[] = [];
  for (let start = 0; start < bytes.length; start += 0x6000) {
    pieces.push(btoa(String.fromCharCode(...bytes.subarray(start, start + 0x6000))));
  }
  return pieces.join('');
}

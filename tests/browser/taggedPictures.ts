/**
 * Pictures with things in them that must not come along: EXIF with a place, a description and a turn (CIPA DC-008, TIFF
 * 6.0 layout), a JPEG comment (ITU-T T.81, B.2.4.5), a PNG text chunk (ISO/IEC 15948, 11.3.4.3). And their finders.
 */
const SECRET = 'HARBOUR MASTER, GATE CODE 4711';
const ascii = (text: string): Buffer => Buffer.from(`${text}\0`, 'latin1');

/** One entry of an IFD, little endian. */
function entry(tag: number, type: number, count: number, value: number | Buffer): Buffer {
  const bytes = Buffer.alloc(12);
  bytes.writeUInt16LE(tag, 0);
  bytes.writeUInt16LE(type, 2);
  bytes.writeUInt32LE(count, 4);
  if (typeof value === 'number') bytes.writeUInt32LE(value, 8);
  else value.copy(bytes, 8);
  return bytes;
}
const count = (entries: number): Buffer => Buffer.from([entries, 0]);
const LAST = Buffer.alloc(4);

/** EXIF of a photograph taken on its side (orientation 6) at 52° 13′ N. */
function exifBody(): Buffer {
  const words = ascii(SECRET);
  const ifd0At = 8;
  const wordsAt = ifd0At + 2 + 3 * 12 + 4;
  const gpsAt = wordsAt + words.length;
  const latitudeAt = gpsAt + 2 + 2 * 12 + 4;
  const latitude = Buffer.alloc(24);
  [52, 1, 13, 1, 0, 1].forEach((value, index) => latitude.writeUInt32LE(value, 4 * index));
  return Buffer.concat([
    Buffer.from('Exif\0\0II*\0', 'latin1'),
    Buffer.from([ifd0At, 0, 0, 0]),
    count(3),
    entry(0x010e, 2, words.length, wordsAt), // ImageDescription
    entry(0x0112, 3, 1, 6), // Orientation: row 0 is the right side
    entry(0x8825, 4, 1, gpsAt), // GPSInfo
    LAST,
    words,
    count(2),
    entry(0x0001, 2, 2, Buffer.from('N\0', 'latin1')),
    entry(0x0002, 5, 3, latitudeAt),
    LAST,
    latitude,
  ]);
}
function segment(marker: number, body: Buffer): Buffer {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([head, body]);
}
/** A JPEG with EXIF and a comment put in behind its first marker. */
export const taggedJpeg = (plain: Buffer): Buffer =>
  Buffer.concat([plain.subarray(0, 2), segment(0xe1, exifBody()), segment(0xfe, ascii(SECRET)), plain.subarray(2)]);

const crcOf = (bytes: Buffer): number => {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
};
const IHDR_END = 33;
/** A PNG with a text chunk behind its header. */
export function taggedPng(plain: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from('tEXt', 'latin1'), ascii('Author'), Buffer.from(SECRET, 'latin1')]);
  const [length, crc] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(body.length - 4);
  crc.writeUInt32BE(crcOf(body));
  return Buffer.concat([plain.subarray(0, IHDR_END), length, body, crc, plain.subarray(IHDR_END)]);
}

/** Markers of a JPEG up to its scan, or chunk names of a PNG. */
export function partsOf(bytes: Buffer): string[] {
  const parts: string[] = [];
  if (bytes[0] === 0x89) {
    for (let at = 8; at + 8 <= bytes.length; at += 12 + bytes.readUInt32BE(at)) {
      parts.push(bytes.toString('latin1', at + 4, at + 8));
    }
    return parts;
  }
  for (let at = 2; at + 4 <= bytes.length && bytes[at + 1] !== 0xda; at += 2 + bytes.readUInt16BE(at + 2)) {
    parts.push(bytes[at + 1]!.toString(16));
  }
  return parts;
}
/** Whether anything of what was put in is found in some bytes. */
export const tellsSecrets = (bytes: Buffer): boolean =>
  ['Exif', 'HARBOUR', '4711', 'Author', 'II*\0'].some((word) => bytes.includes(Buffer.from(word, 'latin1')));

/** Reads back an 8-bit PNG with alpha, by the standard (ISO/IEC 15948) and Node's own inflate; shares no code with the writer. */
import { crc32, inflateSync } from 'node:zlib';

export interface Decoded {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8Array;
}

function paeth(left: number, up: number, corner: number): number {
  const guess = left + up - corner;
  const [byLeft, byUp, byCorner] = [Math.abs(guess - left), Math.abs(guess - up), Math.abs(guess - corner)];
  if (byLeft <= byUp && byLeft <= byCorner) return left;
  return byUp <= byCorner ? up : corner;
}

export function decodePng(file: Uint8Array): Decoded {
  const bytes = Buffer.from(file);
  if (bytes.subarray(0, 8).toString('latin1') !== '\u0089PNG\r\n\u001a\n') throw new Error('no PNG signature');
  let [width, height, offset] = [0, 0, 8];
  const data: Buffer[] = [];
  while (offset < bytes.length) {
    const size = bytes.readUInt32BE(offset);
    const type = bytes.toString('latin1', offset + 4, offset + 8);
    const body = bytes.subarray(offset + 8, offset + 8 + size);
    if (crc32(bytes.subarray(offset + 4, offset + 8 + size)) !== bytes.readUInt32BE(offset + 8 + size)) {
      throw new Error(`checksum of ${type}`);
    }
    if (type === 'IHDR') {
      [width, height] = [body.readUInt32BE(0), body.readUInt32BE(4)];
      if (body[8] !== 8 || body[9] !== 6 || body[12] !== 0) throw new Error('not 8-bit colour with alpha');
    }
    if (type === 'IDAT') data.push(body);
    offset += 12 + size;
  }
  const raw = inflateSync(Buffer.concat(data));
  const stride = width * 4;
  const rgba = new Uint8Array(height * stride);
  for (let row = 0; row < height; row += 1) {
    const filter = raw[row * (stride + 1)] ?? 0;
    for (let index = 0; index < stride; index += 1) {
      const here = row * stride + index;
      const left = index >= 4 ? (rgba[here - 4] ?? 0) : 0;
      const up = row > 0 ? (rgba[here - stride] ?? 0) : 0;
      const corner = row > 0 && index >= 4 ? (rgba[here - stride - 4] ?? 0) : 0;
      const guess = [0, left, up, (left + up) >> 1, paeth(left, up, corner)][filter] ?? 0;
      rgba[here] = (raw[row * (stride + 1) + 1 + index] ?? 0) + guess;
    }
  }
  return { width, height, rgba };
}

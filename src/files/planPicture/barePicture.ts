/** A picture file without anything but its picture: what an encoder adds of its own is taken out as well. */

const text = (bytes: Uint8Array, from: number, length: number): string =>
  String.fromCharCode(...bytes.subarray(from, from + length));
function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** Chunks without which a PNG is none (ISO/IEC 15948, 11.2). */
const CRITICAL = ['IHDR', 'PLTE', 'IDAT', 'IEND'];
function barePng(bytes: Uint8Array, view: DataView): Uint8Array {
  const parts = [bytes.subarray(0, 8)];
  for (let at = 8; at + 12 <= bytes.length;) {
    const end = at + 12 + view.getUint32(at);
    if (CRITICAL.includes(text(bytes, at + 4, 4))) parts.push(bytes.subarray(at, end));
    at = end;
  }
  return joined(parts);
}

const START_OF_SCAN = 0xda;
/** JPEG: application data but the plain JFIF head (APP1 to APP15), and comments (ITU-T T.81, B.2.4). */
const isExtra = (marker: number): boolean => (marker >= 0xe1 && marker <= 0xef) || marker === 0xfe;
function bareJpeg(bytes: Uint8Array, view: DataView): Uint8Array {
  const parts = [bytes.subarray(0, 2)];
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at + 1] !== START_OF_SCAN) {
    const end = at + 2 + view.getUint16(at + 2);
    if (!isExtra(bytes[at + 1]!)) parts.push(bytes.subarray(at, end));
    at = end;
  }
  parts.push(bytes.subarray(at));
  return joined(parts);
}

/**
 * The same PNG or JPEG without metadata of any kind; its pixels are untouched.
 * @param bytes a sound file, as an encoder has just made it
 */
export function barePicture(bytes: Uint8Array): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return bytes[0] === 0x89 ? barePng(bytes, view) : bareJpeg(bytes, view);
}

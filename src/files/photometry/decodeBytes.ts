/** Bytes of a text file to text: byte order marks, UTF-8, else the 8-bit letters of western Europe. */
import type { Fault } from '../../scene/faults';
import { LONGEST_FILE } from '../../scene/webs/fileFault';

export type DecodedText = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly fault: Fault };

/** A letter takes at most this many bytes in the encodings that are read. */
const BYTES_A_LETTER = 3;

function encodingOf(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  return 'utf-8';
}

/**
 * The text of a photometric file.
 * @param fileName told in the fault
 * @param length of the whole file, where `bytes` are only its beginning
 * @returns text without a byte order mark, or a fault where the file is longer than any photometric file is
 */
export function decodeBytes(bytes: Uint8Array, fileName: string, length = bytes.length): DecodedText {
  if (length > BYTES_A_LETTER * LONGEST_FILE) {
    const found = `${(length / 1e6).toFixed(1)} MB`;
    const expected = `at most ${LONGEST_FILE / 1e6} MB; no photometric file is larger`;
    return { ok: false, fault: { file: fileName, line: null, path: '', found, expected } };
  }
  const encoding = encodingOf(bytes);
  try {
    return { ok: true, text: new TextDecoder(encoding, { fatal: true }).decode(bytes) };
  } catch {
    // Not UTF-8: every byte is a letter of the western 8-bit set, so this cannot fail.
    return { ok: true, text: new TextDecoder('windows-1252').decode(bytes) };
  }
}

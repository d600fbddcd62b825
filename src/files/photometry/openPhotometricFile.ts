/** Bytes of a photometric file to its text and what it says. */
import type { Fault } from '../../scene/faults';
import type { PhotometricFile } from '../../scene/webs/photometricFile';
import { readPhotometricText } from '../../scene/webs/readPhotometricText';
import { decodeBytes } from './decodeBytes';

export type OpenedFile =
  | { readonly ok: true; readonly text: string; readonly file: PhotometricFile }
  | { readonly ok: false; readonly fault: Fault };

/** Endings that photometric files have. */
export const PHOTOMETRIC_ENDINGS = ['.ies', '.ldt'] as const;
export const hasPhotometricEnding = (fileName: string): boolean =>
  PHOTOMETRIC_ENDINGS.some((ending) => fileName.toLowerCase().endsWith(ending));

/**
 * Reads a photometric file; the fault names the file and the line.
 * @param length of the whole file, where `bytes` are only the beginning of one too long to read
 */
export function openPhotometricFile(bytes: Uint8Array, fileName: string, length = bytes.length): OpenedFile {
  const decoded = decodeBytes(bytes, fileName, length);
  if (!decoded.ok) return decoded;
  const read = readPhotometricText(decoded.text, fileName);
  return read.ok ? { ok: true, text: decoded.text, file: read.file } : read;
}

/** The text of a photometric file to what it says, or to the fault in it; and the same for one stored in a scene. */
import type { Fault } from '../faults';
import { FileFault, LONGEST_FILE } from './fileFault';
import type { PhotometricFile } from './photometricFile';
import { looksLikeEulumdat, readEulumdat } from './readEulumdat';
import { looksLikeLm63, readLm63 } from './readLm63';

export type PhotometricResult =
  { readonly ok: true; readonly file: PhotometricFile } | { readonly ok: false; readonly fault: Fault };

function readEither(text: string): PhotometricFile {
  if (text.length > LONGEST_FILE) {
    throw new FileFault(null, `${text.length} characters`, `at most ${LONGEST_FILE}; no photometric file is longer`);
  }
  if (text.trim() === '') throw new FileFault(null, 'an empty file', 'a photometric file');
  let file: PhotometricFile;
  if (looksLikeLm63(text)) file = readLm63(text);
  else if (looksLikeEulumdat(text)) file = readEulumdat(text);
  else throw new FileFault(1, 'neither a TILT= line nor the first lines of EULUMDAT', 'a file in LM-63 or EULUMDAT');
  if (!file.candela.some((value) => value > 0)) throw new FileFault(null, 'candela of 0 everywhere', 'some light');
  return file;
}

/**
 * What the text of a photometric file says.
 * @param fileName told in the fault; nothing is read from disk
 * @returns the file, or its first fault with line, found and expected; never throws
 */
export function readPhotometricText(text: string, fileName: string): PhotometricResult {
  try {
    return { ok: true, file: readEither(text) };
  } catch (error) {
    if (!(error instanceof FileFault)) throw error;
    const { line, found, expected, sentence } = error;
    const fault = { file: fileName, line, path: '', found, expected };
    return { ok: false, fault: sentence === undefined ? fault : { ...fault, sentence } };
  }
}

interface StoredText {
  readonly fileName?: string | undefined;
  readonly name: string;
  readonly text: string;
}
/** By reference: documents share the files that they do not change, so each is read once. */
const known = new WeakMap<object, PhotometricResult>();

/** What a file stored in a scene says. */
export function readStored(stored: StoredText): PhotometricResult {
  let result = known.get(stored);
  if (!result) {
    result = readPhotometricText(stored.text, stored.fileName ?? stored.name);
    known.set(stored, result);
  }
  return result;
}

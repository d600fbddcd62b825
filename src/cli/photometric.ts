/** Photometric files on the command line: read from disk, and told in one line. */
import { readFileSync, statSync } from 'node:fs';
import { openPhotometricFile } from '../files/photometry/openPhotometricFile';
import { formatFault, onOneLine } from '../scene/faults';
import type { PhotometricFile } from '../scene/webs/photometricFile';
import { webFigures, type Spread } from '../sim/photometry/web/figures';
import { gridOf } from '../sim/photometry/web/grid';
import { CommandFault, INPUT_AT_FAULT, fileTrouble } from './call';
import { decimalText } from './format';

/** Longer files are told by their length, without reading them from disk. */
const MOST_BYTES = 8_000_000;

/**
 * The photometric file on disk.
 * @throws {CommandFault} input at fault, in one line with file and line
 */
export function readPhotometric(fileName: string): { readonly text: string; readonly file: PhotometricFile } {
  const trouble = (words: string): CommandFault =>
    new CommandFault(INPUT_AT_FAULT, [`${onOneLine(fileName, 200)}: ${words}`]);
  let bytes: Uint8Array;
  let length: number;
  try {
    length = statSync(fileName).size;
    bytes = length > MOST_BYTES ? new Uint8Array() : readFileSync(fileName);
  } catch (error) {
    throw trouble(`cannot be read, ${fileTrouble(error)}`);
  }
  const opened = openPhotometricFile(bytes, fileName, length);
  if (!opened.ok) throw new CommandFault(INPUT_AT_FAULT, [formatFault(opened.fault)]);
  return opened;
}

const fullAngle = (spread: Spread | null): string =>
  spread === null ? 'none' : `${decimalText(spread.toDeg - spread.fromDeg, 1)}°`;

/** Format, table, flux, peak and full angles across and upright, in one line. */
export function photometricLine(file: PhotometricFile): string {
  const { fluxLm, peakCd, peakOffDeg, planes } = webFigures(gridOf(file));
  const [across, upright] = planes;
  const format = file.edition === null ? 'EULUMDAT' : `LM-63 of ${file.edition}`;
  const count = file.horizontalDeg.length;
  return [
    `${format}, type ${file.system}`,
    `${count} plane${count === 1 ? '' : 's'} of ${file.verticalDeg.length} angles`,
    `${decimalText(fluxLm, 0)} lm`,
    `peak ${decimalText(peakCd, 0)} cd ${peakOffDeg < 0.05 ? 'on the axis' : `${decimalText(peakOffDeg, 1)}° off the axis`}`,
    `beam ${fullAngle(across!.beam)} across, ${fullAngle(upright!.beam)} upright`,
    `field ${fullAngle(across!.field)}, ${fullAngle(upright!.field)}`,
  ].join(', ');
}

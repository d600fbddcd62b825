/** `convert`: a photometric file from one format to the other. */
import { writeFileSync } from 'node:fs';
import { latin1Bytes } from '../files/photometry/numbersText';
import { hasPhotometricEnding, openPhotometricFile } from '../files/photometry/openPhotometricFile';
import { writeEulumdat } from '../files/photometry/writeEulumdat';
import { writeLm63 } from '../files/photometry/writeLm63';
import { onOneLine } from '../scene/faults';
import type { PhotometricFile } from '../scene/webs/photometricFile';
import { CommandFault, GOOD, INPUT_AT_FAULT, callFault, fileTrouble, type Command } from './call';
import { photometricLine, readPhotometric } from './photometric';
import { readWords } from './words';

/** Text of a file in the format that the ending of `outFile` names. */
function textFor(file: PhotometricFile, inFile: string, outFile: string): string {
  if (outFile.toLowerCase().endsWith('.ies')) return writeLm63(file);
  const written = writeEulumdat(file);
  if (!written.ok) throw new CommandFault(INPUT_AT_FAULT, [`${onOneLine(inFile, 200)}: ${written.sentence}`]);
  return written.text;
}

/** What the other format does not keep, one line each. */
function lostIn(file: PhotometricFile, kept: PhotometricFile): string[] {
  const lost: string[] = [];
  const { opening } = file;
  const same = (['shape', 'acrossM', 'upM', 'deepM'] as const).every((key) => opening[key] === kept.opening[key]);
  if (!same) lost.push('the shape of the luminous opening');
  if (file.tilt && !kept.tilt) lost.push('the table of lamp tilt');
  const words = new Set(kept.keywords.map((keyword) => keyword.text));
  const gone = file.keywords.filter((keyword) => keyword.text !== '' && !words.has(keyword.text));
  if (gone.length > 0) lost.push(`words of ${[...new Set(gone.map(({ key }) => key || 'free lines'))].join(', ')}`);
  return lost;
}

export const convertCommand: Command = {
  name: 'convert',
  usage: 'convert <in.ies | in.ldt> <out.ies | out.ldt>',
  help: `Writes a photometric file in the format that the ending of the second names: .ies is LM-63 (edition of 2002), .ldt is
EULUMDAT. All factors of the file are in its candela then. Prints what was written, and what the format cannot keep.
Good: exit 0. A file that cannot be read, or that EULUMDAT cannot hold (types A and B): one line, exit 1.`,
  run(words, output) {
    const [inFile, outFile] = readWords(words, {}, ['the file to read', 'the file to write']).files as [string, string];
    if (!hasPhotometricEnding(outFile)) {
      throw callFault(`${onOneLine(outFile, 200)} names no format; a file to write ends in .ies or .ldt`);
    }
    const { file } = readPhotometric(inFile);
    const bytes = latin1Bytes(textFor(file, inFile, outFile));
    try {
      writeFileSync(outFile, bytes);
    } catch (error) {
      throw callFault(`${onOneLine(outFile, 200)} cannot be written, ${fileTrouble(error)}`);
    }
    const kept = openPhotometricFile(bytes, outFile);
    if (!kept.ok) throw new Error(`${outFile} was written and cannot be read again`);
    const lost = lostIn(file, kept.file).map((what) => `${outFile}: not kept, ${what}\n`);
    output.out(`${outFile}: written, ${photometricLine(kept.file)}\n${lost.join('')}`);
    return GOOD;
  },
};

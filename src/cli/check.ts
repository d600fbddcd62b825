/** `check`: whether a file is a scene or a photometric file, and what in it wants care. */
import { hasPhotometricEnding } from '../files/photometry/openPhotometricFile';
import { findCautions } from '../scene/cautions';
import { GOOD, readScene, type Command } from './call';
import { photometricLine, readPhotometric } from './photometric';
import { SAFETY_LINE } from './reportText';
import { readWords } from './words';

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

export const checkCommand: Command = {
  name: 'check',
  usage: 'check <scene.json | file.ies | file.ldt>',
  help: `Validates a scene file, or a photometric file in LM-63 (.ies) or EULUMDAT (.ldt). Good: one line, exit 0; a scene's
cautions, if any, follow it.
Not good: one line for each fault with file, line and path, exit 1.`,
  run(words, output) {
    const { sceneFile } = readWords(words, {}, ['the file']);
    if (hasPhotometricEnding(sceneFile)) {
      output.out(`${sceneFile}: good, ${photometricLine(readPhotometric(sceneFile).file)}\n`);
      return GOOD;
    }
    const document = readScene(sceneFile);
    const parts = [
      counted(document.setups.length, 'setup'),
      counted(Object.keys(document.surfaces).length, 'surface'),
      counted(Object.keys(document.meters).length, 'meter'),
    ];
    const cautions = document.setups.flatMap((setup) =>
      findCautions(document, setup.id).map(({ sentence }) => `caution, setup ${setup.id}: ${sentence}`),
    );
    const lines = [`${sceneFile}: good, ${parts.join(', ')}`, ...cautions];
    if (cautions.length > 0) lines.push(SAFETY_LINE);
    output.out(`${lines.join('\n')}\n`);
    return GOOD;
  },
};

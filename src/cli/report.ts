/** `report`: meters, surfaces and sun checks of each setup, as a table or as JSON. */
import { findCautions } from '../scene/cautions';
import { buildReport, reportJson } from '../sim/report';
import { GOOD, readScene, setupIdOf, type Command } from './call';
import { reportText } from './reportText';
import { readWords } from './words';

export const reportCommand: Command = {
  name: 'report',
  usage: 'report <scene.json> [--setup <id>] [--json]',
  help: `Prints what the meters read, how even the surfaces are and whether what plays the sun reads as it,
setup by setup. With --json as farsun-report/1: a figure that cannot be said is null, with its reason beside it.
Surfaces are read at the middles of cells of 0.25 m, at least 16 each way.`,
  run(words, output) {
    const given = readWords(words, { setup: 'text', json: 'flag' });
    const document = readScene(given.sceneFile);
    const asked = given.text('setup');
    const report = buildReport(document, asked === undefined ? {} : { setupId: setupIdOf(document, asked) });
    const text = given.flag('json')
      ? `${JSON.stringify(reportJson(report), null, 2)}\n`
      : reportText(report, document, (setupId) => findCautions(document, setupId));
    output.out(text);
    return GOOD;
  },
};

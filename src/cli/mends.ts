/** `mends`: what would make the lamps of a setup read more like the sun, best first. */
import type { SceneDocument } from '../scene/schema';
import { judgePairs } from '../sim/judgement/judgeSun';
import type { Mend } from '../sim/mends/mend';
import { mendsJson } from '../sim/mends/mend';
import { findMends } from '../sim/mends/findMends';
import { sentenceWithMend } from '../sim/mends/sentenceWithMend';
import { lampPairs } from '../sim/mends/situation';
import { compileScene } from '../sim/solve/compileScene';
import { GOOD, readScene, setupIdOf, type Command } from './call';
import { columnsText, decimalText, NONE } from './format';
import { SAFETY_LINE } from './reportText';
import { VERDICT_WORDS } from './sunCheckText';
import { readWords } from './words';

const figure = (value: number | null, decimals: number): string =>
  value === null ? NONE : decimalText(value, decimals);

function tableLines(mends: readonly Mend[]): string[] {
  const head = ['', 'fall-off', 'step', 'line fan', 'edge', 'cost', 'score', 'after', 'minutes', 'hands'];
  const rows = mends.map((mend) => [
    mend.id,
    figure(mend.falloffStops, 2),
    figure(mend.stepStopsPer10cm, 2),
    figure(mend.lineFanDeg, 1),
    figure(mend.edgeRatio, 1),
    figure(mend.costStops, 1),
    figure(mend.scoreBefore, 2),
    figure(mend.scoreAfter, 2),
    String(mend.minutes),
    String(mend.hands),
  ]);
  return columnsText([head, ...rows], [false, ...Array.from({ length: 9 }, () => true)]);
}

/** Each lamp that plays the sun on each surface: the verdict in one sentence, with its cheapest mend. */
function verdictLines(document: SceneDocument, setupId: string, mends: readonly Mend[]): string[] {
  const scene = compileScene(document, setupId);
  return judgePairs(scene, lampPairs(scene)).map((check) => {
    const lamp = scene.setup.sources[check.sourceId]?.name ?? check.sourceId;
    return `${lamp}: ${VERDICT_WORDS[check.verdict]}. ${sentenceWithMend(check, mends)}`;
  });
}

/** The mends as text, ending with one line end; `verdicts` stand first. */
export function mendsText(mends: readonly Mend[], title: string, verdicts: readonly string[]): string {
  const possible = mends.filter((mend) => mend.possible);
  const refused = mends.filter((mend) => !mend.possible);
  const lines = [title, ...(verdicts.length > 0 ? ['', ...verdicts] : [])];
  if (mends.length === 0) lines.push('', 'No lamp of this setup plays the sun on a surface that it lights.');
  if (possible.length > 0) {
    lines.push('', 'Best first', ...possible.map(({ sentence }, i) => `  ${i + 1}. ${sentence}`));
    lines.push('', ...tableLines(possible).map((line) => `  ${line}`));
    lines.push(
      '',
      'Fall-off and cost in stops, step in stops per 10 cm, edge in times the sun’s; a score up to 1 reads as',
    );
    lines.push('sun, up to 2 is passable. Minutes and hands are typical (common practice, no source).');
  }
  if (refused.length > 0) {
    lines.push('', 'Cannot be had', ...refused.map(({ kind, sentence }) => `  ${kind}: ${sentence}`));
  }
  return `${[...lines, '', SAFETY_LINE].join('\n')}\n`;
}

export const mendsCommand: Command = {
  name: 'mends',
  usage: 'mends <scene.json> [--setup <id>] [--json]',
  help: `Looks for what would make the lamps that play the sun in a setup read more like it; the first setup if none is named.
Backing off, swinging, feathering, half scrims, staggered nets and narrower spots are each searched within level, space,
kit and story, and simulated. Best first; those that cannot be had come last, with the reason.
With --json as a list: a figure that cannot be said is null, with its reason beside it. Takes some seconds.`,
  run(words, output) {
    const given = readWords(words, { setup: 'text', json: 'flag' });
    const document = readScene(given.sceneFile);
    const setupId = setupIdOf(document, given.text('setup'));
    const mends = findMends(document, setupId);
    const name = document.setups.find(({ id }) => id === setupId)?.name ?? setupId;
    const text = given.flag('json')
      ? `${JSON.stringify(mendsJson(mends), null, 2)}\n`
      : mendsText(mends, `${document.name}, ${name} (${setupId})`, verdictLines(document, setupId, mends));
    output.out(text);
    return GOOD;
  },
};

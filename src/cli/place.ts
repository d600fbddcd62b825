/** `place`: which lamp of the kit, where, makes the story's sun through a window on a surface; what cannot be had. */
import { onOneLine } from '../scene/faults';
import type { SceneDocument } from '../scene/schema';
import { limitsOf, type SunLimits } from '../sim/judgement/limits';
import { findPlace } from '../sim/place/findPlace';
import type { PlaceAnswer, Placement } from '../sim/place/placeAnswer';
import type { PlaceRequest } from '../sim/place/placeRequest';
import { NOT_JUDGED } from '../sim/report';
import { callFault, GOOD, readScene, setupIdOf, surfaceIdOf, type Command } from './call';
import { decimalText, levelBand } from './format';
import { SAFETY_LINE } from './reportText';
import { sunCheckLines } from './sunCheckText';
import { numberOf, readWords, type Words } from './words';

const FARTHEST_M = 200;
const pointText = (point: readonly number[]): string => point.map((value) => decimalText(value, 2)).join(', ');

function openingIdOf(document: SceneDocument, asked: string | undefined): string {
  const ids = Object.entries(document.surfaces).flatMap(([id, { openings = {} }]) =>
    Object.keys(openings).map((openingId) => `${id}/${openingId}`),
  );
  const list = ids.length > 0 ? ids.join(', ') : 'none';
  if (asked === undefined) throw callFault(`--opening is missing; the scene has ${list}`);
  if (!ids.includes(asked)) throw callFault(`no opening "${onOneLine(asked)}" in this scene; it has ${list}`);
  return asked;
}

function sunOf(words: Words): PlaceRequest['sun'] {
  const altitudeDeg = numberOf(words, 'altitude', -90, 90);
  const azimuthDeg = numberOf(words, 'azimuth', -360, 360);
  if (altitudeDeg === undefined && azimuthDeg === undefined) return undefined;
  if (altitudeDeg === undefined || azimuthDeg === undefined) throw callFault('--altitude and --azimuth go together');
  return { altitudeDeg, azimuthDeg };
}

function kitIdsOf(document: SceneDocument, asked: string | undefined): readonly string[] | undefined {
  const lamps = Object.entries(document.kit ?? {}).flatMap(([id, { lamp }]) => (lamp ? [id] : []));
  const ids = asked?.split(',');
  const unknown = ids?.find((id) => !lamps.includes(id));
  if (unknown === undefined) return ids;
  const list = lamps.length > 0 ? lamps.join(', ') : 'none';
  throw callFault(`no lamp "${onOneLine(unknown)}" in the kit; it has ${list}`);
}

function requestOf(document: SceneDocument, words: Words): PlaceRequest {
  const farthestM = numberOf(words, 'within', 1, FARTHEST_M);
  if (farthestM === undefined) throw callFault('--within is missing: metres from the window to the farthest place');
  const [iso, tStop] = [numberOf(words, 'iso', 1, 1e7), numberOf(words, 't-stop', 0.1, 1000)];
  const sun = sunOf(words);
  const highestLensM = numberOf(words, 'highest', 0.5, 100);
  const overKeyStops = numberOf(words, 'over-key', -20, 20);
  const kitIds = kitIdsOf(document, words.text('lamps'));
  return {
    document,
    setupId: setupIdOf(document, words.text('setup')),
    surfaceId: surfaceIdOf(document, words.text('surface')),
    openingId: openingIdOf(document, words.text('opening')),
    farthestM,
    ...(sun === undefined ? {} : { sun }),
    ...(highestLensM === undefined ? {} : { highestLensM }),
    ...(kitIds === undefined ? {} : { kitIds }),
    ...(iso === undefined && tStop === undefined
      ? {}
      : { camera: { ...(iso === undefined ? {} : { iso }), ...(tStop === undefined ? {} : { tStop }) } }),
    ...(overKeyStops === undefined ? {} : { overKeyStops }),
    nets: !words.flag('no-nets'),
  };
}

/** Figures of the judgement that stand beside the placement. */
const FIGURES = [
  'falloffStops',
  'lineFanDeg',
  'fanDeg',
  'edgeRatio',
  'stepStopsPer10cm',
  'altitudeOffDeg',
  'overKeyStops',
] as const;

function placementJson(placement: Placement): Record<string, unknown> {
  const { check, setup, ...place } = placement;
  const { scores, verdict, worst, confidence, sentence } = check;
  const figures: Record<string, unknown> = {};
  for (const figure of FIGURES) {
    figures[figure] = check[figure];
    if (check[figure] === null) figures[`${figure}Reason`] = check.reasons[figure] ?? NOT_JUDGED;
  }
  const why = confidence === null ? { confidenceReason: 'too few figures are scored' } : {};
  const none = worst === null ? { worstReason: 'no figure is scored' } : {};
  return { ...place, ...figures, scores, verdict, worst, ...none, confidence, ...why, sentence, setup };
}

/** The answer as plain data for JSON; no placement is null with `placementReason`. */
export function placeJson(answer: PlaceAnswer): Record<string, unknown> {
  const { possible, placement, sentence, cannot, tried } = answer;
  return {
    possible,
    sentence,
    cannot,
    tried,
    ...(placement === null ? { placement: null, placementReason: sentence } : { placement: placementJson(placement) }),
  };
}

/** The answer as text, ending with one line end. */
export function placeText(answer: PlaceAnswer, title: string, surfaceName: string, limits: SunLimits): string {
  const { placement, cannot } = answer;
  const lines = [title, ''];
  if (placement === null) lines.push('Cannot be had', `  ${answer.sentence}`);
  else {
    const band = levelBand(placement.setup);
    lines.push(
      answer.sentence,
      '',
      `  lens at  ${pointText(placement.positionM)} m`,
      `  aimed at ${pointText(placement.aimM)} m`,
      `  patch    ${placement.fullMeanLx.toFixed(0)} lx with the lamp full up${band === null ? '' : `, ${band}`}`,
      '',
      ...sunCheckLines(placement.check, placement.lampName, surfaceName, limits).map((line) => `  ${line}`),
    );
    if (cannot.length > 0) lines.push('', 'Cannot be had', ...cannot.map((sentence) => `  ${sentence}`));
  }
  return `${[...lines, '', SAFETY_LINE].join('\n')}\n`;
}

export const placeCommand: Command = {
  name: 'place',
  usage: 'place <scene.json> --surface <id> --opening <surface/opening> --within <m> [--json]',
  help: `The other way round: finds lamp, place, height, aim and nets that make the story's sun through a window on a surface.
--within <m>                 greatest distance of the lens from the middle of the window
--highest <m>                greatest height of the lens over the ground
--altitude <°> --azimuth <°> another sun than the story's
--iso <n> --t-stop <n>       another camera than the scene's; then it alone sets key
--over-key <stops>           level of the patch over key; the story's target, else 1.5
--lamps <id,id>              lamps of the kit; all that are free if absent
--no-nets                    leaves the nets on the truck
--setup <id>                 the setup that the lamp joins; the first if absent. Lamps that play the sun there are taken out
Keeps to the drawn space, the kit, the level and 15° off the sun's place. Says what cannot be had, and why.
With --json as plain data, with the setup to try. Takes ten to thirty seconds.`,
  run(words, output) {
    const given = readWords(words, {
      surface: 'text',
      opening: 'text',
      within: 'text',
      highest: 'text',
      altitude: 'text',
      azimuth: 'text',
      iso: 'text',
      't-stop': 'text',
      'over-key': 'text',
      lamps: 'text',
      setup: 'text',
      'no-nets': 'flag',
      json: 'flag',
    });
    const document = readScene(given.sceneFile);
    const request = requestOf(document, given);
    const answer = findPlace(request);
    const surfaceName = document.surfaces[request.surfaceId]?.name ?? request.surfaceId;
    const text = given.flag('json')
      ? `${JSON.stringify(placeJson(answer), null, 2)}\n`
      : placeText(
          answer,
          `${document.name}: a sun on the ${surfaceName.toLowerCase()}`,
          surfaceName,
          limitsOf(document),
        );
    output.out(text);
    return GOOD;
  },
};

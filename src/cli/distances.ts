/** `distances`: what a lamp or a group gives on a surface from distance to distance. */
import { onOneLine } from '../scene/faults';
import type { SceneDocument } from '../scene/schema';
import { distancesCsv } from '../files/tables/distancesCsv';
import { distanceRow, distancesBetween, throwOf, type DistanceRow, type Throw } from '../sim/coverage/distanceTable';
import { NEAREST_M, rigIds } from '../sim/coverage/rig';
import { GOOD, callFault, CommandFault, INPUT_AT_FAULT, readScene, setupIdOf, surfaceIdOf, type Command } from './call';
import { columnsText, decimalText, levelBand, NONE } from './format';
import { SAFETY_LINE } from './reportText';
import { readWords, type Words } from './words';

const MOST_ROWS = 2000;

function lengthM(given: Words, name: string): number {
  const text = given.text(name);
  if (text === undefined) throw callFault(`--${name} is missing; metres`);
  const value = Number(text);
  if (!/^\d*\.?\d+$/.test(text) || !(value > 0) || value > 1000) {
    throw callFault(`--${name} must be metres above 0 and up to 1000, not "${onOneLine(text)}"`);
  }
  return value;
}

function distancesOf(given: Words): number[] {
  const [fromM, toM, stepM] = [lengthM(given, 'from'), lengthM(given, 'to'), lengthM(given, 'step')];
  if (toM < fromM) throw callFault(`--to (${toM} m) is nearer than --from (${fromM} m)`);
  if ((toM - fromM) / stepM >= MOST_ROWS) throw callFault(`more than ${MOST_ROWS} distances; take a larger --step`);
  return distancesBetween(fromM, toM, stepM);
}

function askedThrow(document: SceneDocument, setupId: string, sourceId: string | undefined, surfaceId: string): Throw {
  const setup = document.setups.find(({ id }) => id === setupId)!;
  const ids = rigIds(document, setup);
  const known = ids.length > 0 ? ids.join(', ') : 'none';
  if (sourceId === undefined) throw callFault(`--source is missing; setup "${setupId}" has ${known}`);
  if (!ids.includes(sourceId)) {
    throw callFault(`no lamp or group "${onOneLine(sourceId)}" in setup "${setupId}"; it has ${known}`);
  }
  try {
    return throwOf(document, setupId, sourceId, surfaceId);
  } catch (error) {
    if (error instanceof RangeError) throw new CommandFault(INPUT_AT_FAULT, [`farsun: ${error.message}`]);
    throw error;
  }
}

/** Rows as plain data: a figure that is null has its reason beside it. */
function rowJson(row: DistanceRow): Record<string, unknown> {
  const figure = (key: 'rangeStops' | 'minOverMean' | 'minOverMax'): Record<string, unknown> =>
    row[key] === null ? { [key]: null, [`${key}Reason`]: row.reason } : { [key]: row[key] };
  const isGroup = Object.keys(row.lampPositions).length > 1;
  return {
    distanceM: row.distanceM,
    meanLx: row.meanLx,
    ...figure('rangeStops'),
    ...figure('minOverMean'),
    ...figure('minOverMax'),
    fanDeg: row.fanDeg,
    lampPosition: row.lampPosition,
    ...(isGroup ? { lampPositions: row.lampPositions } : {}),
  };
}

function distancesText(rows: readonly DistanceRow[], title: string, band: string | null): string {
  const figure = (value: number | null, decimals: number): string =>
    value === null ? NONE : decimalText(value, decimals);
  const head = ['distance, m', 'mean, lx', 'range, stops', 'min/mean', 'min/max', 'fan, deg', 'lamp at x, y, z, m'];
  const cells = rows.map((row) => [
    figure(row.distanceM, 2),
    figure(row.meanLx, 1),
    figure(row.rangeStops, 2),
    figure(row.minOverMean, 2),
    figure(row.minOverMax, 2),
    figure(row.fanDeg, 1),
    `${row.lampPosition.map((value) => decimalText(value, 2)).join(', ')}${row.inSpace ? '' : '  outside the space'}`,
  ]);
  const table = columnsText([head, ...cells], [true, true, true, true, true, true, false]);
  const reasons = [...new Set(rows.flatMap(({ reason }) => (reason === null ? [] : [reason])))];
  return `${[
    title,
    '',
    ...table.map((line) => `  ${line}`),
    '',
    `Read at ${rows[0]?.cells ?? 0} cells, this rig's own light${band === null ? '' : `, levels ${band}`}.`,
    ...reasons.map((reason) => `${NONE}: ${reason}.`),
    '',
    SAFETY_LINE,
  ].join('\n')}\n`;
}

export const distancesCommand: Command = {
  name: 'distances',
  usage:
    'distances <scene.json> --source <id> --surface <id> --from <m> --to <m> --step <m> [--setup <id>] [--json | --csv]',
  help: `Moves a lamp along its axis, or a group of lamps square to the surface, and reads the surface at each distance;
the first setup if none is named. Distance is from the lamp along its axis to the surface; of a group the mean of its
lamps' distances square to it. Places across, heights and typed targets of a group stay.
Every row is simulated with grip and walls, at the lamps' levels, other lamps left out.
--json and --csv print rows of distanceM, meanLx, rangeStops, minOverMean, minOverMax, fanDeg, lampPosition (of a group
the middle of its lamps). A figure that cannot be said is null with its reason, or empty.`,
  run(words, output) {
    const given = readWords(words, {
      source: 'text',
      surface: 'text',
      setup: 'text',
      from: 'text',
      to: 'text',
      step: 'text',
      json: 'flag',
      csv: 'flag',
    });
    if (given.flag('json') && given.flag('csv')) throw callFault('ask for --json or for --csv, not both');
    const distances = distancesOf(given);
    const document = readScene(given.sceneFile);
    const setupId = setupIdOf(document, given.text('setup'));
    const surfaceId = surfaceIdOf(document, given.text('surface'));
    const asked = askedThrow(document, setupId, given.text('source'), surfaceId);
    let rows: DistanceRow[];
    try {
      rows = distances.map((distanceM) => distanceRow(asked, distanceM));
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      throw callFault(`${error.message}; the least distance to a surface is ${NEAREST_M} m`);
    }
    const names = `${asked.rig.lamps.map(({ lamp }) => lamp.name).join(' + ')} on ${document.surfaces[surfaceId]!.name}`;
    if (given.flag('json')) output.out(`${JSON.stringify(rows.map(rowJson), null, 2)}\n`);
    else if (given.flag('csv')) output.out(distancesCsv(rows));
    else output.out(distancesText(rows, `${document.name}, ${names} (${setupId})`, levelBand(asked.rig.setup)));
    return GOOD;
  },
};

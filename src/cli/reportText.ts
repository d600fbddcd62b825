/** The report as text to read: one block a setup, columns lined up. */
import type { Caution } from '../scene/cautions';
import type { SceneDocument, Setup } from '../scene/schema';
import { limitsOf } from '../sim/judgement/limits';
import type { MeterReport, SceneReport, SetupReport, SurfaceReport } from '../sim/results';
import { formatCct, formatDuv, formatIlluminance, formatPercent, formatStops } from '../scene/units/format';
import { NONE, columnsText, decimalText, levelBand } from './format';
import { sunCheckLines } from './sunCheckText';

/** Every sheet ends with it. */
export const SAFETY_LINE =
  'Follow local code. A licensed electrician, a qualified rigger or a competent person decides.';

/** Sources that give less than this part of a level are not named. */
const WORTH_NAMING = 0.005;

const indented = (lines: readonly string[]): string[] => lines.map((line) => `  ${line}`);
const block = (title: string, lines: readonly string[]): string[] =>
  lines.length > 0 ? ['', title, ...indented(lines)] : [];

function litBy(meter: MeterReport, setup: Setup): string {
  const shares = meter.bySource
    .map(({ sourceId, illuminanceLx }) => ({ sourceId, share: illuminanceLx / meter.illuminanceLx }))
    .filter(({ share }) => share >= WORTH_NAMING)
    .sort((one, other) => other.share - one.share)
    .map(({ sourceId, share }) => `${setup.sources[sourceId]?.name ?? sourceId} ${formatPercent(share)}`);
  return shares.length > 0 ? shares.join(', ') : 'no light';
}

function meterLines(meters: readonly MeterReport[], setup: Setup): string[] {
  if (meters.length === 0) return [];
  const rows = meters.map((meter) => [
    meter.name,
    formatIlluminance(meter.illuminanceLx, 'lux'),
    formatIlluminance(meter.illuminanceLx, 'footcandles'),
    meter.stopsFromCamera === null ? NONE : formatStops(meter.stopsFromCamera),
    meter.cctK === null ? NONE : formatCct(meter.cctK),
    meter.duv === null ? NONE : formatDuv(meter.duv),
    litBy(meter, setup),
  ]);
  const head = ['', 'lux', 'footcandles', 'stops off', 'CCT', 'Duv', 'lit by'];
  return columnsText([head, ...rows], [false, true, true, true, true, true, false]);
}

function surfaceLines(surfaces: readonly SurfaceReport[]): string[] {
  if (surfaces.length === 0) return [];
  const rows = surfaces.map((surface) => [
    surface.name,
    formatIlluminance(surface.minLx, 'lux'),
    formatIlluminance(surface.maxLx, 'lux'),
    formatIlluminance(surface.meanLx, 'lux'),
    surface.uniformityMinOverMean === null ? NONE : decimalText(surface.uniformityMinOverMean, 2),
    surface.rangeStops === null ? NONE : decimalText(surface.rangeStops, 1),
    `${surface.columns} x ${surface.rows}`,
  ]);
  const head = ['', 'min', 'max', 'mean', 'min/mean', 'range, stops', 'cells'];
  return columnsText([head, ...rows], [false, true, true, true, true, true, true]);
}

function setupLines(report: SetupReport, document: SceneDocument, cautions: readonly Caution[]): string[] {
  const setup = document.setups.find((candidate) => candidate.id === report.id);
  if (!setup) return [];
  const band = levelBand(setup);
  const checks = report.sunChecks.flatMap((check, index) => {
    const source = setup.sources[check.sourceId]?.name ?? check.sourceId;
    const surface = document.surfaces[check.surfaceId]?.name ?? check.surfaceId;
    return [...(index > 0 ? [''] : []), ...sunCheckLines(check, source, surface, limitsOf(document))];
  });
  return [
    `${report.name} (${report.id})`,
    ...block(`Meters${band ? `, levels ${band}` : ''}`, meterLines(report.meters, setup)),
    ...block('Surfaces', surfaceLines(report.surfaces)),
    ...block('Does it read as the sun?', checks),
    ...block(
      'Cautions',
      cautions.map(({ sentence }) => sentence),
    ),
  ];
}

/**
 * The report as text, ending with one line end.
 * @param cautionsOf cautions of a setup by its id
 */
export function reportText(
  report: SceneReport,
  document: SceneDocument,
  cautionsOf: (setupId: string) => readonly Caution[],
): string {
  const head = document.production === undefined ? report.scene : `${document.production}: ${report.scene}`;
  const setups = report.setups.flatMap((setup) => ['', ...setupLines(setup, document, cautionsOf(setup.id))]);
  return `${[head, ...setups, '', SAFETY_LINE].join('\n')}\n`;
}

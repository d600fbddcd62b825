/** What the reading strip says about one point. */
import { frameFromPose, localFromWorld } from '../../scene/geometry/frames';
import { reflectedStopsFromMidGrey, stopsFromCamera, tStopForIlluminance } from '../../sim/exposure/exposure';
import type { SceneDocument } from '../../scene/schema';
import {
  formatAngle,
  formatCct,
  formatDuv,
  formatIlluminance,
  formatLength,
  formatPercent,
  formatStops,
  formatTStop,
} from '../../scene/units/format';
import type { PlaceReading } from '../stores/results';
import { setupOf } from '../tools/things';
import { bandOf, listed, type Units } from './format';

export interface ReadingFigure {
  readonly key: 'place' | 'level' | 'stops' | 'tStop' | 'reflected' | 'colour' | 'who' | 'difference';
  readonly label: string;
  readonly value: string;
}

/** Shares below this are not worth a name in the strip. */
const LEAST_SHARE = 0.005;

function whoLights(document: SceneDocument, setupId: string, { reading }: PlaceReading): string {
  const sources = setupOf(document, setupId)?.sources ?? {};
  const parts = reading.bySource
    .filter(({ illuminanceLx }) => illuminanceLx > reading.illuminanceLx * LEAST_SHARE && illuminanceLx > 0)
    .sort((a, b) => b.illuminanceLx - a.illuminanceLx)
    .map(({ sourceId, illuminanceLx, incidenceDeg }) => {
      const name = sources[sourceId]?.name ?? sourceId;
      const angle = incidenceDeg === null ? '' : ` at ${formatAngle(incidenceDeg, 'verdict')}`;
      return `${name} ${formatPercent(illuminanceLx / reading.illuminanceLx)}${angle}`;
    });
  return listed(parts) || 'nothing';
}

/** All figures of a reading, most wanted first. */
export function readingFigures(
  document: SceneDocument,
  setupId: string,
  at: PlaceReading,
  units: Units,
): ReadingFigure[] {
  const surface = document.surfaces[at.place.surfaceId];
  if (!surface) return [];
  const { right, up } = localFromWorld(frameFromPose(surface.pose), at.place.atM);
  const length = (value: number): string => formatLength(value, units.length);
  const { illuminanceLx, cctK, duv, bySource } = at.reading;
  const sources = setupOf(document, setupId)?.sources ?? {};
  const lighting = bySource.filter((part) => part.illuminanceLx > 0).flatMap(({ sourceId }) => sources[sourceId] ?? []);
  const stops = stopsFromCamera(illuminanceLx, document.camera);
  const reflected =
    surface.reflectance === undefined
      ? null
      : reflectedStopsFromMidGrey(illuminanceLx, surface.reflectance, document.camera);
  const colour = cctK === null ? '-' : `${formatCct(cctK)}${duv === null ? '' : `, Duv ${formatDuv(duv)}`}`;
  return [
    { key: 'place', label: `Reading, ${surface.name}`, value: `${length(right)} across, ${length(up)} up` },
    {
      key: 'level',
      label: illuminanceLx > 0 ? `Illuminance, ${bandOf(lighting)}` : 'Illuminance',
      value: `${formatIlluminance(illuminanceLx, 'lux')}  ${formatIlluminance(illuminanceLx, 'footcandles')}`,
    },
    {
      key: 'stops',
      label: `Off ${formatTStop(document.camera.tStop)}`,
      value: stops === null ? 'no light' : `${formatStops(stops)} stops`,
    },
    { key: 'tStop', label: 'Meter says', value: formatTStop(tStopForIlluminance(illuminanceLx, document.camera)) },
    {
      key: 'reflected',
      label: 'Reflected, over mid-grey',
      value: reflected === null ? '-' : `${formatStops(reflected)} stops`,
    },
    { key: 'colour', label: 'Colour', value: colour },
    { key: 'who', label: 'Who lights it', value: whoLights(document, setupId, at) },
  ];
}

/** How the point compares with the pinned one: in stops, and by how much light. */
export function differenceFigure(at: PlaceReading, pinned: PlaceReading): ReadingFigure {
  const [here, there] = [at.reading.illuminanceLx, pinned.reading.illuminanceLx];
  const value =
    here > 0 && there > 0 ? `${formatStops(Math.log2(here / there))} stops, ×${(here / there).toFixed(2)}` : '-';
  return { key: 'difference', label: 'Against the pin', value };
}

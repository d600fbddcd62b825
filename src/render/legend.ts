/** Ticks and the reference wedge of a heat map's legend. */
import type { Camera } from '../scene/schema';
import { keyIlluminanceLx } from '../sim/exposure/exposure';
import { formatLevel, formatThirds, illuminanceUnit, MINUS, unitLx, type UnitChoice } from './format';
import { placeOnScale, type HeatScale, type HeatValues } from './heatMap';

export interface LegendTick {
  /** 0 at the foot, 1 at the top. */
  readonly place: number;
  /** Empty for a minor tick. */
  readonly label: string;
}
export interface Legend {
  readonly title: string;
  readonly note: string | null;
  readonly ticks: readonly LegendTick[];
  readonly wedge: { readonly place: number; readonly label: string } | null;
  /** Said at the ends when cells lie outside the range: "over 4", "under -4". */
  readonly over: string | null;
  readonly under: string | null;
}

function tideTicks(scale: HeatScale): LegendTick[] {
  const first = Math.round(2 * Math.log10(scale.minimum));
  const last = Math.round(2 * Math.log10(scale.maximum));
  return Array.from({ length: last - first + 1 }, (_, step) => ({
    place: step / (last - first),
    label: String(Number((10 ** ((first + step) / 2)).toPrecision(2))),
  }));
}

function balanceTicks(scale: HeatScale): LegendTick[] {
  const thirds = Math.round((scale.maximum - scale.minimum) * 3);
  return Array.from({ length: thirds + 1 }, (_, step) => {
    const stops = scale.minimum + step / 3;
    const whole = step % 3 === 0;
    return { place: step / thirds, label: whole ? formatThirds(stops) : '' };
  });
}

/** What the reference is called: the camera's T-stop when it is the level that the camera is set for, else the level. */
export function referenceName(referenceLx: number, camera: Camera, units: UnitChoice): string {
  const key = keyIlluminanceLx(camera);
  return Math.abs(Math.log2(referenceLx / key)) < 0.02 ? `T${camera.tStop}` : formatLevel(referenceLx, units);
}

/** Legend of a map; the wedge is left out where the reference lies outside the range. */
export function legendOf(
  heat: HeatValues,
  scale: HeatScale,
  referenceLx: number,
  camera: Camera,
  units: UnitChoice,
): Legend {
  const name = referenceName(referenceLx, camera, units);
  if (scale.map === 'tide') {
    const place = placeOnScale(scale, referenceLx / unitLx(units));
    return {
      title: illuminanceUnit(units),
      note: null,
      ticks: tideTicks(scale),
      wedge: place >= 0 && place <= 1 ? { place, label: name } : null,
      over: null,
      under: null,
    };
  }
  const ends = rangeEnds(heat.values, scale);
  const isOverSun = heat.quantity === 'lampOverSun';
  return {
    title: 'stops',
    note: isOverSun ? levelledNote(heat.levelledStops) : `off ${name}`,
    ticks: balanceTicks(scale),
    wedge: isOverSun ? null : { place: 0.5, label: name },
    over: ends.over ? `over ${scale.maximum}` : null,
    under: ends.under ? `under ${MINUS}${-scale.minimum}` : null,
  };
}

function levelledNote(levelledStops: number): string {
  if (Math.abs(levelledStops) < 0.05) return 'lamp over sun';
  return `sun ${Math.abs(levelledStops).toFixed(1)} ${levelledStops > 0 ? 'down' : 'up'}`;
}

function rangeEnds(values: Float32Array, scale: HeatScale): { over: boolean; under: boolean } {
  let [over, under] = [false, false];
  for (const value of values) {
    if (value > scale.maximum) over = true;
    else if (value < scale.minimum) under = true;
  }
  return { over, under };
}

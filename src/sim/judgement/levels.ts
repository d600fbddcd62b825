/** How the patch stands over the room's ambience and over key. */
import { keyIlluminanceLx, MID_GREY_REFLECTANCE } from '../exposure/exposure';
import { localFromWorld } from '../../scene/geometry/frames';
import type { SunCheck } from '../results';
import type { CompiledScene, CompiledSource } from '../solve/compiled';
import { readMeter } from '../solve/solvePoint';
import { ALL_ROLES } from '../solve/sourceIntegrator';
import { integratorOn } from './lightSums';
import type { JudgedPatch } from './windows';

/** Less light than this is no ambience, lx. */
const NO_AMBIENCE_LX = 0.1;
/** Reflectance of a surface that states none: a mid-toned painted wall (common practice, no source). */
export const ASSUMED_REFLECTANCE = 0.5;
const MOST_CELLS = 400;

/** Stops of the patch over the same patch without the lamp. */
export const stopsOverAmbience = (onLx: number, offLx: number): number => Math.log2(onLx / offLx);
/** Stops of the wall's luminance over mid-grey at key. */
export const stopsOverKey = (reflectance: number, onLx: number, keyLx: number): number =>
  Math.log2((reflectance * onLx) / (MID_GREY_REFLECTANCE * keyLx));

/** Mean light of some sources on the patch, at their levels, lx. */
function meanOnPatchLx(
  scene: CompiledScene,
  { surface, patch }: JudgedPatch,
  sources: readonly CompiledSource[],
): number {
  const stride = Math.max(1, Math.floor(patch.cells.length / MOST_CELLS));
  let total = 0;
  for (const other of sources) {
    if (other.level === 0) continue;
    const integrator = integratorOn(scene, other, surface);
    let [sum, cells] = [0, 0];
    for (let i = 0; i < patch.points.length; i += stride) {
      const { right, up } = localFromWorld(surface.frame, patch.points[i]!);
      cells++;
      if (integrator.moveTo(right, up)) sum += integrator.illuminanceLx(ALL_ROLES);
    }
    total += (other.level * sum) / cells;
  }
  return total;
}

/** Key level: the key meter's reading, else typed, else what the camera's exposure asks for; lx. */
export function keyLx(scene: CompiledScene): number {
  const { story, camera, meters } = scene.document;
  if (story?.keyMeterId !== undefined && meters[story.keyMeterId]) {
    const meter = meters[story.keyMeterId]!;
    const measured = meter.reading?.illuminanceLx ?? readMeter(scene, story.keyMeterId).illuminanceLx;
    if (measured > 0) return measured;
  }
  return story?.keyLx ?? keyIlluminanceLx(camera);
}

/**
 * Fills in the two levels, or why there are none. Ambience is typed (story) plus the other sources' direct light; light
 * that the room sends back is left out.
 * @source judgement definition 2.11
 */
export function judgeLevels(scene: CompiledScene, judged: JudgedPatch, check: SunCheck): void {
  const { source, surface, patch } = judged;
  if (source.source.type === 'sun') {
    check.reasons.overAmbienceStops = check.reasons.overKeyStops = 'the real sun sets no level to match';
    return;
  }
  const level = source.level > 0 ? source.level : 1;
  let [sum, area] = [0, 0];
  patch.cells.forEach((cell, i) => {
    sum += patch.areaM2[i]! * patch.sums.allLx[cell]!;
    area += patch.areaM2[i]!;
  });
  const others = scene.sources.filter(({ id }) => id !== source.id);
  // The lamp's light by other ways, past a mirror or off one, goes out with it.
  const itsOwn = scene.sources.filter((other) => other.id === source.id && other !== source);
  const offLx = (scene.document.story?.ambienceLx ?? 0) + meanOnPatchLx(scene, judged, others);
  const onLx = offLx + (level * sum) / area + meanOnPatchLx(scene, judged, itsOwn);
  if (offLx < NO_AMBIENCE_LX) check.reasons.overAmbienceStops = 'no ambience: type the room’s level';
  else check.overAmbienceStops = stopsOverAmbience(onLx, offLx);
  const reflectance = scene.document.surfaces[surface.id]?.reflectance;
  if (reflectance === undefined) check.flags.push('reflectanceAssumed');
  check.overKeyStops = stopsOverKey(reflectance ?? ASSUMED_REFLECTANCE, onLx, keyLx(scene));
}

/**
 * What a lamp sends by direction, far away: candela of the compiled source by the profile that the kernel integrates, as one
 * grid that the plots and figures of photometric files take, and the lumens that leave it.
 */
import { blackenedM } from '../../scene/blackEdges';
import type { Lamp, SceneDocument } from '../../scene/schema';
import { webFigures, type WebFigures } from '../photometry/web/figures';
import { axisOf, valueTowards, type WebGrid } from '../photometry/web/grid';
import type { CompiledSource, LitSector } from './compiled';
import { compileSource, fluxPerCandela } from './compileSources';
import { shareTowards, virtualDisc } from './lensedSpot';
import { profileShare } from './profile';

/** Candela towards a unit direction by its parts along the axis, to the lamp's right and to its up, seen from behind. */
type FarField = (along: number, right: number, up: number) => number;

/**
 * Half of the integral of cos(t - towards) over the turns that glow and are seen: 1 for a whole round. `towards` is from the
 * sector's middle.
 */
function roundShare({ halfRad }: LitSector, towards: number): number {
  let share = 0;
  // Turns repeat: the sector may be met once more on the far side.
  for (const turn of [-2 * Math.PI, 0, 2 * Math.PI]) {
    const from = Math.max(-halfRad, towards + turn - Math.PI / 2);
    const to = Math.min(halfRad, towards + turn + Math.PI / 2);
    if (to > from) share += (Math.sin(to - towards - turn) - Math.sin(from - towards - turn)) / 2;
  }
  return share;
}

/** Share of the whole lit face that a strip's cells leave glowing, by their levels, within black edges. */
function cellsShare(lamp: Lamp): number {
  const { emitter } = lamp;
  if (emitter.shape !== 'rectangle' || emitter.cells === undefined || lamp.distribution.kind === 'lensed') return 1;
  const { count, glowShare = 1, levels = [] } = emitter.cells;
  const { leftM, rightM } = blackenedM(lamp);
  const pitchM = emitter.widthM / count;
  let glowingM = 0;
  for (let cell = 0; cell < count; cell++) {
    const fromM = (cell + (1 - glowShare) / 2) * pitchM;
    const seenM = Math.min(fromM + glowShare * pitchM, emitter.widthM - rightM) - Math.max(fromM, leftM);
    glowingM += Math.max(0, seenM) * (levels[cell] ?? 1);
  }
  return glowingM / (emitter.widthM - leftM - rightM);
}

/** A flat face, or a point; a lensed spot's disc is seen through its lens. */
function flatField({ profile, shape, peakCandela }: CompiledSource, lamp: Lamp): FarField {
  const { distribution } = lamp;
  const disc = distribution.kind === 'lensed' ? virtualDisc(distribution) : null;
  const lens = disc && { ...disc, lensRadiusM: disc.lensRadiusM - blackenedM(lamp).ringM };
  const allRound = profile.kind === 'web' || (shape.kind === 'point' && profile.kind === 'flat');
  const peak = peakCandela * cellsShare(lamp);
  return (along, right, up) => {
    if (!allRound && along <= 0) return 0;
    const seen = lens ? shareTowards(lens, Math.hypot(right, up) / along) : 1;
    const [x, y] = allRound ? [right, up] : [right / along, up / along];
    return seen === 0 ? 0 : peak * seen * profileShare(profile, along, x, y);
  };
}

/** Candela of a lamp at full level by direction. */
function fieldOf(source: CompiledSource, lamp: Lamp): FarField {
  const { shape, profile, peakCandela } = source;
  if (profile.kind === 'web' && (shape.kind === 'sphere' || shape.kind === 'tube')) {
    return (along, right, up) => peakCandela * valueTowards(profile.grid, along, right, up);
  }
  if (shape.kind === 'sphere') return () => peakCandela;
  if (shape.kind === 'tube') {
    const { lit } = shape;
    // The tube lies along the lamp's right, its sector about the aim.
    return (along, _right, up) =>
      peakCandela * Math.hypot(along, up) * (lit ? roundShare(lit, Math.atan2(up, along)) : 1);
  }
  return flatField(source, lamp);
}

const RINGS = 1200;
const TURNS = 96;

/** Lumens of a field by plain summing over rings of equal steps of angle. */
function summedFlux(field: FarField): number {
  let flux = 0;
  for (let ring = 0; ring < RINGS; ring++) {
    const angle = ((ring + 0.5) * Math.PI) / RINGS;
    const [along, out] = [Math.cos(angle), Math.sin(angle)];
    let candela = 0;
    for (let turn = 0; turn < TURNS; turn++) {
      const round = ((turn + 0.5) * 2 * Math.PI) / TURNS;
      candela += field(along, out * Math.cos(round), out * Math.sin(round));
    }
    flux += (candela / TURNS) * 2 * Math.PI * out * (Math.PI / RINGS);
  }
  return flux;
}

/** Lumens that leave the lamp: in closed form or along one angle where its profile is round and nothing cuts it. */
function leavingFlux(source: CompiledSource, lamp: Lamp, field: FarField): number {
  const { profile, shape } = source;
  const isCut = profile.kind === 'projection' && (profile.cuts.length > 0 || profile.pattern !== null);
  if (isCut || profile.kind === 'crated' || lamp.distribution.kind === 'lensed') return summedFlux(field);
  return source.peakCandela * cellsShare(lamp) * fluxPerCandela(profile, shape);
}

/** Steps over four times the half beam, where the curve bends, and elsewhere, degrees. */
const FINE_STEPS = 240;
const COARSE_STEP_DEG = 0.5;
/** Light of a flat face ends at a right angle: a step there is drawn as one. */
const STEP_DEG = 1e-4;

function anglesDeg(field: FarField, peak: number): number[] {
  let beam = 0;
  while (beam < 90 && Math.max(...planes(field, beam)) > peak / 2) beam += 0.05;
  const fineDeg = Math.min(90, 4 * Math.max(0.1, beam));
  const angles = Array.from({ length: FINE_STEPS }, (_, i) => (i * fineDeg) / FINE_STEPS);
  for (let angle = fineDeg; angle < 180; angle += COARSE_STEP_DEG) angles.push(angle);
  return [...new Set([...angles, 90, 90 + STEP_DEG, 180])].sort((a, b) => a - b);
}
/** To the right, to the top, to the left and to the foot. */
function planes(field: FarField, angleDeg: number): readonly number[] {
  const radians = (angleDeg * Math.PI) / 180;
  const [along, out] = angleDeg === 90 ? [1e-12, 1] : [Math.cos(radians), Math.sin(radians)];
  return [field(along, out, 0), field(along, 0, out), field(along, -out, 0), field(along, 0, -out)];
}

export interface LampSpread {
  /** The two planes through the axis: across and upright. What lies between them is not in it. */
  readonly grid: WebGrid;
  readonly figures: WebFigures;
}

/**
 * Spread of a lamp's light at full level, with what dims or shapes all of it (gels, an egg crate, black edges, shutters and
 * pattern of a projection spot, cells at their levels).
 * @returns null for a lamp that gives no light
 * @remarks Left out: scrims in the slots, doors and snoot; the dimmer; the blur of a picture that is in focus nearer by. Figures are those of the two planes; the peak is the
 *   largest candela in them. Angles of half and a tenth of the peak are good to a hundredth of a degree, lumens of cut,
 *   crated and lensed lamps to a thousandth.
 */
export function lampSpread(lamp: Lamp, document: Pick<SceneDocument, 'northDeg' | 'webs'>): LampSpread | null {
  const source = compileSource('lamp', lamp, document);
  const field = fieldOf(source, lamp);
  const rough = Array.from({ length: 361 }, (_, i) => Math.max(...planes(field, i / 2)));
  const peak = Math.max(...rough);
  if (!(peak > 0)) return null;
  const angles = anglesDeg(field, peak);
  const grid: WebGrid = {
    system: 'C',
    rows: axisOf(Float64Array.from(angles, (angle) => (angle * Math.PI) / 180)),
    columns: axisOf(Float64Array.from([0, 0.5, 1, 1.5, 2], (turn) => turn * Math.PI)),
    values: Float64Array.from(angles.flatMap((angle) => [...planes(field, angle), planes(field, angle)[0]!])),
  };
  return { grid, figures: { ...webFigures(grid), fluxLm: leavingFlux(source, lamp, field) } };
}

/**
 * Direct illuminance of one source at receivers on one plane, behind everything that blocks or dims it, for callers
 * that choose their receivers one by one (meters, the judgement's sums). Whole grids go through receiverTree.ts.
 */
import type { Role } from '../../scene/schema';
import type { Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer, CompiledSource } from './compiled';
import { ROLE_BITS, type ReceiverPlane } from './edgeTable';
import type { Quality } from './quality';
import { ReceiverLight, type KernelMode } from './receiverLight';

export const ALL_ROLES: readonly Role[] = ['set', 'cut', 'shade', 'spread'];

/** Steps to the next receiver that a cell reaches to either side: one sorting of the pieces serves them all. */
const CELL_STEPS = 6;
/** A cell wider than this, left behind by a leap, sorts out too little for the small steps that follow. */
const WIDE_CELL_STEPS = 30;

const bitsOf = (roles: readonly Role[]): number => {
  let bits = 0;
  for (let i = 0; i < roles.length; i++) bits |= ROLE_BITS[roles[i]!];
  return bits;
};

export class SourceIntegrator {
  private readonly source: CompiledSource;
  private readonly quality: Quality;
  private readonly layers: readonly BlockerLayer[];
  private light: ReceiverLight | null = null;
  /** Centre and half size of the cell whose pieces are sorted; none while the half size is below 0. */
  private readonly cell = new Float64Array([0, 0, -1]);
  private readonly last = new Float64Array([NaN, NaN]);
  private level = 0;

  /** @param layers everything that may stand in the source's light (`layersInLight`) */
  constructor(source: CompiledSource, layers: readonly BlockerLayer[], quality: Quality) {
    this.source = source;
    this.quality = quality;
    this.layers = layers;
  }

  /** Sets the receivers' plane; `ignored` layers are those that the receivers lie on. */
  usePlane(plane: ReceiverPlane, ignored: (layer: BlockerLayer) => boolean): void {
    const layers = this.layers.filter((layer) => !ignored(layer));
    this.light = new ReceiverLight(this.source, layers, plane, this.quality, 2);
    this.cell[2] = -1;
    this.last.fill(NaN);
  }

  /**
   * Takes the receiver at origin + x X + y Y as the present one and works out what stands in its light.
   * @returns false where the source cannot reach it whatever stands between: behind the lamp, below the horizon
   * @throws {Error} before `usePlane`
   */
  moveTo(x: number, y: number): boolean {
    const light = this.present();
    this.sortAround(light, x, y);
    light.occlusion.at[0] = x;
    light.occlusion.at[1] = y;
    return light.place();
  }

  /**
   * Callers step through neighbours; pieces that miss or cover the light of all of them are sorted out once. The
   * sorting is safe for every receiver of the cell, so it changes no result.
   */
  private sortAround(light: ReceiverLight, x: number, y: number): void {
    const { cell, last } = this;
    const step = Math.max(Math.abs(x - last[0]!), Math.abs(y - last[1]!));
    last[0] = x;
    last[1] = y;
    const inCell = Math.max(Math.abs(x - cell[0]!), Math.abs(y - cell[1]!)) <= cell[2]!;
    const isTooWide = step > 0 && cell[2]! > WIDE_CELL_STEPS * step;
    if (inCell && !isTooWide) return;
    const { occlusion } = light;
    cell[2] = -1;
    this.level = 0;
    if (!(step > 0)) return; // the first receiver: nothing is known about the next
    const half = CELL_STEPS * step;
    occlusion.at[0] = x;
    occlusion.at[1] = y;
    occlusion.half.fill(half);
    occlusion.narrow(0, 0, false);
    this.level = 1;
    cell[0] = x;
    cell[1] = y;
    cell[2] = half;
  }

  private present(): ReceiverLight {
    if (this.light === null) throw new Error('usePlane comes before the first receiver');
    return this.light;
  }

  /**
   * Illuminance of the present receiver at level 1, lx, counting the layers whose role is in `roles`.
   * @param mode `bare` leaves out a projection spot's field edge and shutters
   */
  illuminanceLx(roles: readonly Role[], mode: 'full' | 'bare' = 'full'): number {
    return Math.max(0, this.integrate(roles, mode)[0]!);
  }

  /** Unit vector to the middle of the light that arrives, counting the layers in `roles` (weighted by the face's area). */
  arrivalDirection(roles: readonly Role[]): Vec3 {
    const [area, u, v] = this.integrate(roles, 'area');
    const { towards: w, halfU: U, halfV: V } = this.present().face;
    const [atU, atV] = area! > 0 ? [u! / area!, v! / area!] : [0, 0];
    const centre = [0, 1, 2].map((i) => w[i]! + atU * U[i]! + atV * V[i]!);
    const size = Math.hypot(...centre);
    return [centre[0]! / size, centre[1]! / size, centre[2]! / size];
  }

  /** Largest error of the last integral from too many overlapping half-shadows, lx; 0 almost always. */
  get unresolvedLx(): number {
    return this.present().integral.unresolved;
  }

  private integrate(roles: readonly Role[], mode: KernelMode): Float64Array {
    const light = this.present();
    light.integrate(this.level, bitsOf(roles), mode);
    return light.integral.total;
  }
}

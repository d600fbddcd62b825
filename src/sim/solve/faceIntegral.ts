/**
 * The kernel over the visible part of a face: clips the face's polygon, expands the product over layers, sums moments.
 *
 * With groups g = 0, 1, ... of transmittance t + Σ c [piece], F(g, polygon) = t F(g + 1, polygon) + Σ c F(g + 1, polygon
 * ∩ piece), down to the kernel over the clipped polygon. Soft edges come out exact; nothing is sampled.
 */
import type { Vec3 } from '../../scene/geometry/vector';
import { uniformPolygonIlluminance } from '../photometry/closedForms';
import { partsBetween } from './creases';
import { MOMENT_COUNT, PatchStore, SLIM_MOMENT_COUNT } from './clipping';
import type { EmitterFace } from './emitterFace';
import { FaceCover } from './faceCover';
import { fitQuadratic, multiply, type Kernel } from './kernel';
import { Weave } from './weave';

/** Cells that a face is split into along one axis at most. */
const MOST_CELLS = 64;
/** Cells up to which the series is preferred to the closed form of a near, evenly bright polygon. */
const FEW_CELLS = 6;
/** Clipped polygons that a part of the face may cost; past that it is quartered. */
const MOST_LEAVES = 2048;
/** Times that a part may be quartered. What is left is bounded, not clipped: see `unresolved`. */
const QUARTERINGS = 6;

/** light: illuminance; area: the visible face's own area and first moments. */
export type Measure = 'light' | 'area';

export class FaceIntegral {
  /** The integral, and of the measure `area` its first moments in u and v. */
  readonly total = new Float64Array(3);
  /** Largest error of the integral from parts of the face behind too many overlapping half-shadows, same unit. */
  unresolved = 0;
  /** The receiver's horizon where it crosses the face: h0, hu, hv. */
  readonly horizon = new Float64Array(3);
  horizonCrosses = false;
  /** Lines in u and in v, in order, at which the light bends: no part of the face runs across one, and none is lit outside. */
  creases: readonly [u: readonly number[], v: readonly number[]] | null = null;
  private readonly store: PatchStore;
  /** What covers the face, and by quarterings the parts of it. */
  private readonly covers: FaceCover[];
  private cover: FaceCover;
  private readonly face: EmitterFace;
  private readonly kernel: Kernel;
  private readonly weave: Weave;
  private readonly receiverNormal: Vec3;
  private readonly evenFace: boolean;
  private measure: Measure = 'light';
  private byContour = false;
  /** The face is so slim that its kernel is taken to fourth order along u. */
  private alongU = false;
  /** Moments of the whole face, which leaves that nothing clips are so often made of; none for a face that turns. */
  private readonly wholeMoments: Float64Array | null;
  /** Middle (u, v) and half sizes of the present cell of the face. */
  private readonly cell = new Float64Array([0, 0, 1, 1]);
  /** What the groups that cover the present quarter alike let through. */
  private partShare = 1;
  private readonly cut = new Float64Array(3);
  private readonly moments = new Float64Array(SLIM_MOMENT_COUNT);
  private readonly factor = new Float64Array(SLIM_MOMENT_COUNT);
  /** By depth: what the groups met so far let through, and which kernel (the bare one times their weaves) holds. */
  private readonly shares: Float64Array;
  private readonly kernelAt: Int32Array;
  private readonly kernels: readonly Float64Array[];
  private readonly weaves: readonly Float64Array[];

  /**
   * @param turns    the face's corners change from receiver to receiver
   * @param evenFace the face is evenly bright and read by a flat receptor: then a near polygon has a closed form
   */
  constructor(
    cover: FaceCover,
    face: EmitterFace,
    kernel: Kernel,
    receiverNormal: Vec3,
    turns: boolean,
    evenFace: boolean,
  ) {
    this.cover = cover;
    this.covers = [cover];
    this.face = face;
    this.kernel = kernel;
    this.receiverNormal = receiverNormal;
    this.evenFace = evenFace;
    this.weave = new Weave(face);
    const depth = cover.groups.length + 2;
    this.shares = new Float64Array(depth);
    this.kernelAt = new Int32Array(depth);
    this.kernels = Array.from({ length: depth }, () => new Float64Array(SLIM_MOMENT_COUNT));
    this.weaves = Array.from({ length: depth }, () => new Float64Array(SLIM_MOMENT_COUNT));
    this.store = new PatchStore(face.round);
    this.wholeMoments = turns && !face.round ? null : new Float64Array(SLIM_MOMENT_COUNT);
    if (this.wholeMoments !== null)
      this.store.moments(0, this.store.start(face.corners), this.cell, false, this.wholeMoments);
  }

  /** Kernel and weaves at the middle of the face: all there is of a point. */
  atPoint(): void {
    const { cover, kernel, total } = this;
    let share = cover.share;
    for (let i = 0; i < cover.wovenCount; i++) {
      this.weave.layer = cover.groups[cover.woven[i]!]!.layer!;
      share *= this.weave.value();
    }
    if (this.measure === 'light') {
      kernel.uv[0] = 0;
      kernel.uv[1] = 0;
      share *= kernel.value();
    }
    total[0] = share;
  }

  begin(measure: Measure): void {
    this.measure = measure;
    this.unresolved = 0;
    this.total[0] = 0;
    this.total[1] = 0;
    this.total[2] = 0;
  }

  /** Whether the present receiver's light may be taken along u to fourth order; then fewer cells do. */
  takesAlongU(): boolean {
    return this.face.slim && !this.kernel.isFitted && !this.cover.meetsWeave();
  }

  /**
   * Sums over the face in columns x rows cells.
   * @param near the face is too near for the series in one piece
   */
  overFace(columns: number, rows: number, near: boolean): void {
    const { face, cell, store, cover } = this;
    // A few cells of the series cost less than the contour's angles.
    const many = near && columns * rows > FEW_CELLS;
    this.byContour = many && this.evenFace && this.measure === 'light' && !cover.meetsWeave();
    this.alongU = this.measure === 'light' && this.takesAlongU();
    const across = this.byContour ? 1 : Math.min(columns, MOST_CELLS);
    const up = this.byContour ? 1 : Math.min(rows, MOST_CELLS);
    let count = store.start(face.corners);
    let from = 0;
    if (this.horizonCrosses) {
      count = store.clip(from, count, this.horizon, 0, 1);
      if (count === 0) return;
      from = store.place;
    }
    this.partShare = cover.share;
    if (this.creases !== null && this.measure === 'light') {
      this.overCreases(from, count, across, up);
      return;
    }
    if (across === 1 && up === 1) {
      cell[0] = 0;
      cell[1] = 0;
      cell[2] = face.extentU;
      cell[3] = 1;
      this.addPart(from, count, 0);
      return;
    }
    cell[2] = face.extentU / across;
    cell[3] = 1 / up;
    for (let row = 0; row < up; row++) {
      for (let column = 0; column < across; column++) {
        cell[0] = (2 * column + 1) * cell[2]! - face.extentU;
        cell[1] = (2 * row + 1) * cell[3]! - 1;
        this.addCell(from, count, across > 1, up > 1, 0);
      }
    }
  }

  /** As `overFace`, in parts between the creases, each in its share of the columns and rows. */
  private overCreases(from: number, count: number, columns: number, rows: number): void {
    const { cell, face } = this;
    const across = partsBetween(this.creases![0], face.extentU, columns);
    const up = partsBetween(this.creases![1], 1, rows);
    for (const [v, halfV] of up) {
      for (const [u, halfU] of across) {
        cell[0] = u;
        cell[1] = v;
        cell[2] = halfU;
        cell[3] = halfV;
        this.addCell(from, count, true, true, 0);
      }
    }
  }

  /** Cuts the polygon to the present cell, along the axes asked for, and adds it. */
  private addCell(from: number, count: number, cutU: boolean, cutV: boolean, level: number): void {
    let place = from;
    let corners = count;
    for (let side = 0; side < 4; side++) {
      const alongU = side < 2;
      if (alongU ? !cutU : !cutV) continue;
      const sign = side % 2 === 0 ? 1 : -1;
      const axis = alongU ? 0 : 1;
      this.cut[0] = this.cell[2 + axis]! - sign * this.cell[axis]!;
      this.cut[1] = alongU ? sign : 0;
      this.cut[2] = alongU ? 0 : sign;
      corners = this.store.clip(place, corners, this.cut, 0, 1);
      if (corners === 0) return;
      ({ place } = this.store);
    }
    this.addPart(place, corners, level);
  }

  /** Adds what lies of the patch in the present cell, all of it. */
  private addPart(from: number, count: number, level: number): void {
    const { cover, store } = this;
    let place = from;
    let corners = count;
    if (cover.openEdges > 0) {
      corners = store.clip(from, count, cover.open, 0, cover.openEdges);
      if (corners === 0) return;
      ({ place } = store);
    }
    if (cover.leaves > MOST_LEAVES) this.quarter(place, corners, level);
    else {
      if (!this.byContour) this.startKernel();
      this.shares[0] = this.partShare;
      this.kernelAt[0] = 0;
      if (cover.groupCount === 0) this.addLeaf(0, place, corners);
      else this.expand(0, place, corners);
    }
  }

  /** Too many overlapping half-shadows: a quarter of the face sees fewer of them. */
  private quarter(from: number, count: number, level: number): void {
    if (level === QUARTERINGS) {
      this.bound(from, count);
      return;
    }
    const { cell, cover } = this;
    const u = cell[0]!;
    const v = cell[1]!;
    const halfU = cell[2]!;
    const halfV = cell[3]!;
    const share = this.partShare;
    const part = (this.covers[level + 1] ??= new FaceCover(cover.groups, cover.capacity));
    for (let i = 0; i < 4; i++) {
      cell[0] = u + (i % 2 === 0 ? -halfU / 2 : halfU / 2);
      cell[1] = v + (i < 2 ? -halfV / 2 : halfV / 2);
      cell[2] = halfU / 2;
      cell[3] = halfV / 2;
      if (!cover.narrowTo(cell, part)) continue;
      this.cover = part;
      this.partShare = share * part.share;
      this.addCell(from, count, true, true, level + 1);
    }
    this.cover = cover;
    this.partShare = share;
    cell[0] = u;
    cell[1] = v;
    cell[2] = halfU;
    cell[3] = halfV;
  }

  /** Half way between the least and the most that the groups can let through; half the difference may be wrong. */
  private bound(from: number, count: number): void {
    const { cover, moments, total, cell } = this;
    this.startKernel();
    this.store.moments(from, count, cell, this.alongU, moments);
    const [k] = this.kernels;
    let open = 0;
    for (let i = 0; i < MOMENT_COUNT; i++) open += this.partShare * k![i]! * moments[i]!;
    const [least, most] = cover.bounds();
    total[0]! += (open * (least + most)) / 2;
    this.unresolved += (open * (most - least)) / 2;
    if (this.measure === 'light') return;
    total[1]! += (cell[0]! * open * (least + most)) / 2;
    total[2]! += (cell[1]! * open * (least + most)) / 2;
  }

  /** The kernel's series about the cell's middle, times the weaves that cover the whole face. */
  private startKernel(): void {
    const { kernel, cover, cell } = this;
    const start = this.kernels[0]!;
    if (this.measure === 'area') {
      start.fill(0);
      start[0] = 1;
    } else if (kernel.isFitted) fitQuadratic(kernel, cell, start);
    else if (this.alongU) kernel.expandSlim(cell, start);
    else kernel.expand(cell, start);
    if (!cover.meetsWeave()) return;
    for (let i = 0; i < cover.wovenCount; i++) {
      this.fitWeave(cover.woven[i]!, this.factor);
      multiply(start, this.factor, start);
    }
    // Weaves are fitted once a cell: the product below meets them again on every branch.
    for (let depth = 0; depth < cover.groupCount; depth++) {
      if (cover.isWoven(depth)) this.fitWeave(cover.groupId[depth]!, this.weaves[depth]!);
    }
  }

  private fitWeave(group: number, out: Float64Array): void {
    this.weave.layer = this.cover.groups[group]!.layer!;
    fitQuadratic(this.weave, this.cell, out);
  }

  /** The product over the groups from `depth` on, of which there is at least one, over the patch at `from`. */
  private expand(depth: number, from: number, count: number): void {
    const { cover, shares, kernelAt } = this;
    if (cover.isWoven(depth)) {
      this.expandWeave(depth, from, count);
      return;
    }
    const share = shares[depth]!;
    const through = cover.through[depth]!;
    const own = depth + 1;
    const isLast = own === cover.groupCount;
    kernelAt[own] = kernelAt[depth]!;
    if (through !== 0) {
      shares[own] = share * through;
      if (isLast) this.addLeaf(own, from, count);
      else this.expand(own, from, count);
    }
    const end = cover.groupTo[depth]!;
    for (let piece = cover.groupFrom[depth]!; piece < end; piece++) {
      shares[own] = share * cover.coefficient[piece]!;
      this.clipAndExpand(own, piece, from, count, isLast);
    }
  }

  /** As above for a group whose opacity changes over the face: it goes into the kernel, not into the share. */
  private expandWeave(depth: number, from: number, count: number): void {
    const { cover, shares, kernelAt } = this;
    const own = depth + 1;
    const isLast = own === cover.groupCount;
    const share = shares[depth]!;
    const before = this.kernels[kernelAt[depth]!]!;
    const covered = 1 - cover.through[depth]!;
    shares[own] = share;
    const through = this.weaves[depth]!;
    if (covered === 0) kernelAt[own] = kernelAt[depth]!;
    else {
      multiply(before, through, this.kernels[own]!);
      kernelAt[own] = own;
    }
    if (isLast) this.addLeaf(own, from, count);
    else this.expand(own, from, count);
    const end = cover.groupTo[depth]!;
    for (let piece = cover.groupFrom[depth]!; piece < end; piece++) {
      const { factor } = this;
      for (let i = 0; i < MOMENT_COUNT; i++) factor[i] = -through[i]!;
      factor[0]! += 1;
      multiply(before, factor, this.kernels[own]!);
      kernelAt[own] = own;
      shares[own] = share * cover.coefficient[piece]!;
      this.clipAndExpand(own, piece, from, count, isLast);
    }
  }

  /** Clips the patch by the edges of a piece and goes on with what is left. */
  private clipAndExpand(depth: number, piece: number, from: number, count: number, isLast: boolean): void {
    const { cover, store } = this;
    const corners = store.clip(from, count, cover.crossing, cover.edgeFrom[piece]!, cover.edgeTo[piece]!);
    if (corners === 0) return;
    if (isLast) this.addLeaf(depth, store.place, corners);
    else this.expand(depth, store.place, corners);
  }

  private addLeaf(depth: number, from: number, count: number): void {
    if (this.byContour) {
      this.total[0]! += this.shares[depth]! * this.contour(from, count);
      return;
    }
    const { moments, cell } = this;
    if (from === 0 && this.wholeMoments !== null) {
      this.addMoments(depth, this.wholeMoments);
      return;
    }
    this.store.moments(from, count, cell, this.alongU, moments);
    this.addMoments(depth, moments);
  }

  private addMoments(depth: number, m: Float64Array): void {
    const { total, cell } = this;
    const k = this.kernels[this.kernelAt[depth]!]!;
    const share = this.shares[depth]!;
    let sum = k[0]! * m[0]! + k[1]! * m[1]! + k[2]! * m[2]! + k[3]! * m[3]! + k[4]! * m[4]! + k[5]! * m[5]!;
    if (this.alongU) sum += k[6]! * m[6]! + k[7]! * m[7]!;
    total[0]! += share * sum;
    if (this.measure === 'light') return;
    // The kernel is nearly even over a cell here, so its second-order part is left out of the first moments.
    total[1]! += share * (cell[0]! * sum + k[0]! * m[1]! + k[1]! * m[3]! + k[2]! * m[4]!);
    total[2]! += share * (cell[1]! * sum + k[0]! * m[2]! + k[1]! * m[4]! + k[2]! * m[5]!);
  }

  /** Lambert's contour integral of an evenly bright patch: exact however near it is, but for arcs, taken in chords. */
  private contour(from: number, count: number): number {
    const { face, store } = this;
    const { towards: w, halfU: U, halfV: V } = face;
    const corners: Vec3[] = [];
    for (const [u, v] of store.outline(from, count)) {
      corners.push([w[0]! + u * U[0]! + v * V[0]!, w[1]! + u * U[1]! + v * V[1]!, w[2]! + u * U[2]! + v * V[2]!]);
    }
    const luminance = this.kernel.candelaPerUnit() / face.areaPerUnit;
    return uniformPolygonIlluminance(luminance, corners, [0, 0, 0], this.receiverNormal);
  }
}

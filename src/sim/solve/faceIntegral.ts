/**
 * The kernel over the visible part of a face: clips the face's polygon, expands the product over layers, sums moments.
 *
 * With groups g = 0, 1, ... of transmittance t + Σ c [piece], F(g, polygon) = t F(g + 1, polygon) + Σ c F(g + 1, polygon
 * ∩ piece), down to the kernel over the clipped polygon. Soft edges come out exact; nothing is sampled.
 */
import type { Vec3 } from '../../scene/geometry/vector';
import { contourIlluminance, type EmitterFace } from './emitterFace';
import { partsBetween } from './creases';
import { clippedAt, clipPatch, clipToCell } from './clipping';
import {
  coefficient,
  FaceCover,
  GROUP_CAPACITY,
  groupId,
  lineFrom,
  lineTo,
  pieceFrom,
  pieceTo,
  through,
} from './faceCover';
import { fitQuadratic, multiply, type Kernel } from './kernel';
import { integral, integrate, MOMENT_COUNT, moments, patchMoments, SLIM_MOMENT_COUNT } from './moments';
import { HORIZON_LINE, patchOutline, startPatch } from './patches';
import { Weave } from './weave';

/** Cells that a face is split into along one axis at most. */
const MOST_CELLS = 64;
/** Cells up to which the series is preferred to the closed form of a near, evenly bright polygon. */
const FEW_CELLS = 6;
/** Clipped polygons that a part of the face may cost; past that it is quartered. */
const MOST_LEAVES = 2048;
/** Times that a part may be quartered. What is left is bounded, not clipped: see `unresolved`. */
const QUARTERINGS = 6;

/** Middle (u, v) and half sizes of the present cell of the face. */
const cell = new Float64Array(4);
/** The kernel's series about the cell's middle, times the weaves that cover the whole face. */
const bareKernel = new Float64Array(SLIM_MOMENT_COUNT);
/** By depth: what the groups met so far let through, and the kernel that holds behind them, by depth or the bare one. */
const shares = new Float64Array(GROUP_CAPACITY + 1);
const kernelAt = new Int32Array(GROUP_CAPACITY + 1);
const BARE = -1;

function setCell(u: number, v: number, halfU: number, halfV: number): void {
  cell[0] = u;
  cell[1] = v;
  cell[2] = halfU;
  cell[3] = halfV;
}

/** light: illuminance; area: the visible face's own area and first moments. */
export type Measure = 'light' | 'area';

export class FaceIntegral {
  /** The integral, and of the measure `area` its first moments in u and v. */
  readonly total = new Float64Array(3);
  /** Largest error of the integral from parts of the face behind too many overlapping half-shadows, same unit. */
  unresolved = 0;
  /** The receiver's horizon crosses the face, along the line HORIZON_LINE. */
  horizonCrosses = false;
  /** Lines in u and in v, in order, at which the light bends: no part of the face runs across one, and none is lit outside. */
  creases: readonly [u: readonly number[], v: readonly number[]] | null = null;
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
  /** Moments of the whole face, which leaves that nothing clips are so often made of; not known of a face that turns. */
  private readonly wholeMoments = new Float64Array(SLIM_MOMENT_COUNT);
  private knowsWhole = false;
  private readonly turns: boolean;
  /** What the groups that cover the present quarter alike let through. */
  private partShare = 1;
  private readonly factor = new Float64Array(SLIM_MOMENT_COUNT);
  /** Kernels behind weaves, by depth, and each weave by itself. */
  private readonly wovenKernels: Float64Array[] = [];
  private readonly weaves: Float64Array[] = [];

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
    this.turns = turns;
    if (!turns || face.round) this.hold();
  }

  /** The face keeps its corners until it is released. */
  hold(): void {
    const { corners, round, slim } = this.face;
    cell.fill(0);
    patchMoments(round, 0, startPatch(corners, round), cell, slim);
    this.wholeMoments.set(moments);
    this.knowsWhole = true;
  }

  release(): void {
    this.knowsWhole = !this.turns || this.face.round; // a sphere shows a whole circle to every receiver
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
    const { face, cover } = this;
    // A few cells of the series cost less than the contour's angles.
    const many = near && columns * rows > FEW_CELLS;
    this.byContour = many && this.evenFace && this.measure === 'light' && !cover.meetsWeave();
    this.alongU = this.measure === 'light' && this.takesAlongU();
    const across = this.byContour ? 1 : Math.min(columns, MOST_CELLS);
    const up = this.byContour ? 1 : Math.min(rows, MOST_CELLS);
    let count = startPatch(face.corners, face.round);
    let from = 0;
    if (this.horizonCrosses) {
      count = clipPatch(face.round, from, count, HORIZON_LINE, HORIZON_LINE + 1);
      if (count === 0) return;
      from = clippedAt[0]!;
    }
    this.partShare = cover.share;
    if (this.creases !== null && this.measure === 'light') {
      this.overCreases(from, count, across, up);
      return;
    }
    if (across === 1 && up === 1) {
      setCell(0, 0, face.extentU, 1);
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
    const { face } = this;
    const across = partsBetween(this.creases![0], face.extentU, columns);
    const up = partsBetween(this.creases![1], 1, rows);
    for (const [v, halfV] of up) {
      for (const [u, halfU] of across) {
        setCell(u, v, halfU, halfV);
        this.addCell(from, count, true, true, 0);
      }
    }
  }

  /** Cuts the polygon to the present cell, along the axes asked for, and adds it. */
  private addCell(from: number, count: number, cutU: boolean, cutV: boolean, level: number): void {
    const corners = clipToCell(this.face.round, from, count, cell, cutU, cutV);
    if (corners > 0) this.addPart(clippedAt[0]!, corners, level);
  }

  /** Adds what lies of the patch in the present cell, all of it. */
  private addPart(from: number, count: number, level: number): void {
    const { cover } = this;
    const { openFrom, openTo, groupFrom } = cover;
    let place = from;
    let corners = count;
    if (openTo > openFrom) {
      corners = clipPatch(this.face.round, from, count, openFrom, openTo);
      if (corners === 0) return;
      place = clippedAt[0]!;
    }
    if (cover.leaves > MOST_LEAVES) this.quarter(place, corners, level);
    else {
      if (!this.byContour) this.startKernel();
      shares[groupFrom] = this.partShare;
      kernelAt[groupFrom] = BARE;
      if (groupFrom === cover.groupTo) this.addLeaf(groupFrom, place, corners);
      else this.expand(groupFrom, place, corners);
    }
  }

  /** Too many overlapping half-shadows: a quarter of the face sees fewer of them. */
  private quarter(from: number, count: number, level: number): void {
    if (level === QUARTERINGS) {
      this.bound(from, count);
      return;
    }
    const { cover } = this;
    const u = cell[0]!;
    const v = cell[1]!;
    const halfU = cell[2]!;
    const halfV = cell[3]!;
    const share = this.partShare;
    const part = (this.covers[level + 1] ??= new FaceCover(cover.groups, cover));
    for (let i = 0; i < 4; i++) {
      setCell(u + (i % 2 === 0 ? -halfU / 2 : halfU / 2), v + (i < 2 ? -halfV / 2 : halfV / 2), halfU / 2, halfV / 2);
      if (!cover.narrowTo(cell, part)) continue;
      this.cover = part;
      this.partShare = share * part.share;
      this.addCell(from, count, true, true, level + 1);
    }
    this.cover = cover;
    this.partShare = share;
    setCell(u, v, halfU, halfV);
  }

  /** Half way between the least and the most that the groups can let through; half the difference may be wrong. */
  private bound(from: number, count: number): void {
    const { cover, total } = this;
    this.startKernel();
    patchMoments(this.face.round, from, count, cell, this.alongU);
    let open = 0;
    for (let i = 0; i < MOMENT_COUNT; i++) open += this.partShare * bareKernel[i]! * moments[i]!;
    const [least, most] = cover.bounds();
    total[0]! += (open * (least + most)) / 2;
    this.unresolved += (open * (most - least)) / 2;
    if (this.measure === 'light') return;
    total[1]! += (cell[0]! * open * (least + most)) / 2;
    total[2]! += (cell[1]! * open * (least + most)) / 2;
  }

  /** The kernel's series about the cell's middle, times the weaves that cover the whole face. */
  private startKernel(): void {
    const { kernel, cover } = this;
    const start = bareKernel;
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
    for (let n = cover.groupFrom; n < cover.groupTo; n++) {
      if (cover.isWoven(n)) this.fitWeave(groupId[n]!, (this.weaves[n] ??= new Float64Array(SLIM_MOMENT_COUNT)));
    }
  }

  private fitWeave(group: number, out: Float64Array): void {
    this.weave.layer = this.cover.groups[group]!.layer!;
    fitQuadratic(this.weave, cell, out);
  }

  /** The product over the groups from `depth` on, of which there is at least one, over the patch at `from`. */
  private expand(depth: number, from: number, count: number): void {
    const { cover } = this;
    if (cover.isWoven(depth)) {
      this.expandWeave(depth, from, count);
      return;
    }
    const share = shares[depth]!;
    const left = through[depth]!;
    const own = depth + 1;
    const isLast = own === cover.groupTo;
    kernelAt[own] = kernelAt[depth]!;
    if (left !== 0) {
      shares[own] = share * left;
      if (isLast) this.addLeaf(own, from, count);
      else this.expand(own, from, count);
    }
    const end = pieceTo[depth]!;
    for (let piece = pieceFrom[depth]!; piece < end; piece++) {
      shares[own] = share * coefficient[piece]!;
      this.clipAndExpand(own, piece, from, count, isLast);
    }
  }

  /** As above for a group whose opacity changes over the face: it goes into the kernel, not into the share. */
  private expandWeave(depth: number, from: number, count: number): void {
    const own = depth + 1;
    const isLast = own === this.cover.groupTo;
    const share = shares[depth]!;
    const at = kernelAt[depth]!;
    const before = at === BARE ? bareKernel : this.wovenKernels[at]!;
    const product = (this.wovenKernels[own] ??= new Float64Array(SLIM_MOMENT_COUNT));
    const net = this.weaves[depth]!;
    shares[own] = share;
    if (through[depth] === 1) kernelAt[own] = at;
    else {
      multiply(before, net, product);
      kernelAt[own] = own;
    }
    if (isLast) this.addLeaf(own, from, count);
    else this.expand(own, from, count);
    const end = pieceTo[depth]!;
    for (let piece = pieceFrom[depth]!; piece < end; piece++) {
      const { factor } = this;
      for (let i = 0; i < MOMENT_COUNT; i++) factor[i] = -net[i]!;
      factor[0]! += 1;
      multiply(before, factor, product);
      kernelAt[own] = own;
      shares[own] = share * coefficient[piece]!;
      this.clipAndExpand(own, piece, from, count, isLast);
    }
  }

  /** Clips the patch by the edges of a piece and goes on with what is left. */
  private clipAndExpand(depth: number, piece: number, from: number, count: number, isLast: boolean): void {
    const corners = clipPatch(this.face.round, from, count, lineFrom[piece]!, lineTo[piece]!);
    if (corners === 0) return;
    if (isLast) this.addLeaf(depth, clippedAt[0]!, corners);
    else this.expand(depth, clippedAt[0]!, corners);
  }

  private addLeaf(depth: number, from: number, count: number): void {
    if (this.byContour) {
      const { face } = this;
      const luminance = this.kernel.candelaPerUnit() / face.areaPerUnit;
      const outline = patchOutline(face.round, from, count);
      this.total[0]! += shares[depth]! * contourIlluminance(face, luminance, this.receiverNormal, outline);
      return;
    }
    const at = kernelAt[depth]!;
    const k = at === BARE ? bareKernel : this.wovenKernels[at]!;
    const { total } = this;
    const share = shares[depth]!;
    if (this.measure === 'area') this.addFirstMoments(k, share, from, count);
    else if (from === 0 && this.knowsWhole) total[0]! += share * this.overWhole(k);
    else {
      integrate(this.face.round, from, count, cell, k, this.alongU);
      total[0]! += share * integral[0]!;
    }
  }

  private overWhole(k: Float64Array): number {
    const m = this.wholeMoments;
    const sum = k[0]! * m[0]! + k[1]! * m[1]! + k[2]! * m[2]! + k[3]! * m[3]! + k[4]! * m[4]! + k[5]! * m[5]!;
    return this.alongU ? sum + k[6]! * m[6]! + k[7]! * m[7]! : sum;
  }

  /** As a leaf, with the first moments. The kernel is nearly even over a cell here: its second order is left out of them. */
  private addFirstMoments(k: Float64Array, share: number, from: number, count: number): void {
    const { total } = this;
    patchMoments(this.face.round, from, count, cell, false);
    const m = moments;
    const sum = k[0]! * m[0]! + k[1]! * m[1]! + k[2]! * m[2]! + k[3]! * m[3]! + k[4]! * m[4]! + k[5]! * m[5]!;
    total[0]! += share * sum;
    total[1]! += share * (cell[0]! * sum + k[0]! * m[1]! + k[1]! * m[3]! + k[2]! * m[4]!);
    total[2]! += share * (cell[1]! * sum + k[0]! * m[2]! + k[1]! * m[4]! + k[2]! * m[5]!);
  }
}

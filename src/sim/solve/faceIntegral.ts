/**
 * The kernel over the visible part of a face: parts the face into cells, and has the compiled kernel clip each to what
 * covers it, expand the product over layers and sum the light (kernel/expansion.ts).
 */
import type { Vec3 } from '../../scene/geometry/vector';
import { partsBetween } from './creases';
import { contourIlluminance, type EmitterFace } from './emitterFace';
import { FaceCover } from './faceCover';
import { fitQuadratic, type Kernel } from './kernel';
import {
  addThrough,
  AREA,
  bareSeries,
  cell,
  clippedAt,
  clipPatch,
  clipToCell,
  expand,
  expandSlim,
  groupId,
  HORIZON_LINE,
  integrate,
  LIGHT,
  MOST_LEAVES,
  moments,
  multiply,
  OUTLINE,
  patchMoments,
  type Series,
  setFace,
  SLIM_MOMENT_COUNT,
  spareSeries,
  total as sums,
  useForOutlines,
  weaveSeries,
  wholeMoments,
} from './kernelModule';
import { patchOutline, startPatch } from './patches';
import { Weave } from './weave';

/** Cells that a face is split into along one axis at most. */
const MOST_CELLS = 64;
/** Cells up to which the series is preferred to the closed form of a near, evenly bright polygon. */
const FEW_CELLS = 6;
/** Times that a part may be quartered. What is left is bounded, not clipped: see `unresolved`. */
const QUARTERINGS = 6;

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
  /** Moments of the whole face, which patches that nothing clips are so often made of; not known of a face that turns. */
  private readonly wholeMoments = new Float64Array(SLIM_MOMENT_COUNT);
  private knowsWhole = false;
  private readonly turns: boolean;
  /** What the groups that cover the present quarter alike let through. */
  private partShare = 1;

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
    patchMoments(round, 0, startPatch(corners, round), slim);
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
    const { total } = this;
    for (let i = 0; i < total.length; i++) sums[i] = 0;
    this.sumOver(columns, rows, near);
    for (let i = 0; i < total.length; i++) total[i] = sums[i]!;
  }

  private sumOver(columns: number, rows: number, near: boolean): void {
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
    this.enter();
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

  /** Makes the face and what is asked of it the compiled kernel's. */
  private enter(): void {
    const { face, kernel, measure } = this;
    setFace(face.round, this.alongU, this.knowsWhole, this.byContour ? OUTLINE : measure === 'area' ? AREA : LIGHT);
    if (this.byContour) useForOutlines(this.addOutline);
    if (measure === 'light' && !kernel.isFitted) kernel.enter();
    this.enterWhole();
  }

  /** Hands over the moments of the whole face, if they are known. */
  enterWhole(): void {
    if (!this.knowsWhole) return;
    for (let i = 0; i < SLIM_MOMENT_COUNT; i++) wholeMoments[i] = this.wholeMoments[i]!;
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
    const corners = clipToCell(this.face.round, from, count, cutU, cutV);
    if (corners > 0) this.addPart(clippedAt[0]!, corners, level);
  }

  /** Adds what lies of the patch in the present cell, all of it. */
  private addPart(from: number, count: number, level: number): void {
    const { cover } = this;
    const { openFrom, openTo } = cover;
    let place = from;
    let corners = count;
    if (openTo > openFrom) {
      corners = clipPatch(this.face.round, from, count, openFrom, openTo);
      if (corners === 0) return;
      place = clippedAt[0]!;
    }
    if (cover.leaves > MOST_LEAVES) this.quarter(place, corners, level);
    else {
      if (!this.byContour) this.startSeries();
      addThrough(cover.groupFrom, cover.groupTo, place, corners, this.partShare);
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
    const { cover } = this;
    this.startSeries();
    const open = this.partShare * integrate(this.face.round, from, count, bareSeries.at, false);
    const [least, most] = cover.bounds();
    sums[0]! += (open * (least + most)) / 2;
    this.unresolved += (open * (most - least)) / 2;
    if (this.measure === 'light') return;
    sums[1]! += (cell[0]! * open * (least + most)) / 2;
    sums[2]! += (cell[1]! * open * (least + most)) / 2;
  }

  /** The kernel's series about the cell's middle, times the weaves that cover the whole face. */
  private startSeries(): void {
    const { kernel, cover } = this;
    if (this.measure === 'area') {
      bareSeries.of.fill(0);
      bareSeries.of[0] = 1;
    } else if (kernel.isFitted) fitQuadratic(kernel, cell, bareSeries.of);
    else if (this.alongU) expandSlim(bareSeries.at);
    else expand(bareSeries.at);
    if (!cover.meetsWeave()) return;
    for (let i = 0; i < cover.wovenCount; i++) {
      this.fitWeave(cover.woven[i]!, spareSeries);
      multiply(bareSeries.at, spareSeries.at, bareSeries.at);
    }
    // Weaves are fitted once a cell: the product over the groups meets them again on every branch.
    for (let n = cover.groupFrom; n < cover.groupTo; n++) {
      if (cover.isWoven(n)) this.fitWeave(groupId[n]!, weaveSeries(n));
    }
  }

  private fitWeave(group: number, out: Series): void {
    this.weave.layer = this.cover.groups[group]!.layer!;
    fitQuadratic(this.weave, cell, out.of);
  }

  /** A patch of an evenly bright face, by its outline. */
  private readonly addOutline = (share: number, from: number, count: number): void => {
    const { face } = this;
    const luminance = this.kernel.candelaPerUnit() / face.areaPerUnit;
    const outline = patchOutline(face.round, from, count);
    sums[0]! += share * contourIlluminance(face, luminance, this.receiverNormal, outline);
  };
}

/** The light of one source at the receivers of one plane, one receiver at a time and without allocation. */
import { addScaled, dot, subtract, type Vec3 } from '../../scene/geometry/vector';
import type { BlockerLayer, CompiledSource } from './compiled';
import { buildEdgeTable, FIRST_GATE_BIT, ROLE_BITS, type ReceiverPlane } from './edgeTable';
import { facesReceiver, makeFace, turnFace, type EmitterFace } from './emitterFace';
import { FaceIntegral, type Measure } from './faceIntegral';
import { edgeWidthsRad } from './gateEdges';
import { Kernel } from './kernel';
import { heldLight, holdCell, HORIZON_LINE, lines, standpoint } from './kernelModule';
import { startPatch } from './patches';
import { Occlusion } from './occlusion';
import { beamSlope, fallToHalfRad, splitScale } from './profile';
import type { Quality } from './quality';
import { bendRad } from '../photometry/web/bend';

/** full: the light; bare: without a gate's edges; area: the face's own area and first moments. */
export type KernelMode = 'full' | 'bare' | 'area';

/** Bits of all things, whatever their role. */
export const ALL_THINGS = Object.values(ROLE_BITS).reduce((all, bit) => all | bit, 0);

/** Cells of a face each way that a web, a beam, a gate or a net may ask for, however sharp it is. */
const MOST_FINE_CELLS = 24;

/**
 * Where the face's middle stands less than so many times as high over a receiver's horizon as the face reaches, the third
 * order that the series leaves out counts against what little arrives; then faces are split so much finer.
 */
const GRAZING = 2;
const GRAZING_SPLIT = 0.5;

/** Of the light whose cell the compiled kernel holds: one at a time. */
let holder: FaceIntegral | null = null;

export class ReceiverLight {
  readonly occlusion: Occlusion;
  readonly face: EmitterFace;
  readonly integral: FaceIntegral;
  /** Bits of the parts of a projection spot's gate. */
  readonly gateBits: number;
  private readonly kernel: Kernel;
  private readonly source: CompiledSource;
  private readonly plane: ReceiverPlane;
  private readonly quality: Quality;
  /** The face shows itself otherwise to every receiver. */
  private readonly turns: boolean;
  /** ... and is turned to each, unless it is held. */
  private turnsNow: boolean;
  /** A face may be held: what it shows changes in second order with the receiver, but for a tube's ends. */
  private readonly canHold: boolean;
  /** Radius over half length of a tube: by so much of the angle the ends of its silhouette move, in half lengths. */
  private readonly endShare: number;
  private readonly isPoint: boolean;
  readonly atInfinity: boolean;
  private readonly allRound: boolean;
  private readonly edgeWidths: readonly number[];
  /** What receivers must lie before, each as a height c + cx x + cy y over a plane: where a flat lamp's light is out, an image's mirror. */
  readonly fronts: readonly (readonly [number, number, number])[];
  private readonly mirrorFront: readonly [number, number, number] | null;
  /** Angle over which a web bends; 0 for other profiles. */
  private readonly webBendRad: number;
  private readonly splitRatio: number;
  /** Columns and rows of cells that the face is integrated in for the present receiver. */
  private readonly cells = new Int32Array(2);
  /** Nothing but its nearness and the horizon can ask for more than one part of the face. */
  private readonly isEven: boolean;
  /** The present receiver sees part of the face at so low an angle that its cosine is no small change of one value. */
  private grazes = false;
  /** From the plane's origin to the face's centre, of a face that turns to the emitter's; for the sun the direction to it. */
  private centre: Float64Array;
  private readonly ownCentre: Float64Array;
  private readonly heldCentre = new Float64Array(3);
  private readonly axisX: Float64Array;
  private readonly axisY: Float64Array;

  /** @param levels cells within cells that will be asked for */
  constructor(
    source: CompiledSource,
    layers: readonly BlockerLayer[],
    plane: ReceiverPlane,
    quality: Quality,
    levels: number,
  ) {
    const { shape, profile, frame } = source;
    this.source = source;
    this.plane = plane;
    this.quality = quality;
    this.turns = facesReceiver(source);
    this.turnsNow = this.turns;
    this.canHold = this.turns && quality.turnRad > 0 && !(shape.kind === 'tube' && shape.lit !== null);
    this.endShare = shape.kind === 'tube' ? shape.radiusM / shape.halfLengthM : 0;
    this.isPoint = shape.kind === 'point';
    this.atInfinity = shape.kind === 'sun';
    this.allRound = profile.kind === 'web' || (this.isPoint && profile.kind === 'flat');
    this.splitRatio = quality.splitRatio * splitScale(profile);
    this.edgeWidths = profile.kind === 'projection' ? edgeWidthsRad(profile) : [];
    this.webBendRad = profile.kind === 'web' ? bendRad(profile.grid) : 0;
    this.gateBits = ((1 << this.edgeWidths.length) - 1) << FIRST_GATE_BIT;
    this.ownCentre = new Float64Array(this.atInfinity ? frame.origin : subtract(frame.origin, plane.origin));
    this.centre = this.ownCentre;
    this.axisX = new Float64Array(plane.axisX);
    this.axisY = new Float64Array(plane.axisY);
    this.face = makeFace(source, quality);
    const { image } = source;
    this.mirrorFront = image && heights(plane, image.normal, image.origin);
    const faceFront =
      this.turns || this.atInfinity || this.allRound
        ? null
        : heights(plane, frame.forward, addScaled(frame.origin, frame.forward, source.outletM));
    this.fronts = [faceFront, this.mirrorFront].filter((front) => front !== null);
    const table = buildEdgeTable(source, layers, this.face, plane, quality);
    const bodyAxis = shape.kind === 'tube' ? ([...this.face.halfU] as [number, number, number]) : ([0, 0, 0] as const);
    const radiusM = shape.kind === 'sphere' || shape.kind === 'tube' ? shape.radiusM : 0;
    this.occlusion = new Occlusion(table, this.face, bodyAxis, radiusM, levels);
    const dome = plane.receptor === 'dome';
    this.kernel = new Kernel(source, this.face, plane.normal, dome);
    this.isEven = !this.isPoint && profile.kind === 'cosine' && !this.kernel.isFitted && this.occlusion.canLay();
    const even = profile.kind === 'cosine' && profile.exponent === 1 && !dome;
    this.integral = new FaceIntegral(this.occlusion.cover, this.face, this.kernel, plane.normal, this.turns, even);
    if (this.atInfinity) {
      this.face.towards.set(this.centre);
      this.kernel.turn();
    }
    holder = null; // the moments of this face were taken where a held one's corners may lie
  }

  /**
   * Works out once what serves all receivers of a cell, until the cell is released. Its list lies at `level`, its middle at
   * `occlusion.at`.
   * @param things   bits of the roles that will count
   * @param isBefore whether all of them lie before the lamp's face and before its mirror
   */
  hold(level: number, things: number, isBefore: boolean): void {
    this.release();
    if ((this.turns && !this.canHold) || !this.place()) return;
    // The sun is a direction, alike from everywhere in the cell.
    const halfX = this.occlusion.half[0]!;
    const halfY = this.occlusion.half[1]!;
    const reachM = this.atInfinity ? 0 : Math.sqrt(halfX * halfX + halfY * halfY);
    if (this.turns && !this.holdFace(level, reachM)) return;
    // The horizon crosses the face for all or for none of them: they lie on one plane.
    const { horizonCrosses } = this.integral;
    const inOnePart = this.isEven && isBefore && !horizonCrosses && !this.grazes;
    if (inOnePart && this.farM() - reachM >= this.wholeFromM(1)) this.enter(level, things);
  }

  /**
   * Takes a face that turns as the middle of a cell sees it for all receivers of the cell, where the cell is small against
   * its distance: the width of what they see errs by the square of that ratio (docs/physics.md). @returns whether it is
   */
  private holdFace(level: number, reachM: number): boolean {
    const { occlusion, heldCentre, kernel, face, axisX, axisY } = this;
    const { turnRad } = this.quality;
    const turnedRad = reachM / kernel.height();
    if (turnedRad > turnRad || turnedRad * this.endShare > turnRad * turnRad) return false;
    for (let i = 0; i < 3; i++) {
      heldCentre[i] = face.towards[i]! + occlusion.at[0]! * axisX[i]! + occlusion.at[1]! * axisY[i]!;
    }
    this.centre = heldCentre;
    this.turnsNow = false;
    occlusion.hold(level, heldCentre, axisX, axisY);
    this.integral.hold();
    return true;
  }

  /** Makes the held cell, for all receivers of which one part of the whole face does, the compiled kernel's. */
  private enter(level: number, things: number): void {
    const { face, kernel, integral, centre, axisX, axisY } = this;
    const perMetre = this.atInfinity ? 0 : 1;
    for (let i = 0; i < 3; i++) {
      standpoint[i] = centre[i]!;
      standpoint[3 + i] = perMetre * axisX[i]!;
      standpoint[6 + i] = perMetre * axisY[i]!;
    }
    kernel.enter();
    integral.enterWhole();
    const { share, groupCount } = this.occlusion.lay(level, things);
    holdCell(groupCount, share, face.round, integral.takesAlongU(), startPatch(face.corners, face.round));
    holder = integral;
  }

  /** Turns the face to each receiver again. */
  release(): void {
    if (holder === this.integral) holder = null;
    this.centre = this.ownCentre;
    this.turnsNow = this.turns;
    this.occlusion.release();
    this.integral.release();
  }

  /**
   * Takes the receiver at `occlusion.at` as the present one.
   * @returns false where the source cannot reach it whatever stands between: behind the lamp, below the horizon
   */
  place(): boolean {
    if (holder === this.integral) return true;
    if (!this.atInfinity) this.look();
    const { face, mirrorFront } = this;
    if (mirrorFront !== null) {
      const { at } = this.occlusion;
      if (mirrorFront[0] + mirrorFront[1] * at[0]! + mirrorFront[2] * at[1]! <= 0) return false;
    }
    if (this.turnsNow) {
      if (!turnFace(face, this.source)) return false;
      this.kernel.turn();
    }
    if (!this.allRound && this.kernel.height() <= this.source.outletM) return false;
    return this.raiseHorizon();
  }

  /** From the receiver to the face's centre. */
  private look(): void {
    const { centre, axisX, axisY } = this;
    const { towards } = this.face;
    const x = this.occlusion.at[0]!;
    const y = this.occlusion.at[1]!;
    towards[0] = centre[0]! - x * axisX[0]! - y * axisY[0]!;
    towards[1] = centre[1]! - x * axisX[1]! - y * axisY[1]!;
    towards[2] = centre[2]! - x * axisX[2]! - y * axisY[2]!;
  }

  /** Distance of the face's centre from the present receiver, m; 1 for the sun. */
  farM(): number {
    const { towards: w } = this.face;
    return Math.sqrt(w[0]! * w[0]! + w[1]! * w[1]! + w[2]! * w[2]!);
  }

  /** @returns false where the whole face is below the receiver's horizon */
  private raiseHorizon(): boolean {
    const { towards: w, extentU, round } = this.face;
    const { normal: n, receptor } = this.plane;
    const { about } = this.kernel;
    this.integral.horizonCrosses = false;
    this.grazes = false;
    if (receptor === 'dome') return true;
    const h0 = n[0] * w[0]! + n[1] * w[1]! + n[2] * w[2]!;
    const hu = about[3]!;
    const hv = about[4]!;
    const reach = round ? Math.sqrt(hu * hu + hv * hv) : Math.abs(hu) * extentU + Math.abs(hv);
    this.grazes = h0 < GRAZING * reach;
    if (h0 < reach) {
      this.integral.horizonCrosses = true;
      lines[3 * HORIZON_LINE] = h0;
      lines[3 * HORIZON_LINE + 1] = hu;
      lines[3 * HORIZON_LINE + 2] = hv;
    }
    return h0 + reach > 0;
  }

  /**
   * Integrates for the present receiver, from the list of the cell at `level`; the result is `integral.total`.
   * @param things bits of the roles that count; within a held cell it was told of both
   */
  integrate(level: number, things: number, mode: KernelMode): void {
    const { integral, occlusion, kernel } = this;
    const measure: Measure = mode === 'area' ? 'area' : 'light';
    integral.begin(measure);
    if (holder === integral) {
      const light = measure === 'light' ? heldLight(occlusion.at[0]!, occlusion.at[1]!) : NaN;
      if (!Number.isNaN(light)) {
        integral.total[0] = light;
        return;
      }
      if (!this.atInfinity) this.look();
    }
    if (holder !== integral) holder = null; // its places are written over from here on
    const gated = mode === 'full' && this.gateBits !== 0;
    const hard = gated ? this.hardGateBits() : 0;
    if (!occlusion.gather(level, things | hard, gated ? this.gateBits & ~hard : 0)) return;
    kernel.gateParts = occlusion.softGate >> FIRST_GATE_BIT;
    if (this.isPoint) integral.atPoint();
    else this.overFace();
  }

  private overFace(): void {
    const { face, integral, kernel } = this;
    const finer = this.grazes ? GRAZING_SPLIT : 1;
    const farM = this.farM();
    const sizeU = kernel.size[0]! * face.extentU;
    const sizeV = kernel.size[1]!;
    this.cells[0] = 1;
    this.cells[1] = 1;
    let near = false;
    if (farM < this.wholeFromM(finer)) {
      const splitRatio = finer * this.splitRatio;
      const ratioU = this.ratioU(finer);
      const nearest = nearestPoint(face);
      near = nearest > 0 && (sizeU > ratioU * nearest || sizeV > splitRatio * nearest);
      if (near) {
        this.cells[0] = Math.ceil(sizeU / (ratioU * nearest));
        this.cells[1] = Math.ceil(sizeV / (splitRatio * nearest));
      }
    }
    this.splitForProfile(sizeU, sizeV, farM);
    const { profile } = this.source;
    if (profile.kind === 'crated') integral.creases = this.creases(profile.slope);
    integral.overFace(this.cells[0]!, this.cells[1]!, near);
  }

  /** Largest half length of a part along u, over its distance. */
  private ratioU(finer: number): number {
    return finer * (this.face.slim && this.integral.takesAlongU() ? this.quality.slimSplitRatio : this.splitRatio);
  }

  /** Distance of the face's centre from which on it need not be split for its nearness, m. */
  private wholeFromM(finer: number): number {
    const sizeU = this.kernel.size[0]! * this.face.extentU;
    const sizeV = this.kernel.size[1]!;
    return Math.max(sizeU / this.ratioU(finer), sizeV / (finer * this.splitRatio)) + sizeU + sizeV;
  }

  /** Splits the face where what it sends, or what a net lets through, changes more over it than a quadratic follows. */
  private splitForProfile(sizeU: number, sizeV: number, far: number): void {
    const { quality, face } = this;
    const { profile } = this.source;
    const { cover } = this.occlusion;
    if (cover.meetsWeave()) this.split(sizeU, sizeV, quality.weaveShare * cover.leastOverWeaves(face.towards));
    if (this.webBendRad > 0) this.split(sizeU, sizeV, quality.webShare * this.webBendRad * nearestPoint(face));
    if (profile.kind === 'beam') {
      const angleRad = Math.acos(Math.min(1, this.kernel.height() / far));
      this.split(sizeU, sizeV, (quality.beamShare * far) / beamSlope(profile, angleRad));
    }
    if (profile.kind !== 'projection') return;
    const blur = this.lensInPicture();
    if (this.kernel.gateParts !== 0) this.split(blur, blur, quality.gateShare * this.narrowestSoftEdge());
    if (profile.peaking > 0) this.split(blur, blur, quality.fieldShare * fallToHalfRad(profile));
  }

  /** Cells so many that none reaches farther than `most`, in the unit of the two half sizes. */
  private split(sizeU: number, sizeV: number, most: number): void {
    this.cells[0] = Math.max(this.cells[0]!, Math.min(MOST_FINE_CELLS, Math.ceil(sizeU / most)));
    this.cells[1] = Math.max(this.cells[1]!, Math.min(MOST_FINE_CELLS, Math.ceil(sizeV / most)));
  }

  /** Where on the face an egg crate's share bends: along its middle and at its cut-off, in u and in v. */
  private creases(slope: number): readonly [u: readonly number[], v: readonly number[]] {
    const { frame } = this.source;
    const { towards: w } = this.face;
    const { about } = this.kernel;
    const height = this.kernel.height();
    const along = ([x, y, z]: Vec3, half: number): readonly number[] => {
      const middle = -(w[0]! * x + w[1]! * y + w[2]! * z) / half;
      const reach = height / (slope * half);
      return [middle - reach, middle, middle + reach];
    };
    return [along(frame.right, Math.sqrt(about[0]!)), along(frame.up, Math.sqrt(about[2]!))];
  }

  /** Half the size of the lens in its own picture, tangents: how much it blurs a gate's edges at the present receiver. */
  private lensInPicture(): number {
    const { profile, shape } = this.source;
    if (profile.kind !== 'projection' || shape.kind === 'point') return 0;
    const halfM = shape.kind === 'disc' ? shape.radiusM : shape.kind === 'rectangle' ? shape.halfWidthM : 0;
    return halfM * Math.abs(profile.perFocusM - 1 / this.kernel.height());
  }

  /** Parts of the gate that the lens blurs so much that a few hard edges stand for each. */
  private hardGateBits(): number {
    const blur = 2 * this.lensInPicture();
    let bits = 0;
    for (let i = 0; i < this.edgeWidths.length; i++) {
      if (blur >= this.quality.hardGate * this.edgeWidths[i]!) bits |= 1 << (FIRST_GATE_BIT + i);
    }
    return bits;
  }

  private narrowestSoftEdge(): number {
    let narrowest = Infinity;
    for (let i = 0; i < this.edgeWidths.length; i++) {
      if ((this.kernel.gateParts & (1 << i)) !== 0) narrowest = Math.min(narrowest, this.edgeWidths[i]!);
    }
    return narrowest;
  }
}

/** Height of the receiver at (x, y) of `plane` over another plane, as c, cx, cy. */
function heights({ origin, axisX, axisY }: ReceiverPlane, normal: Vec3, of: Vec3): readonly [number, number, number] {
  return [dot(normal, subtract(origin, of)), dot(normal, axisX), dot(normal, axisY)];
}

/** Distance to the nearest point of the face's bounding parallelogram. */
function nearestPoint({ towards: w, halfU: U, halfV: V, extentU }: EmitterFace): number {
  const uu = U[0]! * U[0]! + U[1]! * U[1]! + U[2]! * U[2]!;
  const vv = V[0]! * V[0]! + V[1]! * V[1]! + V[2]! * V[2]!;
  const wu = w[0]! * U[0]! + w[1]! * U[1]! + w[2]! * U[2]!;
  const wv = w[0]! * V[0]! + w[1]! * V[1]! + w[2]! * V[2]!;
  const u = uu > 0 ? Math.max(-extentU, Math.min(extentU, -wu / uu)) : 0;
  const v = vv > 0 ? Math.max(-1, Math.min(1, -wv / vv)) : 0;
  const x = w[0]! + u * U[0]! + v * V[0]!;
  const y = w[1]! + u * U[1]! + v * V[1]!;
  const z = w[2]! + u * U[2]! + v * V[2]!;
  return Math.sqrt(x * x + y * y + z * z);
}

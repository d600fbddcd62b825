/** The kernel over the visible part of a face: splits the face into cells, clips, expands layers, sums moments. */
import { addScaled, dot, type Vec3 } from '../geometry/vector';
import { uniformPolygonIlluminance } from '../photometry/closedForms';
import { wovenTransmittance } from '../photometry/filters';
import { MOMENT_COUNT, polygonMoments, type PolygonStack } from './clipping';
import type { BlockerLayer } from './compiled';
import type { EmitterFace } from './emitterFace';
import { clearOfEdges, integrateOverPolygon } from './gateQuadrature';
import { expandCosine, fitQuadratic, gatePicture, kernelAt, type Emission, type Quadratic } from './kernel';
import type { Quality } from './quality';
import type { ActiveLayer } from './sourceIntegrator';

/** full: the light; bare: without a gate's edges; area: the face's own area and first moments. */
export type KernelMode = 'full' | 'bare' | 'area';

/** Layers that may overlap in one receiver's penumbra before the expansion is cut short. */
const DEEPEST = 60;

type Rule = 'moments' | 'contour' | 'gate';

export class FaceQuadrature {
  /** The integral, and in mode `area` its first moments in u and v. */
  readonly total = new Float64Array(3);
  private readonly stack: PolygonStack;
  private readonly quality: Quality;
  private emission!: Emission;
  private face!: EmitterFace;
  private normal: Vec3 = [0, 0, 1];
  private receiverNormal: Vec3 = [0, 0, 1];
  private mode: KernelMode = 'full';
  private rule: Rule = 'moments';
  private gate: (ReturnType<typeof gatePicture> & { share: number }) | null = null;
  private layers: readonly ActiveLayer[] = [];
  private edges: readonly number[] = [];
  private cellU = 0;
  private cellV = 0;
  private halfCellU = 1;
  private halfCellV = 1;
  private readonly moments = new Float64Array(MOMENT_COUNT);
  private readonly kernels: Quadratic[] = Array.from({ length: DEEPEST + 2 }, () => new Float64Array(MOMENT_COUNT));
  private readonly factor: Quadratic = new Float64Array(MOMENT_COUNT);
  /** Woven layers met on the present branch, for the gate rule: transmittance (true) or its complement. */
  private readonly branch: { layer: BlockerLayer; through: boolean }[] = [];

  constructor(stack: PolygonStack, quality: Quality) {
    this.stack = stack;
    this.quality = quality;
  }

  begin(emission: Emission, face: EmitterFace, normal: Vec3, receiverNormal: Vec3, mode: KernelMode): void {
    this.emission = emission;
    this.face = face;
    this.normal = normal;
    this.receiverNormal = receiverNormal;
    this.mode = mode;
    this.total.fill(0);
  }

  /** A point source: the kernel itself times what the layers let through. */
  addPoint(share: number): void {
    if (share === 0) return;
    if (this.mode === 'area') this.total[0] = share;
    else {
      const bare = this.mode === 'bare';
      this.total[0] = share * kernelAt(this.emission, this.face, this.normal, this.receiverNormal, 0, 0, bare);
    }
  }

  /**
   * @param share  transmittance of the plain layers that cover the whole face
   * @param woven  woven layers that cover the whole face
   * @param layers layers with pieces that cover part of it, whose edges are runs of `edges`
   * @param horizon the receiver's horizon where it crosses the face
   */
  addFace(
    share: number,
    woven: readonly BlockerLayer[],
    layers: readonly ActiveLayer[],
    edges: readonly number[],
    horizon: readonly [number, number, number] | null,
  ): void {
    this.layers = layers;
    this.edges = edges;
    const smooth = woven.length === 0 && layers.every((active) => active.layer.weave === null);
    const [columns, rows] = this.chooseRule(smooth);
    const { extentU, extentV } = this.face;
    this.halfCellU = extentU / columns;
    this.halfCellV = extentV / rows;
    for (let row = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++) {
        this.cellU = (2 * column + 1) * this.halfCellU - extentU;
        this.cellV = (2 * row + 1) * this.halfCellV - extentV;
        if (this.startCell(columns, rows, horizon)) this.addCell(share, woven);
      }
    }
  }

  /** Picks the leaf rule for this receiver and says into how many cells the face is split. */
  private chooseRule(smooth: boolean): [columns: number, rows: number] {
    const { face, emission, mode } = this;
    this.gate = null;
    this.rule = 'moments';
    if (mode === 'full' && emission.profile.kind === 'projection') {
      const picture = gatePicture(emission, face, this.normal);
      const [x, y] = picture.at(0, 0);
      if (!clearOfEdges(picture.profile, x, y, picture.perUnit)) {
        this.rule = 'gate';
        this.gate = { ...picture, share: this.quality.gateShare };
      }
    }
    const nearest = nearestPoint(face);
    const most = this.quality.splitRatio * nearest;
    const sizeU = Math.hypot(...face.halfU) * face.extentU;
    const sizeV = Math.hypot(...face.halfV) * face.extentV;
    const near = Math.max(sizeU, sizeV) > most;
    const lambertian = emission.profile.kind === 'cosine' && emission.profile.exponent === 1;
    if (near && smooth && lambertian && mode !== 'area' && emission.receptor === 'flat') {
      this.rule = 'contour';
      return [1, 1];
    }
    if (!near || most === 0) return [1, 1];
    return [Math.min(64, Math.ceil(sizeU / most)), Math.min(64, Math.ceil(sizeV / most))];
  }

  /** Puts the cell's part of the face, cut at the receiver's horizon, at the bottom of the stack. */
  private startCell(columns: number, rows: number, horizon: readonly [number, number, number] | null): boolean {
    const { stack, cellU, cellV, halfCellU, halfCellV } = this;
    stack.start(this.face.corners);
    if (columns > 1) {
      if (stack.clip(0, 0, halfCellU - cellU, 1, 0) === 0) return false;
      if (stack.clip(0, 0, halfCellU + cellU, -1, 0) === 0) return false;
    }
    if (rows > 1) {
      if (stack.clip(0, 0, halfCellV - cellV, 0, 1) === 0) return false;
      if (stack.clip(0, 0, halfCellV + cellV, 0, -1) === 0) return false;
    }
    return horizon === null || stack.clip(0, 0, horizon[0], horizon[1], horizon[2]) > 0;
  }

  private addCell(share: number, woven: readonly BlockerLayer[]): void {
    const kernel = this.kernels[0]!;
    this.branch.length = 0;
    if (this.rule === 'moments') this.expandKernel(kernel);
    for (const layer of woven) {
      if (this.rule === 'gate') this.branch.push({ layer, through: true });
      else {
        this.expandWoven(layer);
        multiply(kernel, this.factor, kernel);
      }
    }
    this.expand(0, 0, 0, share);
  }

  private expandKernel(out: Quadratic): void {
    const { emission, face, normal, receiverNormal, mode } = this;
    const { profile } = emission;
    if (mode === 'area') {
      out.fill(0);
      out[0] = 1;
    } else if (emission.receptor === 'dome') {
      this.fitKernel(out);
    } else if (profile.kind === 'cosine') {
      expandCosine(emission, face, normal, receiverNormal, profile.exponent, this.cellU, this.cellV, out);
    } else if (
      profile.kind === 'flat' ||
      (profile.kind === 'projection' && profile.peaking === 0 && this.insideGate())
    ) {
      expandCosine(emission, face, normal, receiverNormal, 0, this.cellU, this.cellV, out);
    } else {
      this.fitKernel(out);
    }
  }

  private fitKernel(out: Quadratic): void {
    const { emission, face, normal, receiverNormal } = this;
    const bare = this.mode === 'bare';
    const f = (u: number, v: number) => kernelAt(emission, face, normal, receiverNormal, u, v, bare);
    fitQuadratic(f, this.cellU, this.cellV, this.halfCellU, this.halfCellV, out);
  }

  /** With no gate edge over the lens the gate is all open or all shut; bare lamps have no gate. */
  private insideGate(): boolean {
    if (this.mode === 'bare') return true;
    return kernelAt(this.emission, this.face, this.normal, this.receiverNormal, this.cellU, this.cellV, false) > 0;
  }

  private expandWoven(layer: BlockerLayer): void {
    const { face } = this;
    const { stops, frame } = layer.weave!;
    const f = (u: number, v: number) =>
      wovenTransmittance(stops, addScaled(addScaled(face.towards, face.halfU, u), face.halfV, v), frame);
    fitQuadratic(f, this.cellU, this.cellV, this.halfCellU, this.halfCellV, this.factor);
  }

  /** The product over the layers from `index` on, over the polygon at `depth`, with the kernel so far. */
  private expand(index: number, depth: number, kernelDepth: number, share: number): void {
    const active = this.layers[index];
    if (active === undefined || depth > DEEPEST) {
      this.addLeaf(depth, this.kernels[kernelDepth]!, share);
      return;
    }
    const { layer, fullCover } = active;
    if (layer.weave === null) {
      const through = 1 - layer.opacity * fullCover;
      if (through !== 0) this.expand(index + 1, depth, kernelDepth, share * through);
      for (const piece of active.partial) {
        if (this.clipTo(piece, depth)) {
          this.expand(index + 1, depth + 1, kernelDepth, share * (piece.hole ? layer.opacity : -layer.opacity));
        }
      }
      return;
    }
    this.expandThroughWeave(active, index, depth, kernelDepth, share);
  }

  /** As above for a layer whose opacity changes over the face: it goes into the kernel, not into the share. */
  private expandThroughWeave(
    active: ActiveLayer,
    index: number,
    depth: number,
    kernelDepth: number,
    share: number,
  ): void {
    const { layer, fullCover } = active;
    const next = kernelDepth + 1;
    const apply = (through: boolean) => {
      if (this.rule === 'gate') {
        this.branch.push({ layer, through });
        return;
      }
      this.expandWoven(layer);
      if (!through) {
        for (let i = 0; i < MOMENT_COUNT; i++) this.factor[i] = -this.factor[i]!;
        this.factor[0]! += 1;
      }
      multiply(this.kernels[kernelDepth]!, this.factor, this.kernels[next]!);
    };
    const undo = () => {
      if (this.rule === 'gate') this.branch.pop();
    };
    if (fullCover === 0) this.expand(index + 1, depth, kernelDepth, share);
    else {
      apply(true);
      this.expand(index + 1, depth, next, share);
      undo();
    }
    for (const piece of active.partial) {
      if (!this.clipTo(piece, depth)) continue;
      apply(false);
      this.expand(index + 1, depth + 1, next, piece.hole ? share : -share);
      undo();
    }
  }

  /** Clips the polygon at `depth` by a piece's crossing edges into `depth + 1`. */
  private clipTo(piece: ActiveLayer['partial'][number], depth: number): boolean {
    const { edges, stack } = this;
    let from = depth;
    for (let at = piece.firstEdge; at < piece.endEdge; at += 3) {
      if (stack.clip(from, depth + 1, edges[at]!, edges[at + 1]!, edges[at + 2]!) === 0) return false;
      from = depth + 1;
    }
    return true;
  }

  private addLeaf(depth: number, kernel: Quadratic, share: number): void {
    const { stack, total, moments } = this;
    const count = stack.countAt(depth);
    const offset = stack.offsetAt(depth);
    if (this.rule === 'contour') {
      total[0]! += share * this.contour(offset, count);
      return;
    }
    if (this.rule === 'gate') {
      total[0]! += share * integrateOverPolygon((u, v) => this.sampled(u, v), this.gate!, stack.data, offset, count);
      return;
    }
    polygonMoments(stack.data, offset, count, this.cellU, this.cellV, moments);
    total[0]! += share * product(kernel, moments);
    if (this.mode !== 'area') return;
    // The kernel is nearly even over a cell here, so its second-order part is left out of the first moments.
    const [k0, ku, kv] = [kernel[0]!, kernel[1]!, kernel[2]!];
    total[1]! +=
      share * (this.cellU * product(kernel, moments) + k0 * moments[1]! + ku * moments[3]! + kv * moments[4]!);
    total[2]! +=
      share * (this.cellV * product(kernel, moments) + k0 * moments[2]! + ku * moments[4]! + kv * moments[5]!);
  }

  private sampled(u: number, v: number): number {
    const { face } = this;
    let value = kernelAt(this.emission, face, this.normal, this.receiverNormal, u, v, false);
    for (const { layer, through } of this.branch) {
      const direction = addScaled(addScaled(face.towards, face.halfU, u), face.halfV, v);
      const share = wovenTransmittance(layer.weave!.stops, direction, layer.weave!.frame);
      value *= through ? share : 1 - share;
    }
    return value;
  }

  /** Lambert's contour integral of an evenly bright polygon: exact however near it is. */
  private contour(offset: number, count: number): number {
    const { face, stack } = this;
    const corners: Vec3[] = [];
    for (let i = 0; i < count; i++) {
      const u = stack.data[offset + 2 * i]!;
      const v = stack.data[offset + 2 * i + 1]!;
      corners.push(addScaled(addScaled(face.towards, face.halfU, u), face.halfV, v));
    }
    const luminance = this.emission.candelaPerUnit / face.areaPerUnit;
    return uniformPolygonIlluminance(luminance, corners, [0, 0, 0], this.receiverNormal);
  }
}

/** Distance to the nearest point of the face's bounding parallelogram. */
function nearestPoint(face: EmitterFace): number {
  const { towards, halfU, halfV, extentU, extentV } = face;
  const clampTo = (value: number, extent: number) => Math.max(-extent, Math.min(extent, value));
  const uu = dot(halfU, halfU);
  const vv = dot(halfV, halfV);
  const u = uu > 0 ? clampTo(-dot(towards, halfU) / uu, extentU) : 0;
  const v = vv > 0 ? clampTo(-dot(towards, halfV) / vv, extentV) : 0;
  return Math.hypot(...addScaled(addScaled(towards, halfU, u), halfV, v));
}

function product(kernel: Quadratic, moments: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < MOMENT_COUNT; i++) sum += kernel[i]! * moments[i]!;
  return sum;
}

/** Product of two quadratics, cut off after second order; `out` may be one of them. */
function multiply(a: Quadratic, b: Quadratic, out: Quadratic): void {
  const [a0, au, av] = [a[0]!, a[1]!, a[2]!];
  const [b0, bu, bv] = [b[0]!, b[1]!, b[2]!];
  const uu = a0 * b[3]! + au * bu + a[3]! * b0;
  const uv = a0 * b[4]! + au * bv + av * bu + a[4]! * b0;
  const vv = a0 * b[5]! + av * bv + a[5]! * b0;
  out[0] = a0 * b0;
  out[1] = a0 * bu + au * b0;
  out[2] = a0 * bv + av * b0;
  out[3] = uu;
  out[4] = uv;
  out[5] = vv;
}

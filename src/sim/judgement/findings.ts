/** What the judgement finds out about one patch, between the sums of light and the words. */
import type { Vec3 } from '../../scene/geometry/vector';
import type { ApparentDistance } from './apparentDistance';
import type { GateSample } from './gateEdges';
import type { HotEnd } from './hotEnd';
import type { LineFan } from './lineFan';
import type { Patch } from './patch';
import type { EdgeSample } from './shadowEdges';
import type { Step } from './step';

export interface Findings {
  readonly patch: Patch;
  readonly falloffStops: number;
  /** The same untrimmed, out to the patch's corners. */
  readonly fullRangeStops: number;
  readonly hotEnd: HotEnd;
  readonly distance: ApparentDistance;
  readonly fan: number;
  readonly lines: LineFan | null;
  readonly growth: { readonly near: number; readonly far: number } | null;
  readonly edges: readonly EdgeSample[];
  readonly gate: readonly GateSample[];
  readonly step: Step | null;
  readonly fill: number | null;
  readonly shadows: { readonly count: number; readonly dimmer: number; readonly brighter: number };
  /** Unit direction to the light at the patch's centroid. */
  readonly arrival: Vec3;
}

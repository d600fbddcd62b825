/** What the light solver gives back. Levels are lux; grids are row-major, row 0 lowest, column 0 left seen from the lit side. */
import type { Point2 } from '../scene/schema';
import type { JudgementFlag } from './judgement/flagWords';

export interface GridRequest {
  readonly surfaceId: string;
  readonly columns: number;
  readonly rows: number;
  /** Part of the surface in its own right/up metres; the bounding box of the outline if absent. */
  readonly region?: {
    readonly leftM: number;
    readonly bottomM: number;
    readonly widthM: number;
    readonly heightM: number;
  };
}

export interface GridLayer {
  readonly sourceId: string;
  /** Illuminance at level 1 (dimmer, on and off are applied when layers are summed). */
  readonly unitIlluminanceLx: Float32Array;
}

export interface GridResult {
  readonly surfaceId: string;
  readonly columns: number;
  readonly rows: number;
  /** Lower left corner of the grid and its size in the surface's right/up metres. */
  readonly leftM: number;
  readonly bottomM: number;
  readonly widthM: number;
  readonly heightM: number;
  /** 1 where the cell centre lies on the surface (inside the outline, outside openings), else 0. */
  readonly mask: Uint8Array;
  readonly layers: readonly GridLayer[];
  /** Sum of the layers at the sources' levels. */
  readonly illuminanceLx: Float32Array;
}

export interface SolveControl {
  /** Called now and then with 0..1. */
  readonly onProgress?: (fraction: number) => void;
  /** Polled now and then; true ends the solve with SolveCancelled. */
  readonly isCancelled?: () => boolean;
}
export class SolveCancelled extends Error {
  override readonly name = 'SolveCancelled';
}

/** Everything said about one point: the reading under the pointer and at a meter. */
export interface PointReading {
  readonly illuminanceLx: number;
  readonly bySource: readonly {
    readonly sourceId: string;
    readonly illuminanceLx: number;
    /** Angle between the receiver's normal and the light's arrival, degrees; null where this source gives nothing. */
    readonly incidenceDeg: number | null;
  }[];
  /** Null where no light arrives or a colour is not known. */
  readonly cctK: number | null;
  readonly duv: number | null;
  /** Largest change when the emitters' faces are split in four, lux. */
  readonly integrationErrorLx: number;
}

/** Class of the highest score; `notEnough` with fewer than two scored figures. */
export type Verdict = 'reads' | 'passable' | 'givesAway' | 'notEnough';
export type Confidence = 'sure' | 'likely' | 'unsure';
/** An input of the judgement that is only known within a band. */
export type UncertainInput = 'place' | 'beam' | 'emitter' | 'nets' | 'otherLamps' | 'lampColour' | 'sunColour';

export interface MeterReport {
  id: string;
  name: string;
  illuminanceLx: number;
  footcandles: number;
  stopsFromCamera: number | null;
  stopsFromCameraReason?: string;
  cctK: number | null;
  cctKReason?: string;
  duv: number | null;
  duvReason?: string;
  bySource: { sourceId: string; illuminanceLx: number }[];
  integrationError: number;
}
export interface SurfaceReport {
  id: string;
  name: string;
  columns: number;
  rows: number;
  minLx: number;
  maxLx: number;
  meanLx: number;
  uniformityMinOverMean: number | null;
  uniformityMinOverMeanReason?: string;
  rangeStops: number | null;
  rangeStopsReason?: string;
}

/** Figures of the sun judgement, in the order of the report. `<key>Reason` says why a figure is null. */
export const SUN_FIGURES = [
  'falloffStops',
  'hotEnd',
  'apparentDistanceM',
  'reversed',
  'fanDeg',
  'lineFanDeg',
  'growthNear',
  'growthFar',
  'edgeRatio',
  'stepStopsPer10cm',
  'fill',
  'shadowCount',
  'altitudeOffDeg',
  'windowSpreadDeg',
  'windowLevelStops',
  'overAmbienceStops',
  'overKeyStops',
  'cctOffMired',
  'duvOff',
  'hazeDeg',
] as const;
export type SunFigure = (typeof SUN_FIGURES)[number];
export type ScoredFigure =
  | 'fallOff'
  | 'fan'
  | 'lineFan'
  | 'edge'
  | 'step'
  | 'fill'
  | 'shadows'
  | 'height'
  | 'windowSpread'
  | 'windowLevel'
  | 'colour'
  | 'haze';

export interface SunCheck {
  surfaceId: string;
  sourceId: string;
  falloffStops: number | null;
  /** Where the patch is hottest, in words of the surface ("left end", "right end", "top", "foot"), or null. */
  hotEnd: string | null;
  apparentDistanceM: number | null;
  reversed: boolean | null;
  fanDeg: number | null;
  lineFanDeg: number | null;
  growthNear: number | null;
  growthFar: number | null;
  /** Length-weighted median of the edges' widths against the sun's. */
  edgeRatio: number | null;
  stepStopsPer10cm: number | null;
  fill: number | null;
  shadowCount: number | null;
  altitudeOffDeg: number | null;
  windowSpreadDeg: number | null;
  windowLevelStops: number | null;
  overAmbienceStops: number | null;
  overKeyStops: number | null;
  cctOffMired: number | null;
  duvOff: number | null;
  hazeDeg: number | null;
  /** Score of each scored figure: up to 1 reads, up to 2 passable, above gives it away. */
  scores: Partial<Record<ScoredFigure, number>>;
  verdict: Verdict;
  worst: ScoredFigure | null;
  confidence: Confidence | null;
  /** Inputs whose band changes the class of the verdict; empty where it is sure. Not part of the JSON report. */
  doubts: readonly UncertainInput[];
  /** Cautions about the judgement itself; their words are in judgement/flagWords.ts. */
  flags: JudgementFlag[];
  sentence: string;
  /** Why a figure is null, by figure name. Flattened to `<key>Reason` in JSON. */
  reasons: Partial<Record<SunFigure, string>>;
  drawing: SunCheckDrawing | null;
}

/** Where the figures arise, for the drawings; surface right/up metres. Not part of the JSON report. */
export interface SunCheckDrawing {
  readonly patchAreaM2: number;
  /** Open light from the dimmest corner of the patch to its brightest, nothing trimmed, stops. */
  readonly fullRangeStops: number;
  /** Lit cells of the patch grid, for outlines: row-major mask with its placement. */
  readonly grid: {
    readonly columns: number;
    readonly rows: number;
    readonly leftM: number;
    readonly bottomM: number;
    readonly widthM: number;
    readonly heightM: number;
    readonly lit: Uint8Array;
    /** Open light G, lux at level 1; NaN where undefined. Contours are drawn from it. */
    readonly openLx: Float32Array;
    /** Visibility v of hard things, 0..1. */
    readonly visibility: Float32Array;
  };
  readonly centroidM: Point2;
  readonly hot: { readonly atM: Point2; readonly illuminanceLx: number };
  readonly cold: { readonly atM: Point2; readonly illuminanceLx: number };
  /** Shadow lines that fan, each from a to b across the patch. */
  readonly shadowLines: readonly { readonly aM: Point2; readonly bM: Point2 }[];
  /** Edges that were scored: place, 10 to 90 % width of the lamp and of the sun, direction across. */
  readonly edges: readonly {
    readonly atM: Point2;
    readonly acrossM: Point2;
    readonly widthM: number;
    readonly sunWidthM: number;
    readonly ratio: number;
    readonly label: string;
  }[];
  readonly step: { readonly aM: Point2; readonly bM: Point2; readonly stops: number } | null;
  /** Unit vector towards the light at the centroid, world. */
  readonly arrival: readonly [number, number, number];
}

export interface SetupReport {
  id: string;
  name: string;
  meters: MeterReport[];
  surfaces: SurfaceReport[];
  sunChecks: SunCheck[];
}
export interface SceneReport {
  format: 'farsun-report/1';
  scene: string;
  setups: SetupReport[];
}

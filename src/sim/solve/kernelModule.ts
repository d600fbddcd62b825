/**
 * The compiled kernel (kernel/): what it keeps, seen through typed arrays, and what works on that. One integral is under way
 * at a time, or those of one held cell, and what lies here belongs to them alone. What kernel/ lists in an order of its own
 * (the face's numbers, a cover's) is listed here once more.
 */
import { KERNEL_CODE } from './kernelCode';

/** What the module gives: functions, and places and sizes as numbers. */
interface KernelExports {
  readonly memory: { readonly buffer: ArrayBuffer };
  readonly [name: string]: unknown;
}

/** What every place that this runs in has: browsers, workers and Node. */
interface Host {
  readonly WebAssembly: {
    readonly Module: new (code: Uint8Array) => object;
    readonly Instance: new (module: object, imports: object) => { readonly exports: KernelExports };
  };
  atob(text: string): string;
}

/** Adds a patch, from a corner on, times a share, where the closed form of its outline is asked for. */
export type AddOutline = (share: number, from: number, count: number) => void;
let outlines: AddOutline = () => {};
/** From now on outlines are added by a function. */
export function useForOutlines(add: AddOutline): void {
  outlines = add;
}

const { exports } = load();

function load(): { readonly exports: KernelExports } {
  const { WebAssembly, atob } = globalThis as unknown as Host;
  const code = Uint8Array.from(atob(KERNEL_CODE), (letter) => letter.charCodeAt(0));
  const refuseCorners = (): never => {
    throw new RangeError(`more than ${CORNER_CAPACITY} corners of what covers the light of one lamp at one place`);
  };
  const addOutline: AddOutline = (share, from, count) => outlines(share, from, count);
  const host = { pow: Math.pow, asin: Math.asin, refuseCorners, addOutline };
  return new WebAssembly.Instance(new WebAssembly.Module(code), { host });
}

const number = (name: string): number => (exports[name] as { readonly value: number }).value;
const numbers = (name: string, count: number): Float64Array =>
  new Float64Array(exports.memory.buffer, number(name), count);
const places = (name: string, count: number): Int32Array => new Int32Array(exports.memory.buffer, number(name), count);
const marks = (name: string, count: number): Uint8Array => new Uint8Array(exports.memory.buffer, number(name), count);

const LINE_CAPACITY = number('LINE_CAPACITY');
export const PIECE_CAPACITY = number('PIECE_CAPACITY');
export const GROUP_CAPACITY = number('GROUP_CAPACITY');
const CORNER_CAPACITY = number('CORNER_CAPACITY');

// Patches (kernel/patches.ts).
/** u, v of corners, and 1 where the side to the next one is an arc. */
export const corners = numbers('corners', 2 * CORNER_CAPACITY);
export const arcs = marks('arcs', CORNER_CAPACITY);
/** h0, hu, hv of lines; those of the horizon, of what covers the face, and of its open part are kept apart. */
export const lines = numbers('lines', 3 * LINE_CAPACITY);
export const HORIZON_LINE = number('HORIZON_LINE');
export const FIRST_LINE = number('FIRST_LINE');
export const FIRST_OPEN = number('FIRST_OPEN');
/** Middle u, v and half sizes of the present part of the face. */
export const cell = numbers('cell', 4);

// Clipping (kernel/clipping.ts, kernel/circleRing.ts).
type Clip = (round: boolean, from: number, count: number, first: number, end: number) => number;
export const clipPatch = exports['clipPatch'] as Clip;
type ClipToCell = (round: boolean, from: number, count: number, cutU: boolean, cutV: boolean) => number;
export const clipToCell = exports['clipToCell'] as ClipToCell;
/** Where the last clipped patch lies: one number. */
export const clippedAt = places('clippedAt', 1);
/** For tests: `clipPatch` takes it where it may. */
export const clipCircle = exports['clipCircle'] as (place: number, first: number, end: number) => number;
export const NO_RING = number('NO_RING');

// Moments and series (kernel/moments.ts, kernel/face.ts, kernel/expansion.ts).
/** Coefficients of a series: of 1, u, v, uu, uv, vv; of a slim face also of uuu and uuuu. Moments likewise. */
export const SLIM_MOMENT_COUNT = 8;
export const moments = numbers('moments', SLIM_MOMENT_COUNT);
export const patchMoments = exports['patchMoments'] as (
  round: boolean,
  from: number,
  count: number,
  slim: boolean,
) => void;
/** A series in the module's memory: its place, and what lies there. */
export interface Series {
  readonly at: number;
  readonly of: Float64Array;
}
const series = (name: string, i = 0): Series => {
  const at = number(name) + 8 * SLIM_MOMENT_COUNT * i;
  return { at, of: new Float64Array(exports.memory.buffer, at, SLIM_MOMENT_COUNT) };
};
/** That of the present part of the face. */
export const bareSeries = series('bareSeries');
/** One for whatever is multiplied on to it. */
export const spareSeries = series('factor');
const weaves: Series[] = [];
/** That of the threads of a woven group that covers part of the face. */
export const weaveSeries = (group: number): Series => (weaves[group] ??= series('weaveSeries', group));
/** Moments of the whole face. */
export const wholeMoments = numbers('wholeMoments', SLIM_MOMENT_COUNT);
export const multiply = exports['multiply'] as (a: number, b: number, out: number) => void;
export const integrate = exports['integrate'] as (
  round: boolean,
  from: number,
  count: number,
  quadratic: number,
  slim: boolean,
) => number;

/** The present face, as kernel/face.ts lists its numbers. */
export const face = numbers('face', 23);
export const FACE = {
  towards: 0,
  halfU: 3,
  halfV: 6,
  receiverNormal: 9,
  normal: 12,
  about: 15,
  exponent: 21,
  extentU: 22,
} as const;
export const expand = exports['expand'] as (out: number) => void;
export const expandSlim = exports['expandSlim'] as (out: number) => void;

// What covers the face (kernel/cover.ts).
export const coefficient = numbers('coefficient', PIECE_CAPACITY);
export const lineFrom = places('lineFrom', PIECE_CAPACITY);
export const lineTo = places('lineTo', PIECE_CAPACITY);
export const groupId = places('groupId', GROUP_CAPACITY);
export const pieceFrom = places('pieceFrom', GROUP_CAPACITY);
export const pieceTo = places('pieceTo', GROUP_CAPACITY);
export const through = numbers('through', GROUP_CAPACITY);
/** A transmittance below this is darkness left over from rounding. */
export const DARK = number('DARK');
/** Covers that there is room for, by depth; and of each its numbers and places: share, leaves, then the six places. */
export const COVERS = number('COVERS');
const COVER_BYTES = 40;
export const coverNumbers = (depth: number): Float64Array =>
  new Float64Array(exports.memory.buffer, number('covers') + COVER_BYTES * depth, 2);
export const coverPlaces = (depth: number): Int32Array =>
  new Int32Array(exports.memory.buffer, number('covers') + COVER_BYTES * depth + 16, 6);
export const clearCover = exports['clearCover'] as (depth: number) => void;
type AddGroup = (depth: number, id: number, woven: boolean, end: number, left: number) => void;
export const addGroup = exports['addGroup'] as AddGroup;

// The sum over what covers the face (kernel/expansion.ts).
export const LIGHT = number('LIGHT');
export const AREA = number('AREA');
export const OUTLINE = number('OUTLINE');
export const total = numbers('total', 3);
type SetFace = (round: boolean, slim: boolean, knowsWhole: boolean, measure: number) => void;
export const setFace = exports['setFace'] as SetFace;
type AddThrough = (group: number, end: number, from: number, count: number, share: number) => void;
export const addThrough = exports['addThrough'] as AddThrough;

// Receivers of one cell (kernel/heldCell.ts).
export const MOST_LEAVES = number('MOST_LEAVES');
export const HELD_GROUPS = number('HELD_GROUPS');
export const HELD_PIECES = number('HELD_PIECES');
export const HELD_EDGES = number('HELD_EDGES');
export const heldPieceEnd = places('heldPieceEnd', HELD_GROUPS);
export const heldThrough = numbers('heldThrough', HELD_GROUPS);
export const heldEdgeEnd = places('heldEdgeEnd', HELD_PIECES);
export const heldCoefficient = numbers('heldCoefficient', HELD_PIECES);
/** Numbers of an edge. */
export const ROW = number('ROW');
export const heldRow = numbers('heldRow', ROW * HELD_EDGES);
export const heldOwns = marks('heldOwns', HELD_EDGES);
/** From the plane's origin to the face's centre, and what a metre along the plane's axes takes off it. */
export const standpoint = numbers('standpoint', 9);
type HoldCell = (groups: number, passed: number, round: boolean, slim: boolean, corners: number) => void;
export const holdCell = exports['holdCell'] as HoldCell;
export const heldLight = exports['heldLight'] as (x: number, y: number) => number;

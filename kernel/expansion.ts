/**
 * The light of a patch through the groups that cover it: with groups g = 0, 1, ... of transmittance t + Σ c [piece],
 * F(g, polygon) = t F(g + 1, polygon) + Σ c F(g + 1, polygon ∩ piece), down to the light of the clipped polygon. Soft edges
 * come out exact; nothing is sampled.
 */
import { clippedAt, clipPatch } from './clipping';
import { coefficient, isWoven, lineFrom, lineTo, pieceFrom, pieceTo, through } from './cover';
import { multiply } from './face';
import { addOutline } from './host';
import { GROUP_CAPACITY, Numbers, Places } from './memory';
import { integrate, moments, patchMoments } from './moments';
import { cell } from './patches';

/** What is summed of the clipped polygons: light, the face's own area and first moments, or light by the outline. */
export const LIGHT = 0;
export const AREA = 1;
export const OUTLINE = 2;

/** Coefficients of a series, with uuu and uuuu. */
const SERIES = 8;
const MOMENT_COUNT = 6;

/** What is summed, and of the measure AREA its first moments in u and v. */
export const total = changetype<Numbers>(memory.data(24, 16));
/** The series about the cell's middle, times the weaves that cover the whole face. */
export const bareSeries = changetype<Numbers>(memory.data(8 * SERIES, 16));
/** Of each woven group that covers part of the face, what its threads let through. */
export const weaveSeries = changetype<Numbers>(memory.data(8 * SERIES * GROUP_CAPACITY, 16));
/** Moments of the whole face, which patches that nothing clips are so often made of. */
export const wholeMoments = changetype<Numbers>(memory.data(8 * SERIES, 16));

/** By depth: what the groups met so far let through, and the series that holds behind them, by depth or the bare one. */
const shares = changetype<Numbers>(memory.data(8 * (GROUP_CAPACITY + 1), 16));
const seriesAt = changetype<Places>(memory.data(4 * (GROUP_CAPACITY + 1), 16));
const BARE = -1;
/** Series behind weaves, by depth, and one to work with: what a piece of woven cloth adds. */
const wovenSeries = changetype<Numbers>(memory.data(8 * SERIES * (GROUP_CAPACITY + 1), 16));
export const factor = changetype<Numbers>(memory.data(8 * SERIES, 16));

let measure = LIGHT;
let round = false;
/** The series goes to fourth order in u. */
let slim = false;
let knowsWhole = false;
let groupTo = 0;

export function setFace(isRound: boolean, isSlim: boolean, isWholeKnown: boolean, measured: i32): void {
  round = isRound;
  slim = isSlim;
  knowsWhole = isWholeKnown;
  measure = measured;
}

/** Adds the patch at `from`, times a share, through the groups from `group` up to `end`, to `total`. */
export function addThrough(group: i32, end: i32, from: i32, count: i32, share: f64): void {
  groupTo = end;
  shares[group] = share;
  seriesAt[group] = BARE;
  if (group === end) addLeaf(group, from, count);
  else expandGroup(group, from, count);
}

/** The product over the groups from `depth` on, of which there is at least one, over the patch at `from`. */
function expandGroup(depth: i32, from: i32, count: i32): void {
  if (isWoven[depth] === 1) {
    expandWeave(depth, from, count);
    return;
  }
  const share = shares[depth];
  const left = through[depth];
  const own = depth + 1;
  seriesAt[own] = seriesAt[depth];
  if (left !== 0) {
    shares[own] = share * left;
    if (own === groupTo) addLeaf(own, from, count);
    else expandGroup(own, from, count);
  }
  const end = pieceTo[depth];
  for (let piece = pieceFrom[depth]; piece < end; piece++) {
    shares[own] = share * coefficient[piece];
    clipAndExpand(own, piece, from, count);
  }
}

/** As above for a group whose opacity changes over the face: it goes into the series, not into the share. */
function expandWeave(depth: i32, from: i32, count: i32): void {
  const own = depth + 1;
  const share = shares[depth];
  const at = seriesAt[depth];
  const before = seriesOf(at);
  const net = weaveSeries.from(SERIES * depth);
  const product = wovenSeries.from(SERIES * own);
  shares[own] = share;
  if (through[depth] === 1) seriesAt[own] = at;
  else {
    multiply(before, net, product);
    seriesAt[own] = own;
  }
  if (own === groupTo) addLeaf(own, from, count);
  else expandGroup(own, from, count);
  const end = pieceTo[depth];
  for (let piece = pieceFrom[depth]; piece < end; piece++) {
    for (let i = 0; i < MOMENT_COUNT; i++) factor[i] = -net[i];
    factor[0] = factor[0] + 1;
    multiply(before, factor, product);
    seriesAt[own] = own;
    shares[own] = share * coefficient[piece];
    clipAndExpand(own, piece, from, count);
  }
}

function seriesOf(at: i32): Numbers {
  return at === BARE ? bareSeries : wovenSeries.from(SERIES * at);
}

/** Clips the patch by the edges of a piece and goes on with what is left. */
function clipAndExpand(depth: i32, piece: i32, from: i32, count: i32): void {
  const left = clipPatch(round, from, count, lineFrom[piece], lineTo[piece]);
  if (left === 0) return;
  if (depth === groupTo) addLeaf(depth, clippedAt[0], left);
  else expandGroup(depth, clippedAt[0], left);
}

function addLeaf(depth: i32, from: i32, count: i32): void {
  const share = shares[depth];
  if (measure === OUTLINE) {
    addOutline(share, from, count);
    return;
  }
  const k = seriesOf(seriesAt[depth]);
  if (measure === AREA) addFirstMoments(k, share, from, count);
  else if (from === 0 && knowsWhole) total[0] = total[0] + share * overWhole(k);
  else total[0] = total[0] + share * integrate(round, from, count, k, slim);
}

function overWhole(k: Numbers): f64 {
  const sum = timesMoments(k, wholeMoments);
  return slim ? sum + k[6] * wholeMoments[6] + k[7] * wholeMoments[7] : sum;
}

function timesMoments(k: Numbers, m: Numbers): f64 {
  return k[0] * m[0] + k[1] * m[1] + k[2] * m[2] + k[3] * m[3] + k[4] * m[4] + k[5] * m[5];
}

/** As a leaf, with the first moments. The series is nearly even over a cell here: its second order is left out of them. */
function addFirstMoments(k: Numbers, share: f64, from: i32, count: i32): void {
  patchMoments(round, from, count, false);
  const m = moments;
  const sum = timesMoments(k, m);
  total[0] = total[0] + share * sum;
  total[1] = total[1] + share * (cell[0] * sum + k[0] * m[1] + k[1] * m[3] + k[2] * m[4]);
  total[2] = total[2] + share * (cell[1] * sum + k[0] * m[2] + k[1] * m[4] + k[2] * m[5]);
}

/**
 * The light of receivers of one cell, for which the pieces that may cover the face are laid out once, in the order in which
 * each receiver reads them: groups, their pieces, these pieces' edges. One part of the face does for each of them; nothing
 * woven stands in the light.
 */
import { clippedAt, clipPatch } from './clipping';
import { clearCover, coefficient, coverAt, DARK, lineFrom, lineTo } from './cover';
import { addThrough, bareSeries, LIGHT, setFace, total } from './expansion';
import { expand, expandSlim, face } from './face';
import { Marks, Numbers, Places } from './memory';
import { cell, lines } from './patches';

/** Groups, pieces and edges that there is room for; fewer than a cover may have. */
export const HELD_GROUPS = 5_000;
export const HELD_PIECES = 15_000;
export const HELD_EDGES = 60_000;
/** Numbers of an edge: those of h0, hu, hv, each affine in the receiver's x and y. */
export const ROW = 9;

/** Clipped polygons that a part of the face may cost. */
export const MOST_LEAVES = 2048;

/** From the plane's origin to the face's centre; what a metre along the plane's axes takes off it. For the sun nothing. */
@unmanaged
export class Standpoint {
  centreX: f64;
  centreY: f64;
  centreZ: f64;
  axisXX: f64;
  axisXY: f64;
  axisXZ: f64;
  axisYX: f64;
  axisYY: f64;
  axisYZ: f64;
}
export const standpoint = changetype<Standpoint>(memory.data(offsetof<Standpoint>(), 16));

/** Of each group: where its pieces end, and what those that cover the whole face leave. */
export const heldPieceEnd = changetype<Places>(memory.data(4 * HELD_GROUPS, 16));
export const heldThrough = changetype<Numbers>(memory.data(8 * HELD_GROUPS, 16));
/** Of each piece: where its edges end, and what it adds to its group. */
export const heldEdgeEnd = changetype<Places>(memory.data(4 * HELD_PIECES, 16));
export const heldCoefficient = changetype<Numbers>(memory.data(8 * HELD_PIECES, 16));
/** Of each edge its row, and whether a ray exactly on it counts as inside. */
export const heldRow = changetype<Numbers>(memory.data(8 * ROW * HELD_EDGES, 16));
export const heldOwns = changetype<Marks>(memory.data(HELD_EDGES, 16));

let groupCount = 0;
let share: f64 = 1;
let round = false;
let slim = false;
let cornerCount = 0;

/**
 * Takes what is laid out. The face's corners, its numbers, its whole moments and its standpoint are in their places, and stay
 * there with what is laid out as long as `heldLight` is asked.
 * @param passed what the groups let through that cover the whole face from everywhere in the cell
 */
export function holdCell(groups: i32, passed: f64, isRound: boolean, isSlim: boolean, faceCorners: i32): void {
  groupCount = groups;
  share = passed;
  round = isRound;
  slim = isSlim;
  cornerCount = faceCorners;
}

/** Light of the receiver at (x, y) of its plane; NaN where it needs more clipped polygons than MOST_LEAVES. */
export function heldLight(x: f64, y: f64): f64 {
  const cover = coverAt(0);
  if (!gather(x, y)) return 0;
  if (cover.leaves > MOST_LEAVES) return NaN;
  let from = 0;
  let count = cornerCount;
  if (cover.openTo > cover.openFrom) {
    count = clipPatch(round, from, count, cover.openFrom, cover.openTo);
    if (count === 0) return 0;
    from = clippedAt[0];
  }
  setFace(round, slim, true, LIGHT);
  cell[0] = 0;
  cell[1] = 0;
  cell[2] = face.extentU;
  cell[3] = 1;
  face.towardsX = standpoint.centreX - x * standpoint.axisXX - y * standpoint.axisYX;
  face.towardsY = standpoint.centreY - x * standpoint.axisXY - y * standpoint.axisYY;
  face.towardsZ = standpoint.centreZ - x * standpoint.axisXZ - y * standpoint.axisYZ;
  if (slim) expandSlim(bareSeries);
  else expand(bareSeries);
  total[0] = 0;
  addThrough(cover.groupFrom, cover.groupTo, from, count, cover.share);
  return total[0];
}

/** Finds what covers the face of the receiver at (x, y). @returns false where no light comes through */
function gather(x: f64, y: f64): boolean {
  const cover = coverAt(0);
  const extentU = face.extentU;
  clearCover(0);
  cover.share = share;
  let piece = 0;
  let edge = 0;
  for (let group = 0; group < groupCount; group++) {
    const first = cover.pieceEnd;
    const pieceEnd = heldPieceEnd[group];
    let crossing = first;
    let line = cover.lineEnd;
    let left = heldThrough[group];
    for (; piece < pieceEnd; piece++) {
      const start = line;
      const end = heldEdgeEnd[piece];
      let isInside = true;
      for (; edge < end; edge++) {
        const row = heldRow.from(ROW * edge);
        const h0 = row[0] + row[1] * x + row[2] * y;
        const hu = row[3] + row[4] * x + row[5] * y;
        const hv = row[6] + row[7] * x + row[8] * y;
        const reach = Math.abs(hu) * extentU + Math.abs(hv);
        const most = round ? hu * hu + hv * hv : reach * reach;
        if (h0 * h0 < most) {
          lines.put(line, h0, hu, hv);
          line++;
        } else if (h0 < 0 || (h0 === 0 && heldOwns[edge] === 0)) {
          isInside = false;
          break;
        }
      }
      edge = end;
      if (!isInside) {
        line = start;
        continue;
      }
      if (line === start) left += heldCoefficient[piece];
      else {
        coefficient[crossing] = heldCoefficient[piece];
        lineFrom[crossing] = start;
        lineTo[crossing++] = line;
      }
    }
    if (crossing > first) cover.addGroup(0, false, crossing, left);
    else if (left < DARK) return false;
    else cover.share *= left;
  }
  return true;
}

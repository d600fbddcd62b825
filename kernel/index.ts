/** What the module gives its caller: places of what it keeps, sizes, and what works on them. */
export { clippedAt, clipPatch, clipToCell } from './clipping';
/** For tests: `clipPatch` takes it where it may. */
export { clipCircle, NO_RING } from './circleRing';
export {
  addGroup,
  clearCover,
  coefficient,
  COVERS,
  covers,
  DARK,
  groupId,
  lineFrom,
  lineTo,
  pieceFrom,
  pieceTo,
  through,
} from './cover';
export {
  addThrough,
  AREA,
  bareSeries,
  factor,
  LIGHT,
  OUTLINE,
  setFace,
  total,
  weaveSeries,
  wholeMoments,
} from './expansion';
export { expand, expandSlim, face, multiply } from './face';
export {
  HELD_EDGES,
  HELD_GROUPS,
  HELD_PIECES,
  heldCoefficient,
  heldEdgeEnd,
  heldLight,
  heldOwns,
  heldPieceEnd,
  heldRow,
  heldThrough,
  holdCell,
  MOST_LEAVES,
  ROW,
  standpoint,
} from './heldCell';
export { CORNER_CAPACITY, GROUP_CAPACITY, LINE_CAPACITY, PIECE_CAPACITY } from './memory';
export { integrate, moments, patchMoments } from './moments';
export { arcs, cell, corners, FIRST_LINE, FIRST_OPEN, HORIZON_LINE, lines } from './patches';

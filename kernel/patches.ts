/**
 * Patches of a face in (u, v). A patch's sides are straight, or, on a round face, arcs of the unit circle: discs are clipped
 * as what they are, not as polygons. A patch is a place (its first corner) and a count of corners, counter-clockwise; patches
 * lie one behind the other, each behind the one that it was cut from. The whole face lies first.
 */
import { CORNER_CAPACITY, Corners, LINE_CAPACITY, Lines, Marks, Numbers } from './memory';

export const corners = changetype<Corners>(memory.data(16 * CORNER_CAPACITY, 16));
/** 1 where the side from a corner to the next is an arc. */
export const arcs = changetype<Marks>(memory.data(CORNER_CAPACITY, 16));
/** Lines that patches are clipped to. */
export const lines = changetype<Lines>(memory.data(24 * LINE_CAPACITY, 16));

/** Lines kept apart: the receiver's horizon and the side of a cell; those of what covers the face follow. */
export const HORIZON_LINE = 0;
export const CELL_LINE = 1;
export const FIRST_LINE = 2;
/** Lines of the open part of the face lie behind all others. */
export const FIRST_OPEN = LINE_CAPACITY / 2;

/** Middle u, v and half sizes of the present part of the face. */
export const cell = changetype<Numbers>(memory.data(32, 16));

/** Light through an egg crate: a grid of square cells with blackened walls, square to the lamp's axis. */

export interface EggCrate {
  /** Depth of a cell over its clear width. */
  readonly slope: number;
  /** Share of the face that the walls' front edges leave open, 0..1. */
  readonly open: number;
}

/** @param wallM thickness of the walls between the cells; edges of no thickness if absent */
export const eggCrateOf = (cellM: number, depthM: number, wallM = 0): EggCrate => ({
  slope: depthM / cellM,
  open: (cellM / (cellM + wallM)) ** 2,
});

/**
 * Share of the light along a direction that gets through, the cells' walls' front edges left out: a ray that leans by
 * tan a across a cell of depth d and width c is lost in the wall from (d/c) |tan a| of the cell, and so the other way.
 * @param x, y tangents of the direction's lean along the cells' two sides
 * @source plane geometry; checked against traced grids of rays in the reference values 8.7
 */
export const cellShare = (slope: number, x: number, y: number): number =>
  Math.max(0, 1 - slope * Math.abs(x)) * Math.max(0, 1 - slope * Math.abs(y));

/** Angle off the axis at which a cell goes dark along its side, and along its diagonal; radians. */
export const cutOffRad = (slope: number): number => Math.atan(1 / slope);
export const diagonalCutOffRad = (slope: number): number => Math.atan(Math.SQRT2 / slope);

/**
 * Share of a matt (Lambertian) face's flux that comes out of the cells, walls' edges left out: what one end of a black
 * square cell sends to its other end, the view factor of two equal parallel squares.
 * @source Howell, catalogue of configuration factors, C-11, with both sides w/d
 */
export function mattFluxShare(slope: number): number {
  const x = 1 / slope;
  const root = Math.sqrt(1 + x * x);
  const logarithm = Math.log((1 + x * x) / Math.sqrt(1 + 2 * x * x));
  return (2 / (Math.PI * x * x)) * (logarithm + 2 * x * root * Math.atan(x / root) - 2 * x * Math.atan(x));
}

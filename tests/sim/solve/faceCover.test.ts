/** What covers a face is counted before it is written: nothing else keeps it in its places in the compiled kernel. */
import { describe, expect, test } from 'vitest';
import type { BlockerLayer } from '../../../src/sim/solve/compiled';
import { FaceCover } from '../../../src/sim/solve/faceCover';
import {
  coefficient,
  COVERS,
  FIRST_LINE,
  FIRST_OPEN,
  lineFrom,
  lines,
  lineTo,
} from '../../../src/sim/solve/kernelModule';

const woven = { weave: {} } as unknown as BlockerLayer;
const plain = { weave: null } as unknown as BlockerLayer;
const groupOf = (layer: BlockerLayer) => ({ layer, bit: 1, base: 1 });

/** Starts a cover whose first pieces are holes, each of so many lines. */
function coverOf(layer: BlockerLayer, pieces: number, linesEach: number): FaceCover {
  const cover = new FaceCover([groupOf(layer)]);
  cover.clear();
  for (let piece = 0; piece < pieces; piece++) {
    coefficient[piece] = 1;
    lineFrom[piece] = FIRST_LINE + piece * linesEach;
    lineTo[piece] = FIRST_LINE + (piece + 1) * linesEach;
  }
  return cover;
}

describe('the polygons that a cover may come to', () => {
  test('are one a hole of an opaque group, and for the threads beside the holes of a woven one another', () => {
    const opaque = coverOf(plain, 2, 1);
    opaque.addGroup(0, 2, 0);
    expect(opaque.leaves).toBe(2);
    const net = coverOf(woven, 2, 1);
    net.addGroup(0, 2, 0);
    expect(net.leaves).toBe(3);
  });
});

describe('more than there is room for is refused', () => {
  const refusal = /^more than \d+ edges cross the light of one lamp at one place$/;
  test('in a cover of the face', () => {
    const cover = coverOf(woven, 1, FIRST_OPEN);
    expect(() => cover.addGroup(0, 1, 0)).toThrow(refusal);
  });
  test('in that of a quarter, behind its own', () => {
    const cover = coverOf(woven, 1, FIRST_OPEN / 2);
    for (let line = FIRST_LINE; line < lineTo[0]!; line++) lines.set([0, 1, 0], 3 * line);
    lines.set([-9, 1, 0], 3 * (lineTo[0]! - 1)); // beside the face after all, when all others are written
    cover.addGroup(0, 1, 0);
    const quarter = new FaceCover(cover.groups, cover);
    expect(() => cover.narrowTo(new Float64Array([0.5, 0.5, 1, 0.5]), quarter)).toThrow(refusal);
  });
  test('of covers within covers', () => {
    let cover = new FaceCover([groupOf(plain)]);
    for (let depth = 1; depth < COVERS; depth++) cover = new FaceCover(cover.groups, cover);
    expect(() => new FaceCover(cover.groups, cover)).toThrow(/^more than 8 covers/);
  });
});

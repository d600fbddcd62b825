/** Fill of lamps whose own front cuts the beam: a snoot's cone on a square window, by similar triangles. */
import { expect, test } from 'vitest';
import type { Lamp, Surface } from '../../../src/scene/schema';
import { judged, wallX0 } from '../../validation/judgementScenes';
import { facing, lamp } from '../../validation/scenes';

const MOUNT_M = 0.01;
const LAMP_X_M = 4;
const WINDOW_X_M = 2;

/** A small lamp 2 m before a window of 1 x 1 m, square on to it and to the wall behind. */
const small = (accessories: NonNullable<Lamp['accessories']>): Lamp => ({
  ...lamp(
    facing([LAMP_X_M, 0, 1.5], 270, 0),
    { shape: 'disc', diameterM: 0.004 },
    { kind: 'beam', beamAngleDeg: 120, fieldAngleDeg: 170 },
    { kind: 'candela', candela: 20_000 },
  ),
  accessories,
});
/** It faces -x, so that its right is -y: from y = 3 to y = -3. */
const windowWall: Surface = {
  name: 'Window wall',
  kind: 'wall',
  pose: facing([WINDOW_X_M, 3, 0], 270, 0),
  shape: { kind: 'rectangle', widthM: 6, heightM: 3 },
  openings: { one: { leftM: 2.5, sillM: 1, shape: { kind: 'rectangle', widthM: 1, heightM: 1 } } },
};
const fillOf = (accessories: NonNullable<Lamp['accessories']>): number | null =>
  judged({ source: small(accessories), wall: wallX0(-2, 2, 0, 3), surfaces: { 'window-wall': windowWall } }).fill;

test('a bare wide lamp overfills the window', () => {
  expect(fillOf([])).toBe(1);
});

test.each([
  [0.2, 0.08],
  [0.2, 0.06],
  [0.3, 0.07],
])('a snoot %d m long, %d m wide fills as much as its cone covers', (lengthM, diameterM) => {
  const radiusM = ((diameterM / 2) * (LAMP_X_M - WINDOW_X_M)) / (MOUNT_M + lengthM);
  // The circle lies within the square.
  expect(radiusM).toBeLessThan(0.5);
  const fill = fillOf([{ kind: 'snoot', lengthM, diameterM }]);
  // A cell of the finest grid is 1/160 of the area looked at: the circle's rim is told to about one of them.
  expect(Math.abs(fill! - Math.PI * radiusM ** 2)).toBeLessThan(0.02);
});

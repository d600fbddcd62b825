/** The pointer while something is drawn: a press sets a snapped corner; middle button and two fingers move the view. */
import { expect, test } from 'vitest';
import { emptyScene } from '../../src/scene/emptyScene';
import { startDrawing } from '../../src/ui/tools/draw/drawing';
import { reduceDrawPointer, type DrawContext } from '../../src/ui/tools/draw/drawPointer';
import { IDLE, type ToolEvent } from '../../src/ui/tools/tool';

// A hundred pixels to the metre, plan x to the right, y up from the bottom left at 0, 600.
const context: DrawContext = {
  tool: 'draw',
  document: { ...emptyScene(), surfaces: {} },
  setupId: 'a',
  drawing: startDrawing('walls'),
  sheet: {
    kind: 'plan',
    hitTest: () => ({ object: { kind: 'opening', id: 'w', surfaceId: 'wall-1' }, handle: 'body' }),
    worldFromScreen: ({ x, y }) => [x / 100, (600 - y) / 100, 0],
    screenFromWorld: ([x, y]) => ({ x: x * 100, y: 600 - y * 100 }),
    metresPerPixel: () => 0.01,
  },
};
const down = (at: { x: number; y: number }, more: Partial<Extract<ToolEvent, { type: 'down' }>> = {}) =>
  ({ type: 'down', pointerId: 1, at, button: 0, touch: false, ...more }) as const;

test('a press sets a corner where it ends, rounded to 5 cm', () => {
  const pressed = reduceDrawPointer(IDLE, down({ x: 101, y: 302 }), context).state;
  const up = reduceDrawPointer(pressed, { type: 'up', pointerId: 1, at: { x: 202, y: 302 } }, context);
  expect(up.drew).toEqual({ type: 'corner', at: [2, 3] });
  expect(up.state).toEqual(IDLE);
  const other = reduceDrawPointer(pressed, { type: 'up', pointerId: 2, at: { x: 202, y: 302 } }, context);
  expect(other.drew).toBeUndefined();
});

test('an opening is put into the wall under the press, also when another opening is hit; a corner names no wall', () => {
  const drawing = startDrawing('window');
  const pressed = reduceDrawPointer(IDLE, down({ x: 100, y: 300 }), { ...context, drawing }).state;
  const up = { type: 'up', pointerId: 1, at: { x: 100, y: 300 } } as const;
  expect(reduceDrawPointer(pressed, up, { ...context, drawing }).onSurfaceId).toBe('wall-1');
  expect(reduceDrawPointer(pressed, up, context).onSurfaceId).toBeUndefined();
});

test('the middle button and a second finger move the view and set nothing', () => {
  const panning = reduceDrawPointer(IDLE, down({ x: 0, y: 0 }, { button: 1 }), context).state;
  expect(panning.name).toBe('panning');
  expect(reduceDrawPointer(panning, { type: 'up', pointerId: 1, at: { x: 9, y: 9 } }, context).drew).toBeUndefined();
  const one = reduceDrawPointer(IDLE, down({ x: 0, y: 0 }, { touch: true }), context).state;
  const two = reduceDrawPointer(one, down({ x: 50, y: 0 }, { touch: true, pointerId: 2 }), context).state;
  expect(two.name).toBe('pinching');
  expect(reduceDrawPointer(two, { type: 'up', pointerId: 2, at: { x: 50, y: 0 } }, context).drew).toBeUndefined();
});

test('moving shows where the corner would come; leaving and cancelling set nothing', () => {
  const move = { type: 'move', pointerId: 1, at: { x: 149, y: 300 }, touch: false } as const;
  expect(reduceDrawPointer(IDLE, move, context).drew).toEqual({ type: 'hover', at: [1.5, 3] });
  expect(reduceDrawPointer(IDLE, { type: 'leave' }, context).drew).toEqual({ type: 'hover', at: null });
  const pressed = reduceDrawPointer(IDLE, down({ x: 0, y: 0 }), context).state;
  expect(reduceDrawPointer(pressed, { type: 'cancel' }, context)).toEqual({ state: IDLE, snaps: [] });
});

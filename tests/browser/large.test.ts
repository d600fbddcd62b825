/** 200 walls, 60 lamps, 200 pieces in the page: it opens, is found its way about in, and a drag costs what moves. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { saveScene } from '../../src/scene/save';
import { largeScene } from '../large/largeScene';
import { drag, figure, placeIn, toFront, undo } from './hands';
import { openDesk, openScene } from './page';

interface Drawn {
  readonly kind: string;
  readonly redrawn: number;
}
type Watching = Window & { drawn: Drawn[] };

/** Runs in the page: keeps how much of each drawing was drawn anew, as the drawings say themselves. */
function watch(): void {
  const drawn: Drawn[] = [];
  (window as unknown as Watching).drawn = drawn;
  const plainMark = performance.mark.bind(performance);
  performance.mark = (name, options) => {
    if (name === 'farsun-drawn') drawn.push(options?.detail as Drawn);
    return plainMark(name, options);
  };
}
const desk = openDesk({ viewport: { width: 1280, height: 720 } }, watch);

/** Opens a scene with so many rooms and drags a lamp about in it. @returns most shapes redrawn by one drawing of the plan */
async function redrawnByDrag(page: Page, roomCount: number): Promise<{ once: number; all: number }> {
  await openScene(page, `stores-${roomCount}.json`, saveScene(largeScene(roomCount)));
  await toFront(page, 'plan');
  const at = await placeIn(page, 'plan', 'L3');
  const take = (): Promise<number[]> =>
    page.evaluate(() => {
      const { drawn } = window as unknown as Watching;
      return drawn.splice(0).flatMap(({ kind, redrawn }) => (kind === 'plan' ? [redrawn] : []));
    });
  await page.locator('#drawing-plan').focus();
  // A change of the view draws all there is anew.
  await take();
  let all = 0;
  for (const key of ['+', '0']) {
    await page.keyboard.press(key);
    // Until the drawings have come to rest, however slow the machine.
    let isDrawn = false;
    for (let rests = 0, tries = 0; (rests < 4 || !isDrawn) && tries < 60; tries += 1) {
      await page.waitForTimeout(250);
      const drawn = await take();
      isDrawn ||= drawn.length > 0;
      rests = drawn.length > 0 ? 0 : rests + 1;
      all = Math.max(all, ...drawn);
    }
  }
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 3, at.y + 6);
  await page.waitForTimeout(300);
  await take();
  // A slow machine draws some of the steps alone.
  const moves: number[] = [];
  for (let step = 1; step <= 80 && (step <= 16 || moves.length < 3); step += 1) {
    await page.mouse.move(at.x + 3 + 0.5 * step, at.y + 6 + 0.25 * step);
    await page.waitForTimeout(40);
    moves.push(...(await take()).filter((redrawn) => redrawn > 0));
  }
  await page.mouse.up();
  await undo(page);
  expect(moves.length).toBeGreaterThanOrEqual(3);
  return { once: Math.max(...moves), all };
}

test('a drag redraws no more among fifty rooms than among five', async () => {
  const few = await redrawnByDrag(desk.page, 5);
  const many = await redrawnByDrag(desk.page, 50);
  expect(many.all).toBeGreaterThan(3 * few.all);
  expect(many.once).toBeLessThanOrEqual(1.5 * few.once);
  expect(many.once).toBeLessThan(0.3 * many.all);
}, 180_000);

test('the list makes the lines in view alone, and keys walk through all of it', async () => {
  const { page } = desk;
  expect(await page.locator('.list header span').innerText()).toBe('585');
  const lines = page.getByRole('option');
  expect(await lines.count()).toBeLessThan(60);
  await page.getByRole('option', { name: /^L3 / }).click();
  await page.keyboard.press('ArrowDown');
  expect(await page.locator('#selected-title').innerText()).toBe('Selected: L4');
  await page.keyboard.press('End');
  await page.getByRole('option', { name: /^Mark 12/ }).waitFor();
  expect(await page.locator('#selected-title').innerText()).toBe('Selected: Mark 12');
  expect(await lines.count()).toBeLessThan(60);
  // By the first letters of a name, wherever it lies.
  await page.keyboard.type('N13');
  await page.locator('[role="option"]:focus', { hasText: /^N13/ }).waitFor();
});

test('a lamp is dragged where the hand goes, and taken back', async () => {
  const { page } = desk;
  await page.locator('[role="option"]:focus').press('Home');
  const at = await placeIn(page, 'plan', 'L3');
  const left = await figure(page, 'East');
  await drag(page, at, { x: 40, y: 0 });
  expect(await figure(page, 'East')).toBeGreaterThan(left + 0.5);
  await undo(page);
  expect(await figure(page, 'East')).toBe(left);
});

test('a frame round everything chooses all that is loose', async () => {
  const { page } = desk;
  await page.locator('#drawing-plan').focus();
  await page.keyboard.press('Escape');
  await page.keyboard.press('0');
  await page.waitForTimeout(200);
  const box = (await page.locator('#drawing-plan').boundingBox())!;
  await page.keyboard.down('Shift');
  await drag(page, { x: box.x + 3, y: box.y + 3 }, { x: box.width - 8, y: box.height - 8 });
  await page.keyboard.up('Shift');
  // 60 lamps, 200 pieces, 12 meters, 12 marks.
  await page.keyboard.press('Shift+F10');
  await page.getByText('284 things', { exact: true }).waitFor();
  expect(desk.faults).toEqual([]);
});

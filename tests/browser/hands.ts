/** What hands do on the page: choose, type, drag, take back. */
import type { CDPSession, Locator, Page } from 'playwright-core';
import { expect } from 'vitest';

export interface Spot {
  readonly x: number;
  readonly y: number;
}
export type Kind = 'plan' | 'elevation' | 'section';

export const selectedTitle = (page: Page): Promise<string> => page.locator('#selected-title').innerText();
export const field = (page: Page, label: string): Locator => page.getByLabel(label, { exact: true });
export const undo = (page: Page): Promise<void> =>
  page.locator('header.top').getByRole('button', { name: /^Undo/ }).click();

/** A figure as it stands in its field, as a number. */
export const figure = async (page: Page, label: string): Promise<number> =>
  Number((await field(page, label).inputValue()).replace('\u2212', '-'));

/** Chooses a thing in the list that mirrors the drawings. */
export async function choose(page: Page, name: string): Promise<void> {
  await page.getByRole('option', { name: new RegExp(`^${name}(?!\\d)`) }).click();
  expect(await selectedTitle(page)).toBe(`Selected: ${name}`);
}

/** Brings a drawing to the front, where it is not there already. */
export async function toFront(page: Page, kind: Kind): Promise<void> {
  const button = page.getByRole('button', { name: new RegExp(`^${kind}.*bring to the front$`, 'i') });
  if (await button.count()) await button.click();
}

/** Where the note of a nudge stands: beside the thing that was nudged. */
async function noted(page: Page): Promise<Spot> {
  await page.locator('.drag-note').waitFor();
  // In one step: the note goes by itself after a moment.
  return page.evaluate(() => {
    const note = document.querySelector<HTMLElement>('.drag-note')!;
    const box = note.parentElement!.getBoundingClientRect();
    return { x: box.left + Number(note.dataset['x']), y: box.top + Number(note.dataset['y']) };
  });
}

/** Where a thing lies in a drawing: a nudge there and back leaves a note beside it. */
export async function placeIn(page: Page, kind: Kind, name: string): Promise<Spot> {
  await choose(page, name);
  await page.locator(`#drawing-${kind}`).focus();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowDown');
  return noted(page);
}

/** Pixels for a metre in a drawing: how far a nudge of ten centimetres shifts the chosen thing's note. */
export async function pixelsPerMetre(page: Page, kind: Kind): Promise<number> {
  await page.locator(`#drawing-${kind}`).focus();
  await page.keyboard.press('ArrowUp');
  const from = await noted(page);
  await page.keyboard.press('Shift+ArrowUp');
  const to = await noted(page);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  return (from.y - to.y) / 0.1;
}

/** Drags with the mouse in a few moves and lets go. */
export async function drag(page: Page, from: Spot, delta: Spot, before?: () => Promise<void>): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  for (let step = 1; step <= 5; step += 1) {
    await page.mouse.move(from.x + (delta.x * step) / 5, from.y + (delta.y * step) / 5);
  }
  await before?.();
  await page.mouse.up();
}

/** Touches the page with one finger for each path, all moving at once. */
export async function swipe(client: CDPSession, paths: readonly (readonly [from: Spot, to: Spot])[]): Promise<void> {
  const points = (share: number) =>
    paths.map(([from, to], id) => ({
      id,
      x: from.x + (to.x - from.x) * share,
      y: from.y + (to.y - from.y) * share,
    }));
  await client.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: points(0) });
  // As a hand does, which waits for no drawing: or else on a slow machine its fingers would rest between two moves.
  const shares = [1, 2, 3, 4, 5, 6].map((step) => step / 6);
  await Promise.all(
    shares.map((share) => client.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: points(share) })),
  );
  await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}

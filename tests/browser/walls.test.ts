/** Walls on the plan: carried whole or by a corner, by mouse, keys, figures and finger; windows pressed into an elevation. */
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { choose, drag, field, figure, selectedTitle, swipe, toFront, undo, type Spot } from './hands';
import { openDesk, visit } from './page';

const desk = openDesk();
let page: Page;
beforeAll(async () => {
  page = desk.page;
  await toFront(page, 'plan');
});

const lengthOf = async (on: Page, name: string): Promise<number> => {
  await choose(on, name);
  return figure(on, 'Length');
};
const CORNERS = ['Left corner, east', 'Left corner, north', 'Right corner, east', 'Right corner, north'] as const;
const corners = async (on: Page): Promise<number[]> => {
  const found: number[] = [];
  for (const label of CORNERS) found.push(await figure(on, label));
  return found;
};
const pickPart = async (on: Page, name: string): Promise<void> => {
  await on.getByTestId('selected').locator('.pick').first().click();
  await on.locator('.popover').getByRole('option', { name, exact: true }).click();
};
const note = (on: Page): Promise<string> => on.locator('.drag-note').innerText();
/** Where the note of a nudge there and back stands: at the middle of the chosen wall, or at its chosen corner. */
async function spotOf(on: Page): Promise<Spot> {
  await on.locator('#drawing-plan').focus();
  for (const key of ['ArrowDown', 'ArrowUp']) await on.keyboard.press(key);
  await on.locator('.drag-note').waitFor();
  return on.evaluate(() => {
    const one = document.querySelector<HTMLElement>('.drag-note')!;
    const box = one.parentElement!.getBoundingClientRect();
    return { x: box.left + Number(one.dataset['x']), y: box.top + Number(one.dataset['y']) };
  });
}

describe('by mouse', () => {
  test('the chosen wall is carried across, its neighbours grow, and one step takes all back', async () => {
    const east = await lengthOf(page, 'East wall');
    await choose(page, 'South wall');
    const before = await corners(page);
    const at = await spotOf(page);
    let said = '';
    await drag(page, at, { x: 30, y: 40 }, async () => void (said = await note(page)));
    const after = await corners(page);
    expect(said).toMatch(/^moved [\d.]+\sm, 9\.00\sm long, bearing 270\.0°/);
    expect([after[0], after[2]]).toEqual([before[0], before[2]]); // across only
    expect(after[1]).toBeLessThan(before[1]! - 0.3);
    expect(await lengthOf(page, 'East wall')).toBeCloseTo(east + (before[1]! - after[1]!), 2);
    await undo(page);
    expect(await figure(page, 'Length')).toBe(east);
    await choose(page, 'South wall');
    expect(await corners(page)).toEqual(before);
    await undo(page); // the nudge back
    await undo(page); // and the nudge
  });

  test('a wall that is not chosen is no handle: a drag on it moves the view', async () => {
    await choose(page, 'South wall');
    const at = await spotOf(page);
    await choose(page, 'L1');
    const before = await page.locator('header.top').getByRole('button', { name: /^Undo/ }).getAttribute('aria-label');
    await drag(page, at, { x: 0, y: 30 });
    expect(await page.locator('header.top').getByRole('button', { name: /^Undo/ }).getAttribute('aria-label')).toBe(
      before,
    );
    await page.getByRole('button', { name: 'Fit, plan' }).click();
  });

  test('a corner is dragged: length and bearing are told, and what it rests at', async () => {
    await choose(page, 'South wall');
    await pickPart(page, 'its left corner'); // the one in the east, seen from inside
    const at = await spotOf(page);
    const before = await corners(page);
    let said = '';
    await drag(page, at, { x: -50, y: 0 }, async () => void (said = await note(page)));
    expect(said).toMatch(/^7\.[\d]+\sm long, bearing 270\.0°, (at 90°|level with East wall)$/);
    const after = await corners(page);
    expect(after.slice(2)).toEqual(before.slice(2));
    await choose(page, 'East wall');
    const joined = await corners(page);
    expect(joined).toContain(after[0]);
    await undo(page);
    await choose(page, 'South wall');
    expect(await corners(page)).toEqual(before);
  });

  test('joined to a locked wall, a corner stays and says why; let go of, it moves alone', async () => {
    await choose(page, 'East wall');
    await page.getByText('Locked, windows too').click();
    await choose(page, 'South wall');
    await pickPart(page, 'its left corner');
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('ArrowLeft');
    expect(await note(page)).toBe('East wall is joined here and locked. Let go of joined walls to move it alone.');
    const before = await corners(page);
    await page.getByText('Joined walls go along').click();
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Shift+ArrowLeft');
    expect(await corners(page)).toEqual([Number((before[0]! - 0.1).toFixed(2)), ...before.slice(1)]);
    await undo(page);
    await page.getByText('Joined walls go along').click();
    await choose(page, 'East wall');
    await page.getByText('Locked, windows too').click();
  });
});

describe('by keyboard and figures', () => {
  test('arrow keys move the wall, a typed length and a typed corner move its end, each as one step', async () => {
    await choose(page, 'South wall');
    await pickPart(page, 'the wall');
    const before = await corners(page);
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Shift+ArrowDown');
    expect((await corners(page))[1]).toBeCloseTo(before[1]! - 0.1, 6);
    await undo(page);
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('ArrowLeft');
    expect(await note(page)).toMatch(/^South wall is joined: it moves across only/);
    // Its left corner stays at 9 m east: 8.2 m to the west is 0.8 m.
    await field(page, 'Length').fill('8+0.2');
    await field(page, 'Length').press('Enter');
    expect(await figure(page, 'Right corner, east')).toBe(0.8);
    await undo(page);
    expect(await corners(page)).toEqual(before);
    await field(page, 'Right corner, north').fill('-0.5');
    await field(page, 'Right corner, north').press('Enter');
    // 9 m west and half a metre south: the root of 81.25.
    expect(await figure(page, 'Length')).toBe(9.01);
    await undo(page);
    expect(await corners(page)).toEqual(before);
  });

  test('a wall that its window needs is not made shorter: one sentence says so', async () => {
    await choose(page, 'West wall');
    await field(page, 'Length').fill('2');
    await field(page, 'Length').press('Enter');
    expect(await page.getByTestId('selected').innerText()).toMatch(
      /Quay window keeps West wall at [\d.]+\sm or more\./,
    );
    await field(page, 'Length').press('Escape');
  });
});

test('a blind hung in the window is a caution, shut it ends the shaft, and glass says what it passes', async () => {
  const verdict = page.getByTestId('verdict');
  await choose(page, 'Quay window');
  await page.getByText('Slatted blind').click();
  await page.getByText('Quay window carries a blind, whose slats reflect light that is not computed yet.').waitFor();
  await field(page, 'Slat tilt').fill('90');
  await field(page, 'Slat tilt').press('Enter');
  await expect
    .poll(() => verdict.innerText(), { timeout: 20_000 })
    .toContain('nothing of the lamp reaches this surface');
  for (let step = 0; step < 2; step++) await undo(page);
  await choose(page, 'Quay window');
  await page.getByTestId('selected').locator('.pick').first().click();
  await page.locator('.popover').getByRole('option', { name: 'by its refraction', exact: true }).click();
  // Two surfaces of index 1.52: (1 - r) / (1 + r) with r = (0.52 / 2.52)².
  await page.getByText('passes 92 % square on').waitFor();
  await undo(page);
  await expect.poll(() => page.getByTestId('verdict-word').innerText(), { timeout: 20_000 }).toBe('Gives it away');
});

test('a window is pressed into an elevation where it is to be; its sill and size are typed after', async () => {
  await choose(page, 'South wall');
  await page.getByRole('radio', { name: 'Draw', exact: true }).click();
  await page.locator('.draw-strip .pick').first().click();
  await page.locator('.popover').getByRole('option', { name: 'Window', exact: true }).click();
  await toFront(page, 'elevation');
  const box = (await page.locator('#drawing-elevation').boundingBox())!;
  const at = { x: box.x + box.width * 0.4, y: box.y + box.height * 0.5 };
  await page.mouse.click(at.x, at.y);
  await expect.poll(() => selectedTitle(page)).toMatch(/^Selected: Window \d/);
  const sill = page.getByTestId('selected').getByLabel('Sill', { exact: true });
  const place = async (): Promise<number[]> => [await figure(page, 'Left edge'), Number(await sill.inputValue())];
  const first = await place();
  await undo(page);
  // 40 px to the right and up is as far in metres along the wall as in height.
  await expect.poll(() => selectedTitle(page)).not.toMatch(/^Selected: Window \d/);
  await page.mouse.click(at.x + 40, at.y - 20);
  await expect.poll(() => selectedTitle(page)).toMatch(/^Selected: Window \d/);
  const second = await place();
  const [along, up] = [second[0]! - first[0]!, second[1]! - first[1]!];
  expect(along).toBeGreaterThan(0.2);
  expect(Math.abs(along - 2 * up)).toBeLessThan(0.03);
  await sill.fill('1.1');
  await sill.press('Enter');
  expect((await place())[1]).toBe(1.1);
  // On a window there is no room for another.
  const spot = { x: at.x + 40, y: at.y - 20 };
  await page.mouse.click(spot.x, spot.y);
  await page.locator('.notice', { hasText: 'Press on the wall, beside the openings that are there.' }).waitFor();
  await undo(page);
  await undo(page);
  await page.getByRole('button', { name: 'Done', exact: true }).first().click();
  await toFront(page, 'plan');
});

test('by finger: a corner of the chosen wall is carried', async () => {
  const tablet = await visit(desk.stage, { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
  const tab = tablet.page;
  await toFront(tab, 'plan');
  await choose(tab, 'South wall');
  await pickPart(tab, 'its right corner');
  const at = await spotOf(tab);
  const before = await corners(tab);
  const client = await tab.context().newCDPSession(tab);
  await swipe(client, [[at, { x: at.x, y: at.y + 30 }]]);
  await expect.poll(() => corners(tab)).not.toEqual(before);
  expect((await corners(tab)).slice(0, 2)).toEqual(before.slice(0, 2));
  await undo(tab);
  expect(await corners(tab)).toEqual(before);
  expect(tablet.faults).toEqual([]);
  await tablet.close();
});

test('no error reached the console', () => expect(desk.faults).toEqual([]));

/** Nets on a stand until the verdict's fall-off passes, by mouse, by keyboard alone and by finger; then all of it taken back. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { faultsOf } from './axe';
import { choose, field, figure, selectedTitle, toFront, undo } from './hands';
import { drawingSum, openDesk, settled, storedText, visit, type Visit } from './page';

const file = openDesk(null);

const form = (page: Page) => page.getByTestId('grip');
/** The word of the verdict's own fall-off row. */
async function fallOff(page: Page): Promise<string> {
  await settled(page);
  const row = page.locator('table.figures tr', { has: page.locator('.figure-name', { hasText: /^Fall-off/ }) });
  return (await row.getByRole('img').getAttribute('aria-label')) ?? '';
}
/** What the form says of fall-off with its pieces in, once it is worked out. */
async function foretold(page: Page): Promise<string> {
  await form(page).locator('[data-ready="yes"]').waitFor();
  return form(page).locator('.grip-numbers tbody tr', { hasText: 'Fall-off' }).locator('td').last().innerText();
}
/** The scene as it would be kept. */
async function sceneText(page: Page): Promise<string> {
  const kept = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Keep a copy' }).click();
  return readFileSync((await (await kept).path())!, 'utf8');
}
const listed = (page: Page, name: RegExp): Promise<number> => page.getByRole('option', { name }).count();
const undoButton = (page: Page) => page.locator('header.top').getByRole('button', { name: /^Undo/ });
const press = (page: Page, name: string): Promise<void> => page.getByRole('button', { name, exact: true }).click();
async function pick(page: Page, label: string, name: string): Promise<void> {
  await form(page)
    .getByRole('button', { name: new RegExp(`${label}$`) })
    .click();
  await page.locator('.popover').getByRole('option', { name, exact: true }).click();
}

describe('by mouse', () => {
  let desk: Visit;
  let page: Page;
  beforeAll(async () => {
    desk = await visit(file.stage);
    page = desk.page;
  });
  afterAll(async () => {
    expect(desk.faults).toEqual([]);
    await desk.close();
  });

  test('nets go on until fall-off passes, are adjusted, and all of it is taken back', async () => {
    const text = await sceneText(page);
    expect(await fallOff(page)).toBe('Gives it away');
    await choose(page, 'L1');
    await press(page, 'Stagger nets on a stand');
    // One single is not enough; the verdict follows the preview, and nothing is in the scene yet.
    await pick(page, 'Nets on the stand', 'one');
    await pick(page, 'Net 1', 'single, 1/2 stop');
    expect(await foretold(page)).toContain('Gives it away');
    expect(await undoButton(page).isDisabled()).toBe(true);
    expect(await sceneText(page)).toBe(text);
    // Two doubles are, where the search puts their edges.
    await pick(page, 'Nets on the stand', 'two');
    await pick(page, 'Net 1', 'double, 1 stop');
    await pick(page, 'Net 2', 'double, 1 stop');
    await press(page, 'Find the best edges');
    await expect.poll(() => foretold(page), { timeout: 30_000 }).toContain('Reads as sun');
    expect(await fallOff(page)).toBe('Reads as sun');
    await press(page, 'Apply');
    expect(await form(page).count()).toBe(0);
    expect(await listed(page, /^Net A\d/)).toBe(2);
    expect(await selectedTitle(page)).toBe('Selected: Net A1');
    expect(await fallOff(page)).toBe('Reads as sun');

    // Opened again on what it placed: the same figures, changed in one step.
    await press(page, 'Adjust the nets');
    await foretold(page);
    await field(page, 'Net 1 covers').fill('100');
    await field(page, 'Net 1 covers').press('Enter');
    expect(await figure(page, 'Net 1 covers')).toBe(100);
    expect(await foretold(page)).not.toContain('Reads as sun');
    await press(page, 'Apply the change');
    expect(await fallOff(page)).not.toBe('Reads as sun');
    expect(await listed(page, /^Net A\d/)).toBe(2);
    await undo(page);
    expect(await fallOff(page)).toBe('Reads as sun');
    await undo(page);
    expect(await undoButton(page).isDisabled()).toBe(true);
    expect(await listed(page, /^Net A\d/)).toBe(0);
    expect(await fallOff(page)).toBe('Gives it away');
    expect(await sceneText(page)).toBe(text);
  });

  test('what is cancelled leaves no trace; the menu and the kit open the others, which say what they cannot do', async () => {
    const text = await sceneText(page);
    await toFront(page, 'plan');
    await choose(page, 'L1');
    await press(page, 'Arrange');
    await page.getByRole('menuitem', { name: 'Half scrim in the lantern' }).click();
    await form(page).getByRole('alert').waitFor();
    expect(await form(page).getByRole('alert').innerText()).toContain('only dims');
    expect(await form(page).getByRole('button', { name: 'Apply' }).isDisabled()).toBe(true);
    await press(page, 'Cancel');

    await settled(page);
    const bare = await drawingSum(page, 'plan');
    await press(page, 'Open the kit');
    await page.getByLabel('Search lamps and grip').fill('throw');
    await page.getByRole('button', { name: 'Set up: Mirror to lengthen the throw, L1' }).click();
    expect(await foretold(page)).not.toBe('');
    const thrown = form(page).locator('.grip-numbers tbody tr', { hasText: 'Throw' }).locator('td');
    const [before, after] = (await thrown.allInnerTexts()).map((words) => Number(words.replace(/[^\d.]/g, '')));
    expect(after!).toBeGreaterThan(before! + 0.2);
    expect(await drawingSum(page, 'plan')).not.toBe(bare);
    expect(await listed(page, /^Mirror/)).toBe(0);
    expect(await faultsOf(page)).toEqual([]);
    await page.getByRole('heading', { name: /^Mirror to lengthen/ }).focus();
    await page.keyboard.press('Escape');
    await form(page).waitFor({ state: 'detached' });
    await settled(page);
    await expect.poll(() => drawingSum(page, 'plan')).toBe(bare);
    expect(await sceneText(page)).toBe(text);
    expect(await undoButton(page).isDisabled()).toBe(true);
  });

  test('a flag keeps the far end of the wall dark, in one step', async () => {
    await choose(page, 'L1');
    await press(page, 'Flag a spill');
    await foretold(page);
    const spill = form(page).locator('.grip-numbers tbody tr', { hasText: 'Spill, mean' }).locator('td');
    const [before, after] = (await spill.allInnerTexts()).map((words) => Number(words.replace(/[^\d.]/g, '')));
    expect(before!).toBeGreaterThan(10);
    expect(after!).toBe(0);
    await press(page, 'Apply');
    expect(await selectedTitle(page)).toBe('Selected: Flag 1');
    await undo(page);
    expect(await listed(page, /^Flag 1/)).toBe(0);
    expect(await undoButton(page).isDisabled()).toBe(true);
  });

  test('a flag is still adjusted after a reload, from the figures that it was placed by', async () => {
    await choose(page, 'L1');
    await press(page, 'Flag a spill');
    await foretold(page);
    const lineM = await figure(page, 'Line from the left end');
    await press(page, 'Apply');
    await expect.poll(() => page.evaluate(storedText), { timeout: 10_000 }).toContain('Flag 1');
    await page.reload();
    await settled(page);
    await choose(page, 'Flag 1');
    await press(page, 'Adjust the flag');
    await foretold(page);
    expect(await figure(page, 'Line from the left end')).toBe(lineM);
    await press(page, 'Cancel');
    await choose(page, 'Flag 1');
    await page.getByTestId('selected').getByRole('button', { name: 'Remove' }).click();
    expect(await listed(page, /^Flag 1/)).toBe(0);
  });
});

describe('by keyboard alone', () => {
  test('nets go on until fall-off passes, and come off again', async () => {
    const desk = await visit(file.stage);
    const { page } = desk;
    const text = await sceneText(page);
    const focused = (): Promise<string> =>
      page.evaluate(() => {
        const on = document.activeElement;
        const label = on
          ?.getAttribute('aria-labelledby')
          ?.split(' ')
          .map((id) => document.getElementById(id)?.innerText);
        return (on?.getAttribute('aria-label') ?? label?.join(' ') ?? on?.textContent ?? '').trim();
      });
    /** Walks on with the Tab key to what is called so. */
    const tabTo = async (name: RegExp, key = 'Tab'): Promise<void> => {
      for (let count = 0; count < 150; count += 1) {
        await page.keyboard.press(key);
        if (name.test(await focused())) return;
      }
      throw new Error(`the Tab key never comes to ${String(name)}`);
    };
    await page.locator('.things').focus();
    for (let count = 0; count < 60 && !/^Selected: L1/.test(await selectedTitle(page)); count += 1) {
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('Enter');
    }
    expect(await selectedTitle(page)).toBe('Selected: L1');
    await tabTo(/^Stagger nets on a stand$/, 'Shift+Tab');
    await page.keyboard.press('Enter');
    await form(page).waitFor();
    // The form has the keyboard: on to its fields from its title.
    await expect.poll(focused).toMatch(/^Stagger nets on a stand: L1/);
    await foretold(page);
    await tabTo(/Net 1 covers/);
    await page.keyboard.press('Control+a');
    await page.keyboard.type('10');
    await page.keyboard.press('Enter');
    expect(await foretold(page)).toContain('Gives it away');
    await tabTo(/^Find the best edges$/);
    await page.keyboard.press('Enter');
    await expect.poll(() => foretold(page), { timeout: 30_000 }).toContain('Reads as sun');
    await tabTo(/^Apply$/);
    await page.keyboard.press('Enter');
    await expect.poll(() => form(page).count()).toBe(0);
    expect(await fallOff(page)).toBe('Reads as sun');
    // The keyboard is not lost with the form.
    expect(await page.evaluate(() => document.activeElement !== document.body)).toBe(true);
    await page.keyboard.press('Control+z');
    expect(await fallOff(page)).toBe('Gives it away');
    expect(await sceneText(page)).toBe(text);
    expect(desk.faults).toEqual([]);
    await desk.close();
  });
});

describe('by finger', () => {
  test('nets go on until fall-off passes on an upright tablet, with targets that a finger hits', async () => {
    const tablet = await visit(file.stage, { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
    const { page } = tablet;
    const tap = (name: string): Promise<void> => page.getByRole('button', { name, exact: true }).tap();
    await page.getByRole('option', { name: /^L1/ }).tap();
    await tap('Stagger nets on a stand');
    await foretold(page);
    const small = await form(page)
      .locator('button, input')
      .evaluateAll((all) =>
        all
          .map((one) => ({
            words: one.textContent,
            height: (one.closest('.well') ?? one).getBoundingClientRect().height,
          }))
          .filter(({ height }) => height > 0 && height < 44),
      );
    expect(small).toEqual([]);
    await tap('Find the best edges');
    await expect.poll(() => foretold(page), { timeout: 30_000 }).toContain('Reads as sun');
    await tap('Apply');
    expect(await fallOff(page)).toBe('Reads as sun');
    await undoButton(page).tap();
    expect(await fallOff(page)).toBe('Gives it away');
    expect(await listed(page, /^Net A\d/)).toBe(0);
    expect(tablet.faults).toEqual([]);
    await tablet.close();
  });
});

/** Setups held against each other, the way to the Throw sheet on a small screen, pages that are opened and left, print. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { choose, field, figure, toFront } from './hands';
import { openDesk, settled } from './page';

const desk = openDesk();
const more = async (page: Page, name: string): Promise<void> => {
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('menuitem', { name, exact: true }).click();
};
const differences = async (page: Page): Promise<string> =>
  (await page.getByRole('list', { name: 'What differs' }).innerText()).replace(/\s+/g, ' ');
const dialog = (page: Page) => page.getByRole('dialog', { name: 'What differs between two setups' });

test('what was done to a copy stands against what it was made from, by key alone, and leads to the thing', async () => {
  const { page } = desk;
  await more(page, 'Copy this setup');
  await choose(page, 'L1');
  const east = field(page, 'East');
  const from = Number((await east.inputValue()).replace('\u2212', '-'));
  await east.fill(String(from - 0.4));
  await east.press('Enter');
  await field(page, 'Level').fill('50');
  await field(page, 'Level').press('Enter');
  await page
    .getByRole('button', { name: /^Place a flag/i })
    .first()
    .click();
  await page.getByRole('button', { name: 'More', exact: true }).focus();
  await page.keyboard.press('Enter');
  await page.keyboard.type('What');
  await page.keyboard.press('Enter');
  await dialog(page).waitFor();
  const words = await differences(page);
  // 0.40 m towards -x, and half the light: a stop.
  expect(words).toMatch(/L1 moved 0\.40 m to −x .*level 100 % to 50 %, −1 stop/);
  expect(words).toMatch(/F\d put in/);
  expect(await dialog(page).innerText()).toMatch(/2 things differ/);
  await dialog(page).getByRole('button', { name: 'Show L1' }).focus();
  await page.keyboard.press('Enter');
  await dialog(page).waitFor({ state: 'detached' });
  expect(await page.locator('#selected-title').innerText()).toBe('Selected: L1');
});

test('the other way round it is told the other way, and one setup differs from itself in nothing', async () => {
  const { page } = desk;
  await more(page, 'What differs between setups');
  const pick = async (label: string, index: number): Promise<void> => {
    await dialog(page)
      .getByRole('button', { name: new RegExp(`${label}$`) })
      .click();
    await page.locator('.popover').getByRole('option').nth(index).click();
  };
  // A copy stands behind what it was made from.
  const [first, copy] = [0, 1];
  await pick('From', copy);
  await pick('To', first);
  expect(await differences(page)).toMatch(/L1 moved 0\.40 m to \+x .*level 50 % to 100 %, \+1 stop/);
  expect(await differences(page)).toMatch(/F\d taken out/);
  await pick('To', copy);
  expect(await dialog(page).innerText()).toMatch(/The two are one setup/);
  await page.keyboard.press('Escape');
});

test('on a small screen Throw takes the place of the drawing in front, and gives it back', async () => {
  const { page } = desk;
  await page.getByRole('button', { name: 'Throw: what distance does' }).click();
  const throwSheet = page.getByRole('region', { name: 'Throw', exact: true });
  await throwSheet.getByRole('img', { name: /^Fall-off against distance/ }).waitFor({ timeout: 40_000 });
  const box = (await throwSheet.boundingBox())!;
  expect(box.width).toBeGreaterThan(700);
  expect(await page.locator('#drawing-elevation').count()).toBe(0);
  await throwSheet.getByRole('button', { name: 'Back to the elevation' }).click();
  await page.locator('#drawing-elevation').waitFor();
  await page.getByRole('button', { name: 'Throw: what distance does' }).click();
  await toFront(page, 'plan');
  await page.locator('#drawing-elevation').waitFor();
  expect(await throwSheet.count()).toBe(0);
  // With room for four it stands beside them, and there is no button for it.
  await page.setViewportSize({ width: 1920, height: 1080 });
  await throwSheet.waitFor();
  expect(await page.getByRole('button', { name: 'Throw: what distance does' }).isVisible()).toBe(false);
  await page.setViewportSize({ width: 1280, height: 720 });
});

test('the button of a page says that it is open, and no second button is called by the sheets', async () => {
  const { page } = desk;
  const button = page.getByRole('button', { name: 'Coverage', exact: true });
  await button.click();
  expect(await button.getAttribute('aria-pressed')).toBe('true');
  expect(await page.getByRole('button', { name: /sheets/i }).allInnerTexts()).toEqual(['Back to the sheets']);
  await page.getByRole('button', { name: 'Back to the sheets' }).click();
  expect(await button.getAttribute('aria-pressed')).toBe('false');
  await settled(page);
});

test('the metering grid prints alone', async () => {
  const { page } = desk;
  await page.getByRole('button', { name: 'Coverage', exact: true }).click();
  await page.getByRole('tab', { name: 'Metering grid' }).click();
  await page.locator('.meter-cell').first().waitFor();
  await page.emulateMedia({ media: 'print' });
  const shown = await page.evaluate(() =>
    ['.top', '.rail', '.panel', '.reading', '.skips', '.coverage-head', '.cover-tablist'].filter((part) => {
      const element = document.querySelector(part);
      return element === null || element.getClientRects().length > 0;
    }),
  );
  expect(shown).toEqual([]);
  expect(await page.locator('.meter-cell').first().isVisible()).toBe(true);
  expect(await page.locator('.print-title').first().isVisible()).toBe(true);
  await page.emulateMedia({ media: null });
  expect(desk.faults).toEqual([]);
});

test('a room with a window and a lamp in it: four presses, the lamp clear of the wall behind, one notice', async () => {
  const { page } = desk;
  await page.getByRole('button', { name: 'New scene' }).click();
  await page.getByRole('button', { name: /^A room with a window/ }).click();
  await page.getByRole('button', { name: 'Make the scene' }).click();
  await page.getByRole('button', { name: 'Place a lamp' }).first().click();
  // The room is 4 m deep, its shown wall along y 0.
  expect(await figure(page, 'North')).toBeCloseTo(3.4, 2);
  expect(await page.locator('.notice').count()).toBe(1);
  await settled(page);
  expect(await page.getByTestId('verdict-word').innerText()).toMatch(/Reads as sun|Passable|Gives it away/);
  expect(desk.faults).toEqual([]);
});

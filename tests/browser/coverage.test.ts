/** The planner's journey: read distances, go to one, take it back, find an even layout, compare setups, type readings. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { openDesk } from './page';

const desk = openDesk();
let page: Page;
beforeAll(async () => {
  ({ page } = desk);
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('menuitem', { name: 'Open the harbour backdrop' }).click();
  await page.getByRole('button', { name: 'Coverage', exact: true }).click();
  await page.locator('.throw-chart').waitFor();
});

const slider = () => page.getByRole('slider', { name: /^Distance to read/ });
const marks = () => page.getByRole('list', { name: /^Distances from which on/ }).innerText();

test('the throws of the demo stand under the chart', async () => {
  // tests/reference/harbour-backdrop.json: 3.553, 5.645, 7.601, 10.41 m.
  expect(await marks()).toMatch(
    /1 stop: 3\.5\d\sm[\s\S]*2\/3 stop: 5\.6\d\sm[\s\S]*1\/2 stop: 7\.6\d\sm[\s\S]*1\/3 stop: 10\.4\d\sm/,
  );
});

test('keys read a distance and Enter goes there; Undo takes it back', async () => {
  await slider().focus();
  await page.keyboard.press('End');
  expect(await page.getByTestId('throw-reading').innerText()).toMatch(/^12\.00\sm: mean/);
  await page.keyboard.press('Enter');
  const undo = page.getByRole('button', { name: /^Undo: Move K1 \+ K2 to 12\.00\sm/ });
  await undo.click();
  expect(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(true);
});

test('a click on the chart moves the lamps as one step', async () => {
  const box = (await slider().boundingBox())!;
  await page.mouse.move(box.x + box.width / 2, box.y + 60);
  const said = await page.getByTestId('throw-reading').innerText();
  await page.mouse.click(box.x + box.width / 2, box.y + 60);
  // Names are matched with plain spaces, the figures have thin ones.
  const [metres] = said.split(/\s/);
  await page
    .getByRole('button', { name: new RegExp(`^Undo: Move K1 \\+ K2 to ${metres!.replace('.', '\\.')}`) })
    .click();
});

test('an even layout is found and put in a setup of its own', async () => {
  await page.getByRole('tab', { name: 'Light it evenly' }).click();
  await page.getByRole('button', { name: 'Find places' }).click();
  expect(await page.getByTestId('even-best').innerText()).toMatch(/even enough for backdrop or cyc/);
  await page.getByRole('button', { name: 'Put it in a new setup' }).click();
  await page.getByRole('tab', { name: /2 lamps, throw/ }).waitFor();
});

test('setups side by side: two maps or more and what differs', async () => {
  await page.getByRole('tab', { name: 'Setups side by side' }).click();
  await page.locator('.maps canvas').first().waitFor();
  expect(await page.locator('.maps canvas').count()).toBe(3);
  const table = await page.getByRole('region', { name: 'What differs between the setups' }).innerText();
  expect(table).toMatch(/Power at full\s+840 W\s+1680 W/);
  await page.getByRole('tab', { name: /Where the truck stopped/ }).click();
});

test('readings are compared and offered as calibration', async () => {
  await page.getByRole('tab', { name: 'Metering grid' }).click();
  for (const [label, lux] of [
    ['A1', '142.23'],
    ['B3', '136.98'],
  ] as const) {
    const field = page.getByLabel(`${label} reads`);
    await field.fill(lux);
    await field.press('Enter');
  }
  // Half of the reference's 284.46 and 273.95 lx: one stop down, no spread.
  expect(await page.getByTestId('metering-comparison').innerText()).toMatch(
    /2 readings: −1\.00 stops off[\s\S]*spread 0\.00 stops/,
  );
  await page.getByRole('button', { name: /^Calibrate the lamps/ }).click();
  await page.getByRole('button', { name: /^Undo: Calibrate Where the truck stopped by readings/ }).waitFor();
  await page
    .getByText(/planned\s142/)
    .first()
    .waitFor();
});

test('every part passes the accessibility rules, dark and light; nothing went wrong on the way', async () => {
  await page.evaluate(readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
  for (const theme of ['dark', 'light']) {
    await page.evaluate((name) => document.documentElement.setAttribute('data-theme', name), theme);
    for (const name of ['Throw', 'Light it evenly', 'Setups side by side', 'Metering grid']) {
      await page.getByRole('tab', { name, exact: true }).click();
      await page.waitForTimeout(600);
      const violations = await page.evaluate(async () => {
        const { axe: rules } = globalThis as unknown as {
          axe: {
            run: (
              root: string,
              options: object,
            ) => Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
          };
        };
        const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
        const found = await rules.run('.coverage', { runOnly: { type: 'tag', values: tags } });
        return found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ''}`);
      });
      expect(violations, `${theme}, ${name}`).toEqual([]);
    }
  }
  expect(desk.faults).toEqual([]);
});

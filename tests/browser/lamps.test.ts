/** A lamp's gate, its cells and the kit, in the browser: dragged, typed, and held against WCAG. */
import { beforeAll, expect, test } from 'vitest';
import type { Locator, Page } from 'playwright-core';
import { faultsOf } from './axe';
import { openDesk, settled } from './page';

const desk = openDesk({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' });
let page: Page;
beforeAll(async () => {
  ({ page } = desk);
  await page.getByRole('option', { name: /^L1/ }).click();
});
const selected = (): Locator => page.getByTestId('selected');
const kit = (): Locator => page.getByRole('dialog', { name: 'Kit' });
const figure = async (label: string): Promise<number> =>
  Number((await selected().getByLabel(label, { exact: true }).inputValue()).replace('−', '-'));

test('a shutter is put in, typed, dragged on the elevation, and drawn out', async () => {
  await selected().getByRole('button', { name: 'Put in a shutter: top' }).click();
  expect(await figure('Shutter 1, top')).toBeGreaterThan(0);
  await selected().getByLabel('Shutter 1, top').fill('4');
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowDown');
  expect(await figure('Shutter 1, top')).toBeCloseTo(3.9, 6);
  await settled(page);
  // The cut lies across the patch of the demo's shaft, a third from the left of the drawing.
  const box = (await page.locator('#drawing-elevation').boundingBox())!;
  const grab = await findGrab(box);
  expect(grab).not.toBeNull();
  const before = await figure('Shutter 1, top');
  await page.mouse.move(grab!.x, grab!.y);
  await page.mouse.down();
  await page.mouse.move(grab!.x, grab!.y + 12, { steps: 4 });
  await page.mouse.up();
  expect(await figure('Shutter 1, top')).toBeLessThan(before - 0.3);
  await page.getByRole('button', { name: 'Undo' }).first().click();
  expect(await figure('Shutter 1, top')).toBe(before);
  await selected().getByRole('button', { name: 'Draw out shutter 1' }).click();
  expect(await selected().getByLabel('Shutter 1, top').count()).toBe(0);
}, 60_000);

/** Where the drawing says that something can be taken hold of, other than lamps' own handles. */
async function findGrab(box: { x: number; y: number; width: number; height: number }) {
  for (let row = box.height * 0.2; row < box.height * 0.75; row += 5) {
    for (let column = box.width * 0.3; column < box.width * 0.4; column += 10) {
      await page.mouse.move(box.x + column, box.y + row);
      if (await page.locator('#drawing-elevation[data-cursor="grab"], #drawing-elevation [data-cursor="grab"]').count())
        return { x: box.x + column, y: box.y + row };
    }
  }
  return null;
}

test('a pattern at the gate is chosen, and its figures are typed', async () => {
  await selected()
    .getByRole('button', { name: /Pattern at the gate/ })
    .click();
  await page.getByRole('option', { name: 'window panes' }).click();
  await selected().getByLabel('Panes across').fill('3');
  await page.keyboard.press('Enter');
  expect(await figure('Panes across')).toBe(3);
  expect(await faultsOf(page)).toEqual([]);
});

test('a lensed spot has a slider from flood to spot beside its typed length', async () => {
  await selected()
    .getByRole('button', { name: /Light leaves as/ })
    .click();
  await page.getByRole('option', { name: 'lensed spot' }).click();
  const before = await figure('Source to lens');
  await selected().getByRole('slider', { name: 'Flood to spot' }).focus();
  for (let i = 0; i < 5; i++) await page.keyboard.press('ArrowRight');
  expect(await figure('Source to lens')).toBeGreaterThan(before);
  expect(await faultsOf(page)).toEqual([]);
});

test('a strip of cells: count and level of each', async () => {
  await selected()
    .getByRole('button', { name: /Light leaves as/ })
    .click();
  await page.getByRole('option', { name: 'matt face (cosine)' }).click();
  await selected()
    .getByRole('button', { name: /Emitter/ })
    .click();
  await page.getByRole('option', { name: 'rectangle' }).click();
  await selected().getByText('A strip of cells').click();
  await selected().getByLabel('Cells', { exact: true }).fill('4');
  await page.keyboard.press('Enter');
  await selected().getByText('Level of each cell').click();
  await selected().getByLabel('Cell 4').fill('25');
  await page.keyboard.press('Enter');
  expect(await figure('Cell 4')).toBe(25);
  expect(await selected().getByLabel('Cell 5').count()).toBe(0);
});

test('an own lamp is made from readings and edited in the kit, and placed', async () => {
  await page.getByRole('button', { name: 'Open the kit' }).click();
  await kit().getByRole('button', { name: 'New lamp from meter readings' }).click();
  await kit().getByLabel('Search lamps').fill('metered');
  await kit().getByText('Light of this lamp').click();
  await kit().getByLabel('Level 1', { exact: true }).fill('1600');
  await page.keyboard.press('Enter');
  await kit().getByLabel('Distance 1', { exact: true }).fill('2');
  await page.keyboard.press('Enter');
  // One reading: 1600 lx at 2 m is 6400 cd.
  expect(await kit().getByRole('status', { name: 'Fit of the readings' }).innerText()).toMatch(/Centre beam 6400 cd/);
  await kit().getByRole('button', { name: 'Place New metered lamp' }).click();
  await selected().getByLabel('Level 1', { exact: true }).waitFor();
  expect(await figure('Level 1')).toBe(1600);
  expect(desk.faults).toEqual([]);
});

test.each([
  ['Dark', 1280, 720],
  ['Light', 1280, 720],
  ['Light', 820, 1180],
] as const)('the kit, %s, %d x %d: no fault by WCAG, and nothing runs out of it', async (theme, width, height) => {
  await page.setViewportSize({ width: 1280, height: 720 });
  await page.getByRole('button', { name: /^Theme/ }).click();
  await page.getByRole('menuitemradio', { name: theme, exact: true }).click();
  await page.getByRole('button', { name: 'Open the kit' }).click();
  await page.setViewportSize({ width, height });
  await kit().getByText('Light of this lamp').first().click();
  await kit().getByText('New lamp from its data sheet').click();
  expect(await faultsOf(page)).toEqual([]);
  expect(await kit().evaluate((dialog) => dialog.scrollWidth <= dialog.clientWidth + 1)).toBe(true);
  await kit().getByRole('button', { name: 'Close', exact: true }).click();
  await page.setViewportSize({ width: 1280, height: 720 });
});

test('black edges are put on, typed and taken off; the spread beside them follows', async () => {
  const figures = (): Promise<string> => selected().locator('.web-figures').filter({ hasText: 'Flux' }).innerText();
  const lumens = async (): Promise<number> => {
    const words = await figures();
    return Number(/([\d\u2009\u202f\u00a0 ,.]+) lm/.exec(words)![1]!.replace(/[^\d.]/g, ''));
  };
  await selected()
    .getByRole('button', { name: /^Emitter|Emitter$/ })
    .click();
  await page.getByRole('option', { name: 'rectangle' }).click();
  await selected()
    .getByRole('button', { name: /Light leaves as/ })
    .click();
  await page.getByRole('option', { name: 'matt face (cosine)' }).click();
  // The figures follow the fields a little later.
  await expect.poll(figures).toContain('120.0°');
  const whole = await lumens();
  await selected().getByRole('button', { name: 'Put on: black edges' }).click();
  const edges = selected().getByRole('group', { name: 'Black edges', exact: true });
  for (const [side, typed] of [
    ['Left', '300'],
    ['Right', '0'],
    ['Top', '0'],
    ['Bottom', '0'],
  ] as const) {
    await edges.getByLabel(side, { exact: true }).fill(typed);
    await page.keyboard.press('Enter');
  }
  // Half of the panel of 0.6 m is left.
  await expect.poll(async () => (await lumens()) / whole).toBeCloseTo(0.5, 2);
  await edges.getByLabel('Right', { exact: true }).fill('300');
  await page.keyboard.press('Enter');
  expect(await edges.innerText()).toMatch(/less than 0\.6 m/);
  await page.keyboard.press('Escape');
  await edges.getByRole('button', { name: 'Take off: black edges' }).click();
  await expect.poll(async () => (await lumens()) / whole).toBeCloseTo(1, 3);
}, 60_000);

test('a gel is typed as a share or in stops', async () => {
  await selected().getByRole('button', { name: 'Put on: gel' }).click();
  const gel = selected().getByRole('group', { name: 'Gel', exact: true });
  await gel.getByLabel('Takes', { exact: true }).fill('1');
  await page.keyboard.press('Enter');
  expect(await gel.getByLabel('Passes', { exact: true }).inputValue()).toBe('50');
  await gel.getByLabel('Passes', { exact: true }).fill('25');
  await page.keyboard.press('Enter');
  expect(await gel.getByLabel('Takes', { exact: true }).inputValue()).toBe('2.00');
  await gel.getByLabel('Mired shift', { exact: true }).fill('159');
  await page.keyboard.press('Enter');
  expect(await faultsOf(page)).toEqual([]);
}, 60_000);

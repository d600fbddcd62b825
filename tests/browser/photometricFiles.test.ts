/** Photometric files on the screen: dropped, opened, refused by line, taken back; and meter readings with their fit. */
import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { lm63, steps } from '../files/photometry/compose';
import { openDesk, settled } from './page';

const desk = openDesk();
let page: Page;
beforeAll(() => {
  ({ page } = desk);
});

const oval = lm63({
  keywords: '[TEST] SL-1\n[MANUFAC] Salt Ledger stores\n[LUMINAIRE] Quay spot, invented',
  verticalDeg: steps(0, 90, 1),
  horizontalDeg: steps(0, 90, 15),
  intensity: (g, c) => 40_000 * Math.pow(0.5, (g / (8 + (6 * c) / 90)) ** 2),
  opening: [-0.15, -0.15, 0],
});
const broken = oval.replace('\n0 1 2 3', '\n0 1 3');

/** Drops a file as the browser would: on the page, or on a spot of a drawing. */
async function drop(name: string, text: string, on: { selector: string; x?: number; y?: number }): Promise<void> {
  await page.locator(on.selector).evaluate(
    (element, { fileName, words, x, y }) => {
      const data = new DataTransfer();
      data.items.add(new File([words], fileName));
      const box = element.getBoundingClientRect();
      const init = {
        dataTransfer: data,
        bubbles: true,
        cancelable: true,
        clientX: x ?? box.left + box.width / 2,
        clientY: y ?? box.top + box.height / 2,
      };
      element.dispatchEvent(new DragEvent('dragover', init));
      element.dispatchEvent(new DragEvent('drop', init));
    },
    { fileName: name, words: text, x: on.x, y: on.y },
  );
}
const notices = (): Promise<string> => page.locator('.notices').innerText();
const selected = () => page.getByTestId('selected');
async function choose(name: string): Promise<void> {
  await page.getByRole('option', { name: new RegExp(`^${name}`) }).click();
}

test('a bad file is refused by its line, and the scene stays as it was', async () => {
  await choose('L1');
  const before = await selected().innerText();
  await drop('quay-spot.ies', broken, { selector: '.page' });
  await page.locator('.notice[data-kind="fault"]').waitFor();
  const said = await notices();
  expect(said).toContain('quay-spot.ies, line 8: 91 vertical angles promised, 90 found');
  expect(said).toContain('Nothing was brought in. The open scene is as it was.');
  expect(await selected().innerText()).toBe(before);
  expect(await page.getByRole('button', { name: /^Undo/ }).isDisabled()).toBe(true);
  await page.getByRole('button', { name: 'Close notice' }).click();
});

test('a good file dropped on the window goes to the chosen lamp; its figures, plots and table show; undo takes it back', async () => {
  await drop('quay-spot.ies', oval, { selector: '.page' });
  await settled(page);
  expect(await notices()).toMatch(/Brought in: quay-spot\.ies, [\d\s]+ lm, peak 40\s000 cd\. L1 has it\./);
  const panel = await selected().innerText();
  expect(panel).toContain('Quay spot, invented');
  expect(panel).toContain('16.0° across, 28.0° upright');
  expect(await selected().locator('.web-plots svg').count()).toBe(2);
  await selected().getByText('Candela by angle').click();
  const row = selected().locator('.web-table tbody tr', {
    has: page.getByRole('rowheader', { name: '0°', exact: true }),
  });
  expect((await row.innerText()).replaceAll(/\s/g, ' ')).toBe('0° 40 000 40 000');
  expect(await page.getByText(/± 10\s%/).count()).toBeGreaterThan(0);
  await page.getByRole('button', { name: /^Undo/ }).first().click();
  await settled(page);
  expect(await selected().innerText()).not.toContain('Quay spot, invented');
});

test('dropped on a lamp in the plan it is that lamp’s, whatever is chosen', async () => {
  await choose('L1');
  await page.locator('#drawing-plan').focus();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowDown');
  // The note may be drawn anew while it is read: ask until it is there.
  const found = await page.waitForFunction(() => {
    const note = document.querySelector<HTMLElement>('.drag-note');
    const box = note?.parentElement?.getBoundingClientRect();
    return note && box ? { x: box.left + Number(note.dataset['x']), y: box.top + Number(note.dataset['y']) } : null;
  });
  const at = (await found.jsonValue())!;
  await page.keyboard.press('Escape');
  await drop('quay-spot.ies', oval, { selector: '#drawing-plan', ...at });
  await settled(page);
  expect(await page.locator('#selected-title').innerText()).toBe('Selected: L1');
  expect(await selected().innerText()).toContain('Quay spot, invented');
});

test('with nothing chosen a new lamp has it', async () => {
  await page.locator('#drawing-plan').focus();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  const before = await page.getByRole('option').count();
  await drop('quay-spot.ies', oval, { selector: '.page' });
  await page.getByRole('option').nth(before).waitFor();
  await settled(page);
  expect(await page.getByRole('option').count()).toBe(before + 1);
  expect(await selected().innerText()).toContain('Quay spot, invented');
});

test('a file is opened from the lamp’s fields', async () => {
  const asked = page.waitForEvent('filechooser');
  await selected().getByRole('button', { name: 'Open another photometric file' }).click();
  await (
    await asked
  ).setFiles({ name: 'other.ies', mimeType: 'text/plain', buffer: Buffer.from(oval.replace('Quay', 'Other')) });
  await page.getByText(/Brought in: other\.ies/).waitFor();
  expect(await selected().innerText()).toContain('Other spot, invented');
});

test('meter readings: output and origin are fitted as they are typed', async () => {
  await selected()
    .getByRole('button', { name: /^as the file says.*Output as|Output as/ })
    .click();
  await page.getByRole('option', { name: 'own meter readings' }).click();
  const type = async (label: string, value: string): Promise<void> => {
    await selected().getByLabel(label, { exact: true }).fill(value);
    await page.keyboard.press('Enter');
  };
  await type('Distance 1', '2');
  await type('Level 1', '1600');
  await selected().getByRole('button', { name: 'Add a reading' }).click();
  await type('Distance 2', '5');
  await type('Level 2', '400');
  // By hand: (5 + v)/(2 + v) = 2, so v = 1 m and I = 1600 * 9 = 14 400 cd.
  const fit = selected().getByRole('status', { name: 'Fit of the readings' });
  expect((await fit.innerText()).replaceAll(/\s+/g, ' ')).toMatch(
    /Centre beam 14 400 cd.*Origin 1\.00 m behind the lens/,
  );
  expect(desk.faults).toEqual([]);
});

test('the kit: found by words, placed, kept from a data sheet, taken back', async () => {
  await page.getByRole('button', { name: 'Open the kit' }).click();
  const kit = page.getByRole('dialog', { name: 'Kit' });
  await kit.getByLabel('Search lamps').fill('discharge 4 spot');
  expect(await kit.getByRole('list', { name: 'Typical classes' }).getByRole('listitem').count()).toBe(1);
  await kit.getByRole('button', { name: /^Place Daylight discharge, 4 kW, spot/ }).click();
  await page.getByText(/placed: Daylight discharge, 4 kW, spot \(typical\)/).waitFor();
  expect(await selected().innerText()).toContain('Number and notes');
  expect(await selected().getByLabel('Kind of lamp').inputValue()).toBe('Daylight discharge, 4 kW, spot (typical)');
  await page.getByRole('button', { name: 'Open the kit' }).click();
  await kit.getByText('New lamp from its data sheet').click();
  await kit.getByLabel('Name', { exact: true }).last().fill('Crane spot');
  await page.keyboard.press('Enter');
  await kit.getByRole('button', { name: 'Keep as own lamp', exact: true }).click();
  await kit.getByLabel('Search lamps').fill('crane');
  await kit.getByRole('button', { name: 'Place Crane spot' }).click();
  expect(await selected().getByLabel('Kind of lamp').inputValue()).toBe('Crane spot');
  expect(desk.faults).toEqual([]);
});

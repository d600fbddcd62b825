/** WCAG 2.2 A and AA by axe where the sun is judged, mended and made: panel with mends, limits, the form and its answer. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { faultsOf } from './axe';
import { openDesk, visit, type Visit } from './page';

const opened = openDesk(null);

const SEARCH_MS = 90_000;

describe.each(['dark', 'light'] as const)('%s', (colorScheme) => {
  let desk: Visit;
  beforeAll(async () => {
    desk = await visit(opened.stage, { viewport: { width: 1920, height: 1080 }, colorScheme, reducedMotion: 'reduce' });
  });
  afterAll(async () => {
    expect(desk.faults).toEqual([]);
    await desk.close();
  });
  const press = (name: string) => desk.page.getByRole('button', { name, exact: true }).click();

  test('the page with its mends and the Throw sheet', async () => {
    await desk.page.getByTestId('best-mend').waitFor({ timeout: SEARCH_MS });
    await desk.page.getByRole('region', { name: 'Throw' }).locator('svg').waitFor({ timeout: SEARCH_MS });
    expect(await faultsOf(desk.page)).toEqual([]);
  });
  test('the Throw sheet names the distances of the limits, and leads to more', async () => {
    const chart = desk.page.getByRole('region', { name: 'Throw' }).getByRole('img');
    expect(await chart.getAttribute('aria-label')).toMatch(
      /now 4\.\d m, 1\.8 stops; 2\/3 stop at 1\d\.\d\d.m, 1\/3 stop at 2\d/,
    );
    await press('More distances');
    await desk.page.getByRole('heading', { name: 'Coverage' }).waitFor();
    await press('Back to the sheets');
  });
  test('the limits', async () => {
    await press('Edit limits');
    await desk.page.getByRole('dialog').waitFor();
    expect(await faultsOf(desk.page)).toEqual([]);
    await desk.page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
  });
  test('the form for a sun, empty, at work and answered', async () => {
    await press('More');
    await desk.page.getByRole('menuitem', { name: 'Make a sun here' }).click();
    await desk.page.getByRole('dialog').waitFor();
    expect(await faultsOf(desk.page)).toEqual([]);
    await press('Find a place');
    await desk.page.getByRole('progressbar', { name: 'Simulating places' }).waitFor();
    expect(await faultsOf(desk.page)).toEqual([]);
    await desk.page.getByTestId('sun-answer').waitFor({ timeout: SEARCH_MS });
    expect(await faultsOf(desk.page)).toEqual([]);
  });
});

/** WCAG 2.2 A and AA by axe, in three themes and three sizes. */
import { beforeAll, describe, expect, test } from 'vitest';
import { faultsOf } from './axe';
import { openDesk } from './page';

const THEMES = ['Dark', 'Stage dim', 'Light'] as const;
const SIZES = [
  [1920, 1080],
  [1280, 720],
  [820, 1180],
] as const;

const desk = openDesk({ viewport: { width: 1920, height: 1080 }, reducedMotion: 'reduce' });
beforeAll(async () => {
  await desk.page.getByRole('option', { name: /^L1/ }).click();
});

describe.each(THEMES)('%s', (theme) => {
  test('is chosen in the menu', async () => {
    await desk.page.setViewportSize({ width: 1920, height: 1080 });
    await desk.page.getByRole('button', { name: /^Theme/ }).click();
    await desk.page.getByRole('menuitemradio', { name: theme }).click();
    const shown = { Dark: 'dark', 'Stage dim': 'dim', Light: 'light' }[theme];
    expect(await desk.page.locator('html').getAttribute('data-theme')).toBe(shown);
  });
  test.each(SIZES)('%d x %d has no fault', async (width, height) => {
    await desk.page.setViewportSize({ width, height });
    expect(await faultsOf(desk.page)).toEqual([]);
  });
});

test('the checker sees a fault where there is one', async () => {
  await desk.page.evaluate(() => {
    const button = document.createElement('button');
    button.id = 'nameless';
    document.querySelector('main')?.append(button);
  });
  expect((await faultsOf(desk.page)).join()).toContain('button-name');
  await desk.page.evaluate(() => document.getElementById('nameless')?.remove());
});

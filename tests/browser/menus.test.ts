/** The menu of the chosen things: by a finger that rests, for several things at once, and with entries that fit their state. */
import type { CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { choose, figure, placeIn, selectedTitle, toFront, undo, type Spot } from './hands';
import { openDesk, visit, type Visit } from './page';

const opened = openDesk(null);

const entries = (page: Page): Promise<string[]> => page.getByRole('menuitem').allInnerTexts();
const entry = (page: Page, name: string) => page.getByRole('menuitem', { name, exact: true });
const chosen = (page: Page): Promise<string[]> => page.locator('.things [aria-selected="true"] > span').allInnerTexts();

/** Whether all of the menu lies on the screen. */
async function isInView(page: Page): Promise<boolean> {
  const { x, y, width, height } = (await page.getByRole('menu').boundingBox())!;
  const screen = page.viewportSize()!;
  return x >= 0 && y >= 0 && x + width <= screen.width && y + height <= screen.height;
}

describe('by finger', () => {
  let tablet: Visit;
  let tab: Page;
  let client: CDPSession;
  beforeAll(async () => {
    tablet = await visit(opened.stage, { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
    tab = tablet.page;
    client = await tab.context().newCDPSession(tab);
    await toFront(tab, 'elevation');
  });
  afterAll(async () => {
    expect(tablet.faults).toEqual([]);
    await tablet.close();
  });
  const touch = async (at: Spot, restMs: number): Promise<void> => {
    await client.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ ...at }] });
    await tab.waitForTimeout(restMs);
    await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  };

  test('one that rests opens the menu of the thing under it; one that does not, does not', async () => {
    const at = await placeIn(tab, 'elevation', 'W1');
    await choose(tab, 'L1');
    await touch(at, 60);
    expect(await selectedTitle(tab)).toBe('Selected: W1');
    expect(await entries(tab)).toEqual([]);
    await choose(tab, 'L1');
    await touch(at, 800);
    expect(await selectedTitle(tab)).toBe('Selected: W1');
    await entry(tab, 'Move by').waitFor();
    expect(await tab.getByRole('menu').getAttribute('aria-label')).toBe('Arrange: W1');
    await tab.keyboard.press('Escape');
    expect(await entries(tab)).toEqual([]);
  });

  test('one that rests and then travels a little has opened it, and nothing was carried', async () => {
    const before = await figure(tab, 'East');
    const at = await placeIn(tab, 'elevation', 'W1');
    await client.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ ...at }] });
    await entry(tab, 'Move by').waitFor();
    await client.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x: at.x + 40, y: at.y }] });
    await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await tab.keyboard.press('Escape');
    expect(await figure(tab, 'East')).toBe(before);
  });

  test('one that moves while the page is busy does not rest, and carries what it took', async () => {
    const before = await figure(tab, 'East');
    const at = await placeIn(tab, 'elevation', 'W1');
    const send = (type: 'touchMove' | 'touchEnd', points: readonly Spot[]) =>
      client.send('Input.dispatchTouchEvent', { type, touchPoints: points.map((point) => ({ ...point })) });
    await client.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ ...at }] });
    const busy = tab.evaluate(
      (endMs) => {
        while (performance.now() < endMs);
      },
      await tab.evaluate(() => performance.now() + 900),
    );
    const moves = [15, 30, 45].map((by) => send('touchMove', [{ x: at.x + by, y: at.y }]));
    await Promise.all([busy, ...moves]);
    await send('touchEnd', []);
    expect(await entries(tab)).toEqual([]);
    expect(await figure(tab, 'East')).not.toBe(before);
    await undo(tab);
    expect(await figure(tab, 'East')).toBe(before);
  });

  test('Choose several: taps add and take out, and all of them move together', async () => {
    const spots: Spot[] = [];
    for (const name of ['W1', 'W3']) spots.push(await placeIn(tab, 'elevation', name));
    await touch(spots[1]!, 800);
    await entry(tab, 'Choose several').tap();
    await touch(spots[0]!, 60);
    expect((await chosen(tab)).sort()).toEqual(['W1', 'W3']);
    await touch(spots[0]!, 60);
    expect(await chosen(tab)).toEqual(['W3']);
    await touch(spots[0]!, 60);
    await tab.locator('#drawing-elevation').focus();
    await tab.keyboard.press('Shift+ArrowUp');
    await touch(spots[1]!, 800);
    await entry(tab, 'Choose one at a time').tap();
    await choose(tab, 'W1');
    const [raised, before] = [await figure(tab, 'Height'), 0.1];
    await undo(tab);
    expect(raised - (await figure(tab, 'Height'))).toBeCloseTo(before, 6);
    await touch(spots[1]!, 60);
    expect(await chosen(tab)).toEqual(['W3']);
  });

  test('wherever on a drawing it rests, all of the menu is on the screen', async () => {
    const box = (await tab.locator('#drawing-elevation').boundingBox())!;
    for (const share of [0.05, 0.5, 0.95]) {
      await touch({ x: box.x + box.width * share, y: box.y + box.height * 0.6 }, 800);
      await entry(tab, 'Measure').waitFor();
      expect(await isInView(tab), `${share}`).toBe(true);
      await tab.keyboard.press('Escape');
    }
  });
});

describe('by mouse and keys', () => {
  test('by key, the menu of a lamp that stands beyond the rim of the drawing is on the screen', async () => {
    const { page, faults, close } = await visit(opened.stage);
    await choose(page, 'L1');
    await page.locator('#drawing-elevation').focus();
    await page.keyboard.press('Shift+F10');
    await entry(page, 'Move by').waitFor();
    expect(await isInView(page)).toBe(true);
    expect(faults).toEqual([]);
    await close();
  });

  test('the menu offers to lock what is free and to unlock what is locked, never both', async () => {
    const { page, faults, close } = await visit(opened.stage);
    await toFront(page, 'plan');
    const locks = async (): Promise<string[]> => (await entries(page)).filter((name) => /^(Lock|Unlock)$/.test(name));
    const open = async (name: string): Promise<void> => {
      await choose(page, name);
      await page.getByTestId('selected').getByRole('button', { name: 'Arrange' }).click();
      await page.getByRole('menu').waitFor();
    };
    await open('L1');
    expect(await locks()).toEqual(['Lock']);
    await entry(page, 'Lock').click();
    await open('L1');
    expect(await locks()).toEqual(['Unlock']);
    await page.keyboard.press('Escape');
    // One locked, one free: what is free can be locked.
    await choose(page, 'W1');
    await page.getByRole('option', { name: /^L1/ }).click({ modifiers: ['Control'] });
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Shift+F10');
    await page.getByRole('menu').waitFor();
    expect(await page.getByRole('menu').getAttribute('aria-label')).toBe('Arrange: 2 things');
    expect(await locks()).toEqual(['Lock']);
    await entry(page, 'Lock').click();
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Shift+F10');
    await page.getByRole('menu').waitFor();
    expect(await locks()).toEqual(['Unlock']);
    await entry(page, 'Unlock').click();
    await open('L1');
    expect(await locks()).toEqual(['Lock']);
    expect(faults).toEqual([]);
    await close();
  });
});

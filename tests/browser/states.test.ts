/** What the screen says when there is nothing to show, when the light's solver stops, and when a part of the page does. */
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { faultsOf } from './axe';
import { choose, drag, figure, placeIn, undo } from './hands';
import { openDesk, settled, verdictText } from './page';

type Trouble = 'fails' | 'dies' | 'hangs' | null;
type Troubled = Window & { trouble: Trouble; drawingBreaks: boolean; panelBreaks: boolean };

/** Runs in the page: workers, lettering and figures that can be made to go wrong from outside. */
function makeBreakable(): void {
  const page = window as unknown as Troubled;
  page.trouble = null;
  const plainPost = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function post(this: Worker, message: { type: string; jobId: number }): void {
    if (page.trouble === null) plainPost.call(this, message);
    else if (page.trouble === 'dies') this.dispatchEvent(new ErrorEvent('error', { message: 'out of memory' }));
    else if (message.type === 'cancel') {
      this.dispatchEvent(new MessageEvent('message', { data: { type: 'cancelled', jobId: message.jobId } }));
    } else if (page.trouble === 'fails') {
      const fault = { name: 'RangeError', message: 'not enough memory for 256 x 94 points' };
      this.dispatchEvent(new MessageEvent('message', { data: { type: 'failed', jobId: message.jobId, fault } }));
    }
  } as typeof plainPost;
  const plainStroke = CanvasRenderingContext2D.prototype.fillText;
  CanvasRenderingContext2D.prototype.fillText = function fillText(...words): void {
    if (page.drawingBreaks) throw new Error('the lettering gave out');
    plainStroke.apply(this, words);
  };
  const plainScroll = Element.prototype.scrollBy;
  Element.prototype.scrollBy = function scrollBy(this: Element, options?: ScrollToOptions): void {
    if (page.panelBreaks) throw new Error('the panel would not move');
    plainScroll.apply(this, [options] as unknown as [number, number]);
  } as typeof plainScroll;
}

const desk = openDesk({}, makeBreakable);
let page: Page;
beforeAll(() => {
  ({ page } = desk);
});

const setTrouble = (trouble: Trouble): Promise<void> =>
  page.evaluate((kind) => void ((window as unknown as Troubled).trouble = kind), trouble);
const state = () => page.locator('.sheet-state');
const nudgeLamp = async (): Promise<void> => {
  await choose(page, 'L1');
  await page.locator('#drawing-plan').focus();
  await page.keyboard.press('ArrowUp');
};

describe('the solver', () => {
  test.each([
    ['fails', /The solver stopped: not enough memory for 256 x 94 points\. The last result is shown, out of date/],
    ['dies', /The solver stopped: .*out of memory/],
  ] as const)('that %s is told, the old picture stays, and it can be started again', async (kind, words) => {
    const said = await verdictText(page);
    await setTrouble(kind);
    await nudgeLamp();
    await expect.poll(() => state().innerText()).toMatch(words);
    expect(await verdictText(page)).toBe(said);
    expect(await page.getByTestId('verdict-top').innerText()).toContain('out of date');
    expect(await faultsOf(page)).toEqual([]);
    await setTrouble(null);
    await page.getByRole('button', { name: 'Solve again' }).click();
    await settled(page);
    expect(await state().count()).toBe(0);
    await undo(page);
    await settled(page);
    expect(await verdictText(page)).toBe(said);
  });

  test('that takes long says so and can be stopped; what is shown is then out of date', async () => {
    await setTrouble('hangs');
    await nudgeLamp();
    await expect.poll(() => state().innerText()).toMatch(/Solving plaster wall, 0/);
    expect(await faultsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    expect(await state().innerText()).toMatch(/^Out of date\./);
    await setTrouble(null);
    await undo(page);
    await page.reload();
    await settled(page);
  });
});

describe('nothing to show', () => {
  test('a lamp that is off leaves the wall dark, and the screen says why', async () => {
    await choose(page, 'L1');
    await page.getByRole('switch', { name: 'On', exact: true }).click({ force: true });
    await expect
      .poll(() => state().innerText(), { timeout: 20_000 })
      .toBe('No light reaches this wall: every lamp is off or at 0 %.');
    expect(await faultsOf(page)).toEqual([]);
    await undo(page);
    await settled(page);
  });

  test('a new scene says what to place first, and the first lamp lights it', async () => {
    await page.getByRole('button', { name: 'More' }).click();
    await page.getByRole('menuitem', { name: 'New scene' }).click();
    await page.getByRole('button', { name: /^A wall and a floor/ }).click();
    await page.getByRole('button', { name: 'Make the scene' }).click();
    const empty = page.locator('.sheet-empty');
    expect(await empty.innerText()).toContain('Place a lamp first');
    expect(await faultsOf(page)).toEqual([]);
    await empty.getByRole('button', { name: 'Place a lamp' }).click();
    await settled(page);
    expect(await empty.count()).toBe(0);
    expect(await page.locator('#selected-title').innerText()).toBe('Selected: L1');
    expect(await page.getByTestId('verdict-word').innerText()).not.toBe('');
    await page.getByRole('button', { name: 'More' }).click();
    await page.getByRole('menuitem', { name: 'Back to the scene before' }).click();
    await settled(page);
  });
});

test('a browser that may not run WebAssembly is told what is missing, in one line', async () => {
  const context = await desk.stage.browser.newContext();
  const old = await context.newPage();
  await old.addInitScript(() => Reflect.deleteProperty(globalThis, 'WebAssembly'));
  await old.goto(desk.stage.address);
  await old
    .getByText(/^Farsun did not start: this browser does not run WebAssembly, .* from 2024 or later\.$/)
    .waitFor();
  await context.close();
});

test('a browser without WebGL says what it cannot draw, and keeps the figures', async () => {
  const context = await desk.stage.browser.newContext();
  const plain = await context.newPage();
  await plain.addInitScript(() => {
    const canvas = HTMLCanvasElement.prototype;
    const given = canvas.getContext as (this: HTMLCanvasElement, kind: string, ...more: unknown[]) => unknown;
    canvas.getContext = function getContext(this: HTMLCanvasElement, kind: string, ...more: unknown[]) {
      return kind.startsWith('webgl') ? null : given.call(this, kind, ...more);
    } as typeof canvas.getContext;
  });
  await plain.goto(desk.stage.address);
  const words =
    'Nothing can be drawn here: this browser gives no WebGL, which the drawings need. The figures in the panel still hold.';
  await plain.locator('.sheet-empty', { hasText: words }).first().waitFor();
  await plain.waitForFunction(() => document.querySelector('[data-testid="tell"]')?.textContent?.includes('1.8'));
  await context.close();
});

test('a page of which a part does not come says so, in one line', async () => {
  const context = await desk.stage.browser.newContext();
  const halved = await context.newPage();
  await halved.route(/assets\/main-.*\.js$/, (route) => route.abort());
  await halved.goto(desk.stage.address);
  await halved.getByText(/^Farsun did not start: loading the page again may help; .* \(.+\)\.$/).waitFor();
  await context.close();
});

describe('a part of the page that stops', () => {
  test('a drawing says so, keeps the scene, and is back after Undo', async () => {
    const at = await placeIn(page, 'elevation', 'W3');
    const east = await figure(page, 'East');
    await page.evaluate(() => void ((window as unknown as Troubled).drawingBreaks = true));
    await drag(page, at, { x: 60, y: 8 });
    const guard = page.locator('.sheet[data-kind="elevation"] .guard');
    await guard.waitFor();
    expect(await guard.innerText()).toMatch(/^The elevation stopped: the lettering gave out\. The scene is safe\./);
    expect(await faultsOf(page)).toEqual([]);
    await page.evaluate(() => void ((window as unknown as Troubled).drawingBreaks = false));
    await guard.getByRole('button', { name: 'Undo' }).click();
    await page.locator('#drawing-elevation canvas').waitFor();
    await choose(page, 'W3');
    expect(await figure(page, 'East')).toBe(east);
  });

  test('the panel says so, and Try again brings it back', async () => {
    const at = await placeIn(page, 'elevation', 'W3');
    await page.keyboard.press('Escape');
    await page.evaluate(() => void ((window as unknown as Troubled).panelBreaks = true));
    await page.mouse.click(at.x, at.y);
    const guard = page.locator('.panel .guard');
    await guard.waitFor();
    expect(await guard.innerText()).toMatch(/^The panel stopped: the panel would not move\. The scene is safe\./);
    expect(await faultsOf(page)).toEqual([]);
    await page.evaluate(() => void ((window as unknown as Troubled).panelBreaks = false));
    await guard.getByRole('button', { name: 'Try again' }).click();
    expect(await page.locator('#selected-title').innerText()).toBe('Selected: W3');
    expect(await page.getByTestId('verdict-word').innerText()).not.toBe('');
  });
});

describe('the keyboard finds its way', () => {
  test('the first two stops lead to the drawing and to the list, which is one stop with arrow keys', async () => {
    await page.reload();
    await settled(page);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    const first = await page.evaluate(() => document.activeElement?.getAttribute('role'));
    expect(first).toBe('option');
    await page.keyboard.press('ArrowDown');
    const chosen = await page.locator('#selected-title').innerText();
    await page.keyboard.press('ArrowDown');
    expect(await page.locator('#selected-title').innerText()).not.toBe(chosen);
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.closest('.things'))).toBeNull();
  });
});

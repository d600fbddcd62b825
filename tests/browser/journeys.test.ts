/** What people do on the screen, on the production build in a real browser. One page for most of it. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { loadScene } from '../../src/scene/load';
import { choose, field, placeIn, toFront, undo, type Kind } from './hands';
import { drawingSum, openDesk, settled, storedText, verdictText, visit } from './page';

const desk = openDesk();
let page: Page;
beforeAll(() => {
  ({ page } = desk);
});

describe('opening', () => {
  test('the demo opens with a verdict, its worst figure and its limits', async () => {
    expect(await page.getByTestId('verdict-word').innerText()).toBe('Gives it away');
    expect(await verdictText(page)).toMatch(/stops hotter/);
    expect(await page.getByTestId('verdict').innerText()).toContain('common practice, no published source');
    expect(await page.getByRole('tab').count()).toBeGreaterThan(1);
  });

  test('another setup has another verdict', async () => {
    const before = await verdictText(page);
    await page.getByRole('tab', { name: /Netted/ }).click();
    await settled(page);
    expect(await verdictText(page)).not.toBe(before);
    await page.getByRole('tab', { name: /Bare/ }).click();
    await settled(page);
    expect(await verdictText(page)).toBe(before);
  });
});

describe('the panel and the bar', () => {
  test('with something selected, verdict and sentence stay in sight above its fields', async () => {
    await choose(page, 'L1');
    const foot = (await page.getByTestId('verdict-top').boundingBox())!;
    const card = (await page.getByTestId('selected').boundingBox())!;
    expect(await page.getByTestId('verdict-top').innerText()).toMatch(/stops hotter/);
    await page.locator('.panel').evaluate((panel) => panel.scrollTo(0, 400));
    expect((await page.getByTestId('verdict-top').boundingBox())!.y).toBeCloseTo(foot.y, 0);
    expect(card.height).toBeGreaterThan(300);
    expect(await page.evaluate(() => document.documentElement.scrollTop + document.body.scrollTop)).toBe(0);
    await page.keyboard.press('Escape');
  });

  test('the chosen setup shows its name, the others their letter where there is no room', async () => {
    const tabs = page.getByRole('tab');
    /** A tab's letter, and its name where it is wider than what is only there for the ear. */
    const shown = () =>
      tabs.evaluateAll((all) =>
        all.map((tab) => {
          const [letter, name] = [...tab.children] as HTMLElement[];
          return `${letter?.innerText} ${name && name.offsetWidth > 1 ? name.innerText : ''}`.trim();
        }),
      );
    expect(await shown()).toEqual(['A Bare', 'B', 'C', 'D', 'E', 'F']);
    expect(await page.getByRole('tab', { name: 'Nets too far' }).count()).toBe(1);
    await page.setViewportSize({ width: 2560, height: 1440 });
    await expect.poll(shown).toContain('D Nets too far');
    await page.setViewportSize({ width: 1280, height: 720 });
    await expect.poll(shown).toContain('D');
  });
});

describe('the hand', () => {
  /** The lamp is carried by its symbol; map and verdict follow, and undo brings both back. */
  async function dragLamp(kind: Kind, deltaX: number, deltaY: number): Promise<void> {
    const at = await placeIn(page, kind, 'L1');
    await settled(page);
    const said = await verdictText(page);
    const map = await drawingSum(page, 'elevation');
    const word = await page.getByTestId('verdict').innerText();
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    for (let step = 1; step <= 6; step += 1) {
      await page.mouse.move(at.x + (deltaX * step) / 6, at.y + (deltaY * step) / 6);
    }
    expect(await page.locator('.drag-note').innerText()).toMatch(/m (to|up|down)/);
    await page.mouse.up();
    await settled(page);
    expect(await page.getByTestId('verdict').innerText()).not.toBe(word);
    expect(await drawingSum(page, 'elevation')).not.toBe(map);
    await undo(page);
    await settled(page);
    expect(await verdictText(page)).toBe(said);
  }

  test('drags the lamp on the plan', async () => {
    await toFront(page, 'plan');
    await dragLamp('plan', 10, 50);
  });

  test('drags the lamp in section', async () => {
    await toFront(page, 'section');
    await dragLamp('section', 0, -30);
  });

  test('drags a meter in elevation, and Escape puts it back', async () => {
    await toFront(page, 'elevation');
    const at = await placeIn(page, 'elevation', 'W3');
    const east = await field(page, 'East').inputValue();
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 30, at.y + 4, { steps: 4 });
    await expect.poll(() => field(page, 'East').inputValue()).not.toBe(east);
    await page.keyboard.press('Escape');
    await page.mouse.up();
    expect(await field(page, 'East').inputValue()).toBe(east);
  });

  test('reads the light under the pointer, pins it and tells the difference', async () => {
    const box = (await page.locator('#drawing-elevation').boundingBox())!;
    await page.mouse.move(box.x + box.width * 0.36, box.y + box.height * 0.5);
    const level = page.locator('[data-figure="level"] dd');
    await level.waitFor();
    expect(await level.innerText()).toMatch(/lx.*fc/);
    expect(await page.locator('[data-figure="level"] dt').innerText()).toContain('± 1 stop');
    await page.getByRole('button', { name: 'Pin' }).click();
    await page.mouse.move(box.x + box.width * 0.43, box.y + box.height * 0.5);
    await page.locator('[data-figure="difference"]').waitFor();
    expect(await page.locator('[data-figure="difference"] dd').innerText()).toMatch(/stops, ×/);
    await page.getByRole('button', { name: 'Unpin' }).click();
  });
});

describe('the keyboard', () => {
  test('types the story’s sun where nothing is selected, and the height figure follows', async () => {
    await page.locator('.panel').press('Escape');
    const altitude = field(page, 'Sun’s altitude');
    const before = await altitude.inputValue();
    const figures = await page.getByTestId('verdict').innerText();
    await altitude.fill('40');
    await altitude.press('Enter');
    await settled(page);
    expect(await page.getByTestId('verdict').innerText()).not.toBe(figures);
    await page.locator('h1').click();
    await undo(page);
    expect(await altitude.inputValue()).toBe(before);
  });

  test('an emptied focus is very far, and says so', async () => {
    await choose(page, 'L1');
    const focus = field(page, 'Focus at');
    expect(await focus.inputValue()).toBe('very far');
    await focus.fill('6.5');
    await focus.press('Enter');
    expect(await focus.inputValue()).toBe('6.50');
    await focus.fill('');
    await focus.press('Enter');
    expect(await focus.inputValue()).toBe('very far');
    await page.locator('h1').click();
    await undo(page);
    await undo(page);
  });

  test('walks the list, nudges in the drawing and takes it back', async () => {
    await choose(page, 'L1');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.id)).toMatch(/^drawing-/);
    expect(await page.locator('header.top').evaluate((bar) => bar.getBoundingClientRect().top)).toBe(0);
    const drawing = page.locator('#drawing-plan');
    await drawing.focus();
    const east = await field(page, 'East').inputValue();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    expect(Number((await field(page, 'East').inputValue()).replace('−', '-'))).toBeCloseTo(
      Number(east.replace('−', '-')) + 0.11,
      9,
    );
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    expect(await field(page, 'East').inputValue()).toBe(east);
    await page.keyboard.press('Control+Shift+z');
    expect(await field(page, 'East').inputValue()).not.toBe(east);
    await page.keyboard.press('Control+z');
  });

  test('takes feet and inches and simple sums, and says what is wrong', async () => {
    await choose(page, 'L1');
    const height = field(page, 'Trim height');
    await height.fill('8ft 6');
    await height.press('Enter');
    expect(await height.inputValue()).toBe('2.59'); // 8 x 0.3048 + 6 x 0.0254 = 2.5908 m
    await height.fill('2.5+0.1');
    await height.press('Enter');
    expect(await height.inputValue()).toBe('2.60');
    await height.fill('tall');
    await height.press('Enter');
    expect(await page.getByTestId('selected').innerText()).toContain('Still using 2.60 m.');
    await height.press('Escape');
    await page.keyboard.press('Tab');
    await undo(page);
    await undo(page);
  });

  test('Delete removes and Undo brings back', async () => {
    await choose(page, 'W1');
    await page.keyboard.press('Delete');
    expect(await page.getByRole('option', { name: /^W1/ }).count()).toBe(0);
    await page.locator('.notice', { hasText: 'W1 removed' }).getByRole('button', { name: 'Undo' }).click();
    expect(await page.getByRole('option', { name: /^W1/ }).count()).toBe(1);
  });
});

describe('maps', () => {
  test('shows stops off, and the lamp over the real sun with its twin', async () => {
    await toFront(page, 'elevation');
    const lux = await drawingSum(page, 'elevation');
    await page.getByRole('radio', { name: 'Stops off' }).click();
    await expect.poll(() => drawingSum(page, 'elevation')).not.toBe(lux);
    await page.getByRole('radio', { name: 'Lamp over sun' }).click();
    await page.getByRole('button', { name: 'Sun twin' }).click();
    await page.getByRole('button', { name: 'Table of levels' }).click();
    const table = page.getByRole('region', { name: /^Table for/ });
    await expect.poll(() => table.innerText(), { timeout: 20_000 }).toMatch(/[+−]\d/);
    expect(await table.getByRole('row').count()).toBe(6);
    await page.getByRole('button', { name: 'Table of levels' }).click();
    await page.getByRole('button', { name: 'Sun twin' }).click();
    await page.getByRole('radio', { name: 'Lux' }).click();
  });
});

describe('files', () => {
  test('a broken file gives a line for each fault and leaves the scene alone', async () => {
    const before = await verdictText(page);
    const chosen = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open', exact: true }).click();
    await (
      await chosen
    ).setFiles({
      name: 'broken.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{\n  "format": "farsun-scene",\n  "formatVersion": 99\n}\n'),
    });
    const notice = page.locator('.notice[data-kind="fault"]');
    await notice.waitFor();
    expect(await notice.innerText()).toMatch(/broken\.json, line 3.*newer Farsun/);
    expect(await verdictText(page)).toBe(before);
    await notice.getByRole('button', { name: 'Close notice' }).click();
  });

  test('a kept copy is a scene that loads', async () => {
    const kept = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Keep a copy' }).click();
    const download = await kept;
    expect(download.suggestedFilename()).toMatch(/\.json$/);
    const text = readFileSync((await download.path())!, 'utf8');
    expect(loadScene(text, 'copy.json').ok).toBe(true);
  });

  test('a reload brings back what was done', async () => {
    await choose(page, 'L1');
    const height = field(page, 'Trim height');
    await height.fill('2.71');
    await height.press('Enter');
    await expect.poll(() => page.evaluate(storedText), { timeout: 10_000 }).toContain('2.71');
    await page.reload();
    await settled(page);
    await choose(page, 'L1');
    expect(await field(page, 'Trim height').inputValue()).toBe('2.71');
  });

  test('a page that dies in the middle of a drag comes back with the scene as it was before the drag', async () => {
    const at = await placeIn(page, 'elevation', 'W3');
    const east = await field(page, 'East').inputValue();
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 30, at.y + 4, { steps: 4 });
    await expect.poll(() => field(page, 'East').inputValue()).not.toBe(east);
    await page.reload();
    await page.mouse.up();
    await settled(page);
    await choose(page, 'W3');
    expect(await field(page, 'East').inputValue()).toBe(east);
  });

  test('a browser that stores nothing says so, and keeps a copy on request', async () => {
    const trip = await desk.stage.browser.newContext({ viewport: { width: 1280, height: 720 }, acceptDownloads: true });
    const tab = await trip.newPage();
    await tab.addInitScript(() => {
      IDBObjectStore.prototype.put = () => {
        throw new DOMException('', 'QuotaExceededError');
      };
    });
    await tab.goto(desk.stage.address);
    const notice = tab.locator('.notice[data-kind="fault"]', { hasText: 'its space is full' });
    await notice.waitFor({ timeout: 20_000 });
    const kept = tab.waitForEvent('download');
    await notice.getByRole('button', { name: 'Keep a copy' }).click();
    expect(loadScene(readFileSync((await (await kept).path())!, 'utf8'), 'copy.json').ok).toBe(true);
    await trip.close();
  });

  test('a second tab is warned and stores nothing', async () => {
    const second = await page.context().newPage();
    await second.goto(desk.stage.address);
    await second
      .locator('.notice[data-kind="caution"]', { hasText: 'open in another tab' })
      .waitFor({ timeout: 20_000 });
    await second.close();
  });
});

describe('trouble', () => {
  test('no error reached the console and the content policy was never broken', () => {
    expect(desk.faults).toEqual([]);
  });

  test('a solver that cannot start is told, and the page goes on', async () => {
    const trip = await desk.stage.browser.newContext({ viewport: { width: 1280, height: 720 } });
    const tab = await trip.newPage();
    await tab.route('**/solver.worker*.js', (route) =>
      route.fulfill({ contentType: 'text/javascript', body: 'throw new Error("dead")' }),
    );
    await tab.goto(desk.stage.address);
    await tab.locator('.sheet-state', { hasText: 'The solver stopped' }).waitFor({ timeout: 20_000 });
    await tab.unroute('**/solver.worker*.js');
    await tab.getByRole('button', { name: 'Solve again' }).click();
    await settled(tab);
    expect(await tab.getByTestId('verdict-word').innerText()).toBe('Gives it away');
    await trip.close();
  });
});

describe('fingers', () => {
  test('one finger drags the lamp, a tap reads the light', async () => {
    const tablet = await visit(desk.stage, { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
    const { page: tab } = tablet;
    const box = (await tab.locator('#drawing-elevation').boundingBox())!;
    await tab.touchscreen.tap(box.x + box.width * 0.35, box.y + box.height * 0.6);
    await tab.locator('[data-figure="level"]').waitFor();

    const lamp = await placeIn(tab, 'section', 'L1');
    await settled(tab);
    const height = await field(tab, 'Trim height').inputValue();
    const client = await tab.context().newCDPSession(tab);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', x: number, y: number) =>
      client.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] });
    await touch('touchStart', lamp.x, lamp.y);
    for (let step = 1; step <= 5; step += 1) await touch('touchMove', lamp.x, lamp.y - 8 * step);
    await touch('touchEnd', lamp.x, lamp.y - 40);
    await expect.poll(() => field(tab, 'Trim height').inputValue()).not.toBe(height);

    await settled(tab);
    const sizes = await tab.locator('button:visible').evaluateAll((buttons) =>
      buttons.map((button) => ({
        name: button.textContent || button.getAttribute('aria-label'),
        height: button.getBoundingClientRect().height,
      })),
    );
    expect(sizes.filter((size) => size.height < 43.5)).toEqual([]);
    expect(tablet.faults).toEqual([]);
    await tablet.close();
  });
});

/** Drawing a set by mouse, by keyboard alone and by finger, from nothing to the first verdict. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { choose, drag, field, figure, pixelsPerMetre, placeIn, selectedTitle, toFront, undo, type Spot } from './hands';
import { openDesk, settled, visit, type Visit } from './page';

const opened = openDesk(null);

const listed = (page: Page, name: RegExp): Promise<number> => page.getByRole('option', { name }).count();
const verdict = (page: Page): Promise<string> => page.getByTestId('verdict-word').innerText();

/** Takes an entry of an opened choice. */
const pick = (page: Page, name: string): Promise<void> =>
  page.locator('.popover').getByRole('option', { name, exact: true }).click();

/** Middle of the plan's drawing. */
async function middle(page: Page): Promise<Spot> {
  const box = (await page.locator('#drawing-plan').boundingBox())!;
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}
const SQUARE = [
  [-110, 80],
  [110, 80],
  [110, -90],
  [-110, -90],
] as const;

/** Counts what a hand does: a press, a typed figure or a chosen entry is one action. */
function counter() {
  let count = 0;
  return {
    act: async (doing: Promise<unknown>): Promise<void> => {
      count += 1;
      await doing;
    },
    count: () => count,
  };
}

describe('by mouse', () => {
  let desk: Visit;
  let page: Page;
  beforeAll(async () => {
    desk = await visit(opened.stage);
    page = desk.page;
  });
  afterAll(async () => {
    expect(desk.faults).toEqual([]);
    await desk.close();
  });

  test('from bare ground to a verdict in at most 12 actions, and all of it taken back', async () => {
    const { act, count } = counter();
    await act(page.getByRole('button', { name: 'More' }).click());
    await act(page.getByRole('menuitem', { name: 'New scene' }).click());
    await act(page.getByRole('button', { name: /^Bare ground/ }).click());
    await act(page.getByRole('button', { name: 'Make the scene' }).click());
    const at = await middle(page);
    for (const [x, y] of SQUARE) await act(page.mouse.click(at.x + x, at.y + y));
    await act(page.getByRole('button', { name: 'Close the room' }).click());
    await act(page.getByRole('button', { name: 'Place a lamp' }).first().click());
    await settled(page);
    expect(['Reads as sun', 'Passable', 'Gives it away', 'Not enough to say']).toContain(await verdict(page));
    expect(count()).toBeLessThanOrEqual(12);
    expect(await listed(page, /^Wall \d/)).toBe(4);
    expect(await listed(page, /^Floor/)).toBe(1);
    await undo(page);
    await undo(page);
    expect(await listed(page, /^(Wall|Floor|L1)/)).toBe(0);
    expect(await page.locator('header.top').getByRole('button', { name: /^Undo/ }).isDisabled()).toBe(true);
  });

  test('a window and a wall give a verdict in four presses', async () => {
    const { act, count } = counter();
    await act(page.getByRole('button', { name: 'More' }).click());
    await act(page.getByRole('menuitem', { name: 'New scene' }).click());
    await act(page.getByRole('button', { name: /^A window and a wall/ }).click());
    await act(page.getByRole('button', { name: 'Make the scene' }).click());
    await settled(page);
    expect(await page.locator('.verdict-top').innerText()).toContain('L1 on east wall');
    expect(await verdict(page)).not.toBe('');
    expect(count()).toBe(4);
  });

  test('a window goes into the wall that is pressed, where it is pressed', async () => {
    await page.getByRole('radio', { name: 'Draw', exact: true }).click();
    await page.locator('.draw-strip .pick').first().click();
    await pick(page, 'Window');
    await page.getByRole('button', { name: 'Fit, plan' }).click();
    // The typed twin first: it says where the north wall lies on the screen, by the note of what it put in.
    await page.locator('.draw-strip .pick').nth(1).click();
    await pick(page, 'North wall');
    const strip = page.locator('.draw-strip');
    await strip.getByLabel('Middle, from left').fill('0.7+0.3');
    await strip.getByLabel('Middle, from left').press('Enter');
    await strip.getByRole('button', { name: 'Put in' }).click();
    expect(await selectedTitle(page)).toBe('Selected: Window 2');
    expect(await figure(page, 'Left edge')).toBe(0.4); // 1.0 m less half of 1.2 m
    await undo(page);
    expect(await listed(page, /^Window 2/)).toBe(0);
    // By a press: 1.6 m west of the middle of the south wall's window, which stands in the middle of 5 m.
    await placeIn(page, 'plan', 'L1');
    const scale = await pixelsPerMetre(page, 'plan');
    const at = await placeIn(page, 'plan', 'Window 1');
    await page.mouse.click(at.x - 1.6 * scale, at.y);
    expect(await selectedTitle(page)).toBe('Selected: Window 2');
    // Seen from inside, left is east: the middle lies 2.5 + 1.6 m from there, to 5 cm, less half of 1.2 m.
    expect(Math.abs((await figure(page, 'Left edge')) - 3.5)).toBeLessThan(0.04);
    await undo(page);
  });

  test('the tape measures between two presses and between two things by name', async () => {
    await page.getByRole('radio', { name: 'Measure', exact: true }).click();
    const at = await middle(page);
    await page.mouse.click(at.x - 50, at.y);
    await page.mouse.click(at.x + 50, at.y);
    expect(await page.locator('.measured').innerText()).toMatch(/^\d+\.\d\d\sm, towards 90/);
    await page.locator('.draw-strip .pick').first().click();
    await pick(page, 'South wall, left corner');
    await page.locator('.draw-strip .pick').nth(1).click();
    await pick(page, 'North wall, left corner');
    // Lower left corners of the facing walls of a room 5 m wide and 4 m deep: a diagonal of the floor.
    expect(await page.locator('.measured').innerText()).toMatch(/^6\.40\sm/);
  });

  test('what the tape reads is kept as a dimension, follows its wall, and is removed', async () => {
    await page.getByRole('button', { name: 'Keep as a dimension' }).click();
    expect(await selectedTitle(page)).toBe('Selected: Dimension 1');
    const row = page.getByRole('option', { name: /^Dimension 1/ });
    expect(await row.innerText()).toMatch(/6\.40\sm/);
    // Its line stands off as typed, and by an arrow key.
    await field(page, 'Line stands off').fill('0.8');
    await field(page, 'Line stands off').press('Enter');
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Shift+ArrowUp');
    expect(await figure(page, 'Line stands off')).not.toBe(0.8);
    await undo(page);
    // The north wall a metre farther: 5 m along and 5 m across are 7.07 m.
    await choose(page, 'North wall');
    await field(page, 'North').fill('5');
    await field(page, 'North').press('Enter');
    expect(await row.innerText()).toMatch(/7\.07\sm/);
    await undo(page);
    expect(await row.innerText()).toMatch(/6\.40\sm/);
    await choose(page, 'Dimension 1');
    await page.getByTestId('selected').getByRole('button', { name: 'Remove' }).click();
    expect(await row.count()).toBe(0);
    await undo(page);
    expect(await row.count()).toBe(1);
    for (let step = 0; step < 2; step += 1) await undo(page);
    expect(await row.count()).toBe(0);
  });

  test('two presses on the plan keep a dimension that is tied to what lies under them', async () => {
    const at = await placeIn(page, 'plan', 'L1');
    const scale = await pixelsPerMetre(page, 'plan');
    const jamb = await placeIn(page, 'plan', 'Window 1');
    await page.mouse.click(at.x + 3, at.y - 3);
    await page.mouse.click(jamb.x + 0.6 * scale, jamb.y);
    await page.getByRole('button', { name: 'Keep as a dimension' }).click();
    expect(await page.getByTestId('selected').innerText()).toMatch(/From L1 to Window 1, (left|right) jamb/);
    await undo(page);
    await page.getByRole('button', { name: 'Done', exact: true }).click();
    expect(await page.locator('.draw-strip').count()).toBe(0);
  });

  test('a mark is put down, carried with the mouse and nudged with the keys', async () => {
    await page.getByRole('radio', { name: 'Draw', exact: true }).click();
    await page.locator('.draw-strip .pick').first().click();
    await pick(page, 'Mark');
    const at = await middle(page);
    await page.mouse.click(at.x + 20, at.y - 20);
    expect(await selectedTitle(page)).toBe('Selected: Mark 1');
    await page.getByRole('button', { name: 'Done', exact: true }).click();
    const before = await figure(page, 'East');
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Shift+ArrowRight');
    expect(await figure(page, 'East')).toBeCloseTo(before + 0.1, 6);
    await undo(page);
    // The strip is gone and the drawing wider: the mark says itself where it lies now.
    const now = await placeIn(page, 'plan', 'Mark 1');
    await drag(page, now, { x: 40, y: 0 });
    expect(await figure(page, 'East')).toBeGreaterThan(before);
  });
});

describe('by keyboard alone', () => {
  let desk: Visit;
  let page: Page;
  beforeAll(async () => {
    desk = await visit(opened.stage);
    page = desk.page;
  });
  afterAll(async () => {
    expect(desk.faults).toEqual([]);
    await desk.close();
  });

  /** Tabs on until the focus is on a control of this name. */
  async function tabTo(name: RegExp): Promise<void> {
    for (let step = 0; step < 150; step += 1) {
      const found = await page.evaluate(() => {
        const element = document.activeElement as HTMLElement | null;
        const label = element instanceof HTMLInputElement ? (element.labels?.[0]?.innerText ?? '') : '';
        return element?.getAttribute('aria-label') ?? (label || element?.innerText || '');
      });
      if (name.test(found)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`no control ${name} within 150 stops`);
  }
  const type = async (name: RegExp, value: string): Promise<void> => {
    await tabTo(name);
    await page.keyboard.press('Control+a');
    await page.keyboard.type(value);
    await page.keyboard.press('Enter');
  };

  test('a room is drawn by lengths and directions, lit, judged, and taken back', async () => {
    await tabTo(/^More$/);
    await page.keyboard.press('Enter');
    await page.getByRole('menuitem', { name: 'New scene' }).focus();
    await page.keyboard.press('Enter');
    await tabTo(/^Bare ground/);
    await page.keyboard.press('Enter');
    await tabTo(/^Make the scene$/);
    await page.keyboard.press('Enter');
    await tabTo(/^Set corner$/);
    await page.keyboard.press('Enter');
    for (const [lengthM, directionDeg] of [
      ['4+0.5', '90'],
      ['3.2', '0'],
      ['450cm', '270'],
    ] as const) {
      await type(/^Length$/, lengthM);
      await type(/^Direction$/, directionDeg);
      await tabTo(/^Set corner$/);
      await page.keyboard.press('Enter');
    }
    await tabTo(/^Close the room$/);
    await page.keyboard.press('Enter');
    // The strip has closed under the keyboard, which is left on the drawing.
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('drawing-plan');
    expect(await page.getByRole('radio', { name: 'Select', exact: true }).isChecked()).toBe(true);
    expect(await listed(page, /^Wall \d/)).toBe(4);
    expect(await figure(page, 'Length')).toBe(4.5);
    await tabTo(/^Place a lamp$/);
    await page.keyboard.press('Enter');
    await settled(page);
    expect(await verdict(page)).not.toBe('');
    // Aimed by key: the aim of a lamp is three figures in its card.
    const before = await figure(page, 'Aim height');
    await field(page, 'Aim height').focus();
    await page.keyboard.press('Shift+ArrowDown');
    expect(await figure(page, 'Aim height')).toBeCloseTo(before - 0.1, 6);
    await page.locator('#drawing-plan').focus();
    for (let step = 0; step < 3; step += 1) await page.keyboard.press('Control+z');
    expect(await listed(page, /^(Wall|Floor|L1)/)).toBe(0);
  });
});

describe('by finger', () => {
  test('a room is drawn with taps on a tablet', async () => {
    const tablet = await visit(opened.stage, {
      viewport: { width: 820, height: 1180 },
      hasTouch: true,
      isMobile: true,
    });
    const { page } = tablet;
    await page.getByRole('button', { name: 'More' }).tap();
    await page.getByRole('menuitem', { name: 'New scene' }).tap();
    await page.getByRole('button', { name: /^Bare ground/ }).tap();
    await page.getByRole('button', { name: 'Make the scene' }).tap();
    await page.locator('.draw-strip').waitFor();
    const at = await middle(page);
    for (const [x, y] of SQUARE) await page.touchscreen.tap(at.x + x, at.y + y);
    // The first corner again closes.
    await page.touchscreen.tap(at.x + SQUARE[0][0] + 4, at.y + SQUARE[0][1] - 4);
    await expect.poll(() => listed(page, /^Wall \d/)).toBe(4);
    await page.getByRole('button', { name: 'Place a lamp' }).first().tap();
    await settled(page);
    expect(await verdict(page)).not.toBe('');
    await undo(page);
    await undo(page);
    expect(await listed(page, /^(Wall|Floor|L1)/)).toBe(0);
    expect(tablet.faults).toEqual([]);
    await tablet.close();
  });
});

describe('arranging', () => {
  let desk: Visit;
  let page: Page;
  beforeAll(async () => {
    desk = await visit(opened.stage);
    page = desk.page;
    await toFront(page, 'plan');
  });
  afterAll(async () => {
    expect(desk.faults).toEqual([]);
    await desk.close();
  });
  const entry = (name: string) => page.getByRole('menuitem', { name, exact: true }).click();
  const chosen = (): Promise<number> => page.locator('.things [aria-selected="true"]').count();

  test('the second button opens the menu; a swing by figures keeps the distance, and is taken back', async () => {
    const at = await placeIn(page, 'plan', 'L1');
    const before = [await figure(page, 'East'), await figure(page, 'North')];
    const aim = [await figure(page, 'Aim east'), await figure(page, 'Aim north')];
    await page.mouse.click(at.x, at.y, { button: 'right' });
    await entry('Swing');
    const dialog = page.getByRole('dialog', { name: 'Swing' });
    await dialog.getByLabel('Clockwise from above').fill('10+5');
    await dialog.getByLabel('Clockwise from above').press('Enter');
    await dialog.getByRole('button', { name: 'Swing' }).click();
    const after = [await figure(page, 'East'), await figure(page, 'North')];
    const away = (place: number[]): number => Math.hypot(place[0]! - aim[0]!, place[1]! - aim[1]!);
    expect(away(after)).toBeCloseTo(away(before), 1); // fields show centimetres
    const bearing = (place: number[]): number => Math.atan2(place[0]! - aim[0]!, place[1]! - aim[1]!);
    expect(((bearing(after) - bearing(before)) * 180) / Math.PI).toBeCloseTo(15, 0);
    await undo(page);
    expect([await figure(page, 'East'), await figure(page, 'North')]).toEqual(before);
  });

  test('Shift frames things, the menu key moves them together, one undo brings all back', async () => {
    const spots: Spot[] = [];
    const places = async (): Promise<number[]> => {
      const found: number[] = [];
      for (const name of ['W1', 'W3']) {
        await choose(page, name);
        found.push(await figure(page, 'East'));
      }
      return found;
    };
    for (const name of ['W1', 'W3']) spots.push(await placeIn(page, 'plan', name));
    const before = await places();
    const [left, right] = [Math.min(spots[0]!.x, spots[1]!.x) - 12, Math.max(spots[0]!.x, spots[1]!.x) + 12];
    await page.keyboard.down('Shift');
    // From below the wall up over the meters on it: inside the room is ground, where a frame starts.
    await drag(page, { x: left, y: spots[0]!.y + 60 }, { x: right - left, y: -90 });
    await page.keyboard.up('Shift');
    expect(await chosen()).toBeGreaterThanOrEqual(2);
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Shift+F10');
    await entry('Move by');
    const dialog = page.getByRole('dialog', { name: 'Move by' });
    await dialog.getByLabel('East, by').fill('0.25');
    await dialog.getByLabel('East, by').press('Enter');
    await dialog.getByRole('button', { name: 'Move by' }).click();
    expect(await places()).toEqual(before.map((value) => Number((value + 0.25).toFixed(2))));
    await undo(page);
    expect(await places()).toEqual(before);
  });

  test('a net of the kit is put down in the beam by a press on the plan', async () => {
    await page.getByRole('button', { name: 'Open the kit' }).click();
    await page.getByLabel('Search lamps and grip').fill('net double');
    await page.getByRole('button', { name: 'Put Net, double, open end, 0.6 x 0.9 m on the plan' }).click();
    const at = await middle(page);
    await page.mouse.click(at.x - 120, at.y);
    expect(await selectedTitle(page)).toMatch(/^Selected: N\d/);
    await page.getByRole('button', { name: 'Done', exact: true }).click();
    await undo(page);
  });
});

/** Every gesture in every drawing, with mouse and finger, and its one step back. */
import type { CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  choose,
  drag,
  field,
  figure,
  pixelsPerMetre,
  placeIn,
  selectedTitle,
  swipe,
  toFront,
  undo,
  type Kind,
  type Spot,
} from './hands';
import { openDesk, settled, visit, type Visit } from './page';

const desk = openDesk();
let page: Page;
beforeAll(() => {
  ({ page } = desk);
});

/** Figures of the chosen thing's place; drags must change one of them and undo bring all back. */
const placeOf = async (on: Page): Promise<number[]> => [
  await figure(on, 'East'),
  await figure(on, 'North'),
  await figure(on, (await field(on, 'Trim height').count()) ? 'Trim height' : 'Height'),
];

/** Drags the chosen thing, sees its place change, and takes that back in one step. */
async function dragAndUndo(from: Spot, delta: Spot): Promise<{ before: number[]; after: number[] }> {
  const before = await placeOf(page);
  await drag(page, from, delta);
  const after = await placeOf(page);
  expect(after).not.toEqual(before);
  await undo(page);
  expect(await placeOf(page)).toEqual(before);
  return { before, after };
}

describe('a lamp', () => {
  test('is carried in elevation by its mark at the edge of the view', async () => {
    await toFront(page, 'elevation');
    const at = await placeIn(page, 'elevation', 'L1');
    const box = (await page.locator('#drawing-elevation').boundingBox())!;
    const mark = { x: Math.max(at.x, box.x + 16), y: at.y };
    const { before, after } = await dragAndUndo(mark, { x: 0, y: -40 });
    expect(after[2]).toBeGreaterThan(before[2]!);
    expect(after[1]).toBe(before[1]); // depth before the wall stays
  });

  test.each(['plan', 'section'] as const)('is aimed in %s by the point its axis meets', async (kind) => {
    await toFront(page, kind);
    const lamp = await placeIn(page, kind, 'L1');
    const scale = await pixelsPerMetre(page, kind);
    const aim = async (): Promise<[number, number, number]> => [
      await figure(page, 'Aim east'),
      await figure(page, 'Aim north'),
      await figure(page, 'Aim height'),
    ];
    const [east, north, height] = await placeOf(page);
    const before = await aim();
    const away = [before[0] - east!, before[1] - north!, before[2] - height!] as const;
    const handle =
      kind === 'plan'
        ? { x: lamp.x + away[0] * scale, y: lamp.y - away[1] * scale }
        : { x: lamp.x + Math.hypot(away[0], away[1]) * scale, y: lamp.y - away[2] * scale };
    await drag(page, handle, { x: 0, y: -30 });
    const after = await aim();
    const axis = kind === 'plan' ? 1 : 2;
    // Within the reach of snapping, 6 px.
    expect(Math.abs(after[axis] - before[axis] - 30 / scale)).toBeLessThan(6.5 / scale);
    await undo(page);
    expect(await aim()).toEqual(before);
  });

  test.each(['plan', 'section'] as const)('is turned in %s by the stalk behind it', async (kind) => {
    await toFront(page, kind);
    const lamp = await placeIn(page, kind, 'L1');
    const [east, north, height] = await placeOf(page);
    const away = [
      (await figure(page, 'Aim east')) - east!,
      (await figure(page, 'Aim north')) - north!,
      (await figure(page, 'Aim height')) - height!,
    ] as const;
    const [u, v] = kind === 'plan' ? [away[0], away[1]] : [Math.hypot(away[0], away[1]), away[2]];
    const size = Math.hypot(u, v);
    const stalk = { x: lamp.x - (36 * u) / size, y: lamp.y + (36 * v) / size };
    await drag(page, stalk, { x: 12, y: 24 });
    expect(await field(page, 'Pan').count()).toBe(1); // a turned lamp is aimed by angles
    await undo(page);
    expect(await field(page, 'Pan').count()).toBe(0);
    expect(await field(page, 'Aim height').count()).toBe(1);
  });
});

describe('net and flag', () => {
  test.each(['Net', 'Flag'] as const)(
    'a %s placed by key is in hand, and is carried in plan and elevation',
    async (kind) => {
      await toFront(page, 'plan');
      await page.getByRole('button', { name: `Place a ${kind.toLowerCase()}` }).focus();
      await page.keyboard.press('Enter');
      expect(await page.evaluate(() => document.activeElement?.id)).toMatch(/^drawing-/);
      const name = (await selectedTitle(page)).replace('Selected: ', '');
      for (const drawing of ['plan', 'elevation'] as const) {
        await toFront(page, drawing);
        const at = await placeIn(page, drawing, name);
        const { before, after } = await dragAndUndo(at, { x: 40, y: 26 });
        const still = drawing === 'plan' ? 2 : 1;
        expect(after[still]).toBe(before[still]);
      }
      await page.keyboard.press('Delete');
      expect(await page.getByRole('option', { name: new RegExp(`^${name}`) }).count()).toBe(0);
    },
  );

  test.each(['net', 'flag'] as const)('a %s in the beam is carried in section', async (kind) => {
    await page.getByRole('tab', { name: /Netted/ }).click();
    await settled(page);
    await choose(page, 'L1');
    await toFront(page, 'section');
    let name = 'Double net';
    if (kind === 'flag') {
      await page.getByRole('button', { name: 'Place a flag' }).click();
      name = (await selectedTitle(page)).replace('Selected: ', '');
      for (const [label, value] of [
        ['East', '-2.4'],
        ['North', '1.84'],
        ['Height', '2.3'],
      ] as const) {
        await field(page, label).fill(value);
        await field(page, label).press('Enter');
      }
    }
    const at = await placeIn(page, 'section', name);
    await dragAndUndo(at, { x: 0, y: -34 });
    if (kind === 'flag') await page.keyboard.press('Delete');
    await page.getByRole('tab', { name: /Bare/ }).click();
    await settled(page);
  });
});

describe('snapping', () => {
  test('says what a meter comes level with, and Alt lets go', async () => {
    await toFront(page, 'elevation');
    const target = await placeIn(page, 'elevation', 'W1');
    const at = await placeIn(page, 'elevation', 'W3');
    const height = await figure(page, 'Height');
    const delta = { x: 30, y: target.y - at.y + 3 };
    const note = (): Promise<string> => page.locator('.drag-note').innerText();
    await drag(page, at, { x: delta.x, y: delta.y + 30 });
    await undo(page);
    let said = '';
    await drag(page, at, delta, async () => void (said = await note()));
    expect(said).toMatch(/level with W/);
    expect(await figure(page, 'Height')).toBe(height); // W1 and W3 hang at one height
    await undo(page);
    await page.keyboard.down('Alt');
    await drag(page, at, delta, async () => void (said = await note()));
    await page.keyboard.up('Alt');
    expect(said).not.toMatch(/level/);
    await undo(page);
  });
});

/** Where two meters stand on the elevation: the view's scale and place. */
async function view(on: Page, kind: Kind = 'elevation'): Promise<{ spanPx: number; x: number; y: number }> {
  const a = await placeIn(on, kind, 'W1');
  const b = await placeIn(on, kind, 'W3');
  return { spanPx: Math.hypot(b.x - a.x, b.y - a.y), x: a.x, y: a.y };
}

describe('the view', () => {
  test('zooms about the wheel’s pointer, pans with a drag on nothing, and fits again', async () => {
    await toFront(page, 'elevation');
    const before = await view(page);
    await page.mouse.move(before.x, before.y);
    await page.mouse.wheel(0, -400);
    const zoomed = await view(page);
    expect(zoomed.spanPx / before.spanPx).toBeCloseTo(Math.exp(0.6), 2); // 400 x 0.0015
    expect(Math.hypot(zoomed.x - before.x, zoomed.y - before.y)).toBeLessThan(1.5); // what lies under the pointer stays
    const box = (await page.locator('#drawing-elevation').boundingBox())!;
    await drag(page, { x: box.x + 40, y: box.y + box.height - 20 }, { x: 35, y: -25 });
    const panned = await view(page);
    expect(panned.x - zoomed.x).toBeCloseTo(35, 0);
    expect(panned.y - zoomed.y).toBeCloseTo(-25, 0);
    await page.getByRole('button', { name: 'Fit, elevation' }).click();
    const fitted = await view(page);
    expect(fitted.spanPx).toBeCloseTo(before.spanPx, 1);
    expect(fitted.x).toBeCloseTo(before.x, 1);
  });
});

describe('fingers', () => {
  let tablet: Visit;
  let tab: Page;
  let client: CDPSession;
  beforeAll(async () => {
    tablet = await visit(desk.stage, { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
    tab = tablet.page;
    client = await tab.context().newCDPSession(tab);
  });
  afterAll(async () => {
    expect(tablet.faults).toEqual([]);
    await tablet.close();
  });

  test('one finger carries a flag, and the verdict’s sentence stays in sight', async () => {
    await tab.getByRole('button', { name: 'Place a flag' }).tap();
    const name = (await selectedTitle(tab)).replace('Selected: ', '');
    const at = await placeIn(tab, 'elevation', name);
    const before = await placeOf(tab);
    await swipe(client, [[at, { x: at.x + 50, y: at.y - 30 }]]);
    await expect.poll(() => placeOf(tab)).not.toEqual(before);
    const say = tab.locator('[data-testid="verdict-top"] .say');
    const panel = (await tab.locator('.panel').boundingBox())!;
    const sentence = (await say.boundingBox())!;
    expect(sentence.y).toBeGreaterThan(panel.y);
    expect(sentence.y + sentence.height).toBeLessThan(panel.y + panel.height);
    await undo(tab);
    expect(await placeOf(tab)).toEqual(before);
  });

  test('two fingers zoom and pan, one on nothing pans', async () => {
    const before = await view(tab);
    const middle = { x: before.x + 60, y: before.y };
    const at = (dx: number, dy = 0): Spot => ({ x: middle.x + dx, y: middle.y + dy });
    await swipe(client, [
      [at(-40), at(-80)],
      [at(40), at(80)],
    ]);
    const pinched = await view(tab);
    expect(pinched.spanPx / before.spanPx).toBeCloseTo(2, 1);
    const box = (await tab.locator('#drawing-elevation').boundingBox())!;
    const corner = { x: box.x + 60, y: box.y + box.height - 16 };
    await swipe(client, [[corner, { x: corner.x + 44, y: corner.y - 20 }]]);
    const panned = await view(tab);
    expect(panned.x - pinched.x).toBeCloseTo(44, 0);
    expect(panned.y - pinched.y).toBeCloseTo(-20, 0);
    await tab.getByRole('button', { name: 'Fit, elevation' }).tap();
    expect((await view(tab)).spanPx).toBeCloseTo(before.spanPx, 1);
  });
});

test('no error reached the console', () => {
  expect(desk.faults).toEqual([]);
});

/** A picture of a plan in a real browser: brought in without what it told, scaled, faded, kept; bad files change nothing. */
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { choose, field, figure, selectedTitle, swipe, toFront, undo } from './hands';
import { openDesk, settled, visit } from './page';
import { partsOf, taggedJpeg, taggedPng, tellsSecrets } from './taggedPictures';

const desk = openDesk();
let page: Page;
beforeAll(async () => {
  page = desk.page;
  await toFront(page, 'plan');
});

/** A drawn plan as a file: a frame, a wall and words, black on white. */
const drawnPlan = async (kind: string, widthPx: number, heightPx: number): Promise<Buffer> =>
  Buffer.from(
    await page.evaluate(
      async ([type, width, height]) => {
        const canvas = document.createElement('canvas');
        [canvas.width, canvas.height] = [width, height];
        const ink = canvas.getContext('2d')!;
        ink.fillStyle = '#fff';
        ink.fillRect(0, 0, width, height);
        ink.lineWidth = 6;
        ink.strokeRect(40, 40, width - 80, height - 80);
        const file = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, type));
        return [...new Uint8Array(await file!.arrayBuffer())];
      },
      [kind, widthPx, heightPx] as const,
    ),
  );

interface StoredPicture {
  image: string;
  widthPx: number;
  heightPx: number;
  metresPerPixel: number;
  opacity?: number;
}
/** Pictures of the scene as the browser keeps it. */
const stored = async (): Promise<StoredPicture[]> =>
  page.evaluate(
    () =>
      new Promise<StoredPicture[]>((resolve, reject) => {
        const opening = indexedDB.open('farsun');
        opening.onerror = () => reject(opening.error as Error);
        opening.onsuccess = () => {
          const reading = opening.result.transaction('scenes').objectStore('scenes').get('open');
          reading.onsuccess = () => {
            opening.result.close();
            const { text } = reading.result as { text: string };
            const { pictures } = JSON.parse(text) as { pictures?: Record<string, StoredPicture> };
            resolve(Object.values(pictures ?? {}));
          };
        };
      }),
  );
const bytesOf = ({ image }: StoredPicture): Buffer => Buffer.from(image.split(',')[1]!, 'base64');

async function bringIn(name: string, buffer: Buffer): Promise<void> {
  await page.getByRole('radio', { name: 'Draw', exact: true }).click();
  const asked = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Bring in a plan picture' }).click();
  await (await asked).setFiles({ name, mimeType: 'application/octet-stream', buffer });
}
/** Drops a file on the plan, as the browser would. */
const dropped = (name: string, buffer: Buffer): Promise<void> =>
  page.locator('#drawing-plan').evaluate(
    (element, { fileName, bytes }) => {
      const data = new DataTransfer();
      data.items.add(new File([Uint8Array.from(bytes)], fileName));
      const box = element.getBoundingClientRect();
      const at = { clientX: box.left + box.width / 2, clientY: box.top + box.height / 2 };
      const init = { dataTransfer: data, bubbles: true, cancelable: true, ...at };
      element.dispatchEvent(new DragEvent('dragover', init));
      element.dispatchEvent(new DragEvent('drop', init));
    },
    { fileName: name, bytes: [...buffer] },
  );
const notices = (): Promise<string> => page.locator('.notices').innerText();
const undoWords = (): Promise<string | null> =>
  page.locator('header.top').getByRole('button', { name: /^Undo/ }).getAttribute('aria-label');
const listed = (): Promise<number> => page.getByRole('option', { name: /^Plan picture/ }).count();

describe('what a picture told is gone', () => {
  test('a photograph with a place, words and a turn is stored upright and without them', async () => {
    const file = taggedJpeg(await drawnPlan('image/jpeg', 800, 600));
    expect(tellsSecrets(file)).toBe(true);
    expect(partsOf(file)).toEqual(expect.arrayContaining(['e1', 'fe']));
    await bringIn('site.jpg', file);
    await expect.poll(() => selectedTitle(page)).toBe('Selected: Plan picture');
    await expect.poll(async () => (await stored()).length).toBe(1);
    const [kept] = await stored();
    // Orientation 6 lies on its side: turned upright, 800 x 600 is 600 x 800.
    expect([kept!.widthPx, kept!.heightPx]).toEqual([600, 800]);
    const bytes = bytesOf(kept!);
    expect(bytes.subarray(0, 3)).toEqual(Buffer.from([0xff, 0xd8, 0xff]));
    expect(tellsSecrets(bytes)).toBe(false);
    // Tables, the frame, and at most the plain JFIF head are left: no EXIF (e1), no profile (e2), no comment (fe).
    expect(partsOf(bytes).filter((part) => !['e0', 'db', 'c0', 'c2', 'c4', 'dd'].includes(part))).toEqual([]);
    await undo(page);
    expect(await listed()).toBe(0);
  });

  test('a PNG with a text chunk keeps its pixels and loses the words', async () => {
    const file = taggedPng(await drawnPlan('image/png', 640, 480));
    expect(partsOf(file)).toContain('tEXt');
    await bringIn('site.png', file);
    await expect.poll(async () => (await stored()).length).toBe(1);
    const bytes = bytesOf((await stored())[0]!);
    expect(new Set(partsOf(bytes))).toEqual(new Set(['IHDR', 'IDAT', 'IEND']));
    expect(tellsSecrets(bytes)).toBe(false);
    await undo(page);
  });
});

describe('by drop, by points, by figures', () => {
  test('a large one dropped on the plan is scaled down, and that is said', async () => {
    await dropped('large.png', await drawnPlan('image/png', 4096, 1024));
    await expect.poll(notices).toContain('scaled down from 4096 x 1024 px to 2048 x 512 px');
    expect(await selectedTitle(page)).toBe('Selected: Plan picture');
  });

  test('two presses and a true distance set the scale, in one step', async () => {
    const before = await figure(page, 'Wide on the plan');
    const box = (await page.locator('#drawing-plan').boundingBox())!;
    const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    await page.mouse.click(at.x - 100, at.y);
    await page.mouse.click(at.x + 60, at.y);
    const now = Number(/scale ([\d.]+)/.exec(await page.locator('.draw-strip').innerText())![1]);
    await field(page, 'True distance').fill('3+1');
    await field(page, 'True distance').press('Enter');
    await page.getByRole('button', { name: 'Set scale' }).click();
    // Fields and strip show centimetres: half of one in each of three figures.
    const expected = (before * 4) / now;
    const doubtM = expected * (0.005 / before + 0.005 / now) + 0.005;
    expect(Math.abs((await figure(page, 'Wide on the plan')) - expected)).toBeLessThanOrEqual(doubtM);
    await undo(page);
    expect(await figure(page, 'Wide on the plan')).toBe(before);
  });

  test('the typed twin: metres per pixel, place, turn; arrows move it; a drag moves it', async () => {
    await field(page, 'Metres per pixel').fill('0.01');
    await field(page, 'Metres per pixel').press('Enter');
    expect(await figure(page, 'Wide on the plan')).toBe(20.48); // 2048 px of a centimetre
    await page.getByRole('button', { name: 'Done', exact: true }).click();
    const before = await figure(page, 'East');
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Shift+ArrowRight');
    expect(await figure(page, 'East')).toBeCloseTo(before + 0.1, 6);
    await page.getByRole('button', { name: 'Fit, plan' }).click();
    const box = (await page.locator('#drawing-plan').boundingBox())!;
    const north = await figure(page, 'North');
    // The lower part of the sheet, where neither walls nor lamps lie over it.
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('ArrowDown');
    const note = await page.evaluate(() => {
      const { x, y } = document.querySelector<HTMLElement>('.drag-note')!.dataset;
      return { x: Number(x), y: Number(y) };
    });
    const middle = { x: box.x + note.x, y: box.y + note.y };
    await page.mouse.move(middle.x - 60, middle.y + 40);
    await page.mouse.down();
    await page.mouse.move(middle.x - 60, middle.y + 70, { steps: 4 });
    await page.mouse.up();
    expect(await figure(page, 'North')).toBeLessThan(north - 0.05);
    await undo(page);
    expect(await figure(page, 'North')).toBeCloseTo(north - 0.01, 6);
    await undo(page);
  });

  test('it is faded and hidden by one step each, and comes back with a reload', async () => {
    await field(page, 'Opacity').fill('30');
    await field(page, 'Opacity').press('Enter');
    await page.getByText('Shown on the plan').click();
    expect(await page.getByRole('option', { name: /^Plan picture/ }).innerText()).toContain('hidden');
    await undo(page);
    await expect.poll(async () => (await stored())[0]?.opacity).toBe(0.3);
    await page.reload();
    await settled(page);
    await toFront(page, 'plan');
    await choose(page, 'Plan picture');
    expect(await figure(page, 'Opacity')).toBe(30);
    expect(await figure(page, 'Metres per pixel')).toBe(0.01);
  });

  test('removed and brought back', async () => {
    await page.locator('#drawing-plan').focus();
    await page.keyboard.press('Delete');
    expect(await listed()).toBe(0);
    await undo(page);
    expect(await listed()).toBe(1);
  });
});

describe('what is no picture', () => {
  test.each([
    ['office.svg', '<svg xmlns="http://www.w3.org/2000/svg"/>', 'office.svg is an SVG drawing'],
    ['office.png', '%PDF-1.7', 'office.png is a PDF'],
    ['office.jpg', '\xff\xd8\xff\xe0 cut', 'office.jpg is a JPEG that breaks off before its size'],
  ])('%s is refused in one line and changes nothing', async (name, text, said) => {
    const before = await undoWords();
    await dropped(name, Buffer.from(text, 'latin1'));
    await expect.poll(notices).toContain(said);
    const lines = await page.locator('.notice[data-kind="fault"]').last().locator('p').allInnerTexts();
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(/Nothing was brought in\.$/);
    expect(await undoWords()).toBe(before);
  });

  test('a picture whose pixels are damaged is refused as well', async () => {
    const whole = await drawnPlan('image/png', 100, 100);
    const before = await undoWords();
    await dropped('torn.png', Buffer.concat([whole.subarray(0, 40), Buffer.from('not a picture any more')]));
    await expect.poll(notices).toContain('torn.png is damaged');
    expect(await undoWords()).toBe(before);
  });
});

test('a storage too full for the picture is said aloud, with a way to keep it', async () => {
  const full = await visit(desk.stage, {}, () => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (value: unknown, key?: IDBValidKey) {
      if (JSON.stringify(value).includes('data:image')) throw new DOMException('', 'QuotaExceededError');
      return put.call(this, value, key);
    };
  });
  const buffer = await drawnPlan('image/png', 300, 200);
  await toFront(full.page, 'plan');
  await full.page.getByRole('radio', { name: 'Draw', exact: true }).click();
  const asked = full.page.waitForEvent('filechooser');
  await full.page.getByRole('button', { name: 'Bring in a plan picture' }).click();
  await (await asked).setFiles({ name: 'site.png', mimeType: 'image/png', buffer });
  const notice = full.page.locator('.notice[data-kind="fault"]');
  await notice.waitFor();
  expect(await notice.innerText()).toContain('won’t store the scene: its space is full');
  expect(await notice.getByRole('button', { name: 'Keep a copy' }).count()).toBe(1);
  expect(await full.page.getByRole('option', { name: /^Plan picture/ }).count()).toBe(1);
  await full.close();
});

test('by finger: two taps and a distance scale it on a tablet', async () => {
  const tablet = await visit(desk.stage, { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
  const tab = tablet.page;
  const buffer = await drawnPlan('image/webp', 300, 200);
  await toFront(tab, 'plan');
  await tab.getByRole('radio', { name: 'Draw', exact: true }).tap();
  const asked = tab.waitForEvent('filechooser');
  await tab.getByRole('button', { name: 'Bring in a plan picture' }).tap();
  await (await asked).setFiles({ name: 'site.webp', mimeType: 'image/webp', buffer });
  await expect.poll(() => selectedTitle(tab)).toBe('Selected: Plan picture');
  const before = await figure(tab, 'Wide on the plan');
  const box = (await tab.locator('#drawing-plan').boundingBox())!;
  await tab.touchscreen.tap(box.x + 150, box.y + 120);
  await tab.touchscreen.tap(box.x + 300, box.y + 120);
  await tab.getByLabel('True distance').fill('2');
  await tab.getByLabel('True distance').press('Enter');
  await tab.getByRole('button', { name: 'Set scale' }).tap();
  await expect.poll(() => figure(tab, 'Wide on the plan')).not.toBe(before);
  // A finger on the chosen picture carries it.
  await tab.getByRole('button', { name: 'Done', exact: true }).tap();
  await tab.getByRole('button', { name: 'Fit, plan' }).tap();
  const north = await figure(tab, 'North');
  await tab.locator('#drawing-plan').focus();
  await tab.keyboard.press('ArrowDown');
  const spot = await tab.evaluate(() => {
    const note = document.querySelector<HTMLElement>('.drag-note')!;
    const host = note.parentElement!.getBoundingClientRect();
    return { x: host.left + Number(note.dataset['x']), y: host.top + Number(note.dataset['y']) };
  });
  const client = await tab.context().newCDPSession(tab);
  await swipe(client, [
    [
      { x: spot.x - 4, y: spot.y + 14 },
      { x: spot.x - 4, y: spot.y + 54 },
    ],
  ]);
  await expect.poll(() => figure(tab, 'North')).toBeLessThan(north - 0.02);
  expect(tablet.faults).toEqual([]);
  await tablet.close();
});

test('no error reached the console', () => expect(desk.faults).toEqual([]));

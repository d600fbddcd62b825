/**
 * How the page bears a scene of 200 walls, 60 lamps and 200 pieces, in a real browser: time to the first drawing, and for
 * each gesture the work of the page's own thread per step, the frames and the longest of them. The browser here may have
 * no graphics card; then its frames say little and the work per step is what to go by.
 *
 *     npm run bench:large -- [--json] [--profile <file.cpuprofile>]
 */
import { writeFileSync } from 'node:fs';
import type { CDPSession, Page } from 'playwright-core';
import { saveScene } from '../src/scene/save';
import { openScene, openStage, settled, visit } from '../tests/browser/page';
import { placeIn, toFront } from '../tests/browser/hands';
import { largeScene } from '../tests/large/largeScene';

const STEPS = 30;
const STEP_PAUSE_MS = 16;
const CALM_MS = 500;

interface Row {
  readonly steps: number;
  readonly scriptMsPerStep: number;
  readonly workMsPerStep: number;
  /** How often any of the drawings was drawn anew. */
  readonly drawingsPerStep: number;
  readonly longestFrameMs: number;
  readonly longestTaskMs: number;
}
interface Watched {
  framesAtMs: number[];
  tasksMs: number[];
  drawings: number;
}
type Watching = Window & { large: Watched };

/** Runs in the page: keeps when frames came and how long the long tasks took. */
function watch(): void {
  const watched: Watched = { framesAtMs: [], tasksMs: [], drawings: 0 };
  (window as unknown as Watching).large = watched;
  const loop = {
    frame(atMs: number): void {
      watched.framesAtMs.push(atMs);
      requestAnimationFrame((next) => loop.frame(next));
    },
  };
  window.addEventListener('DOMContentLoaded', () => requestAnimationFrame((atMs) => loop.frame(atMs)));
  const plainMark = performance.mark.bind(performance);
  performance.mark = (name, options) => {
    if (name === 'farsun-drawn') watched.drawings += 1;
    return plainMark(name, options);
  };
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) watched.tasksMs.push(entry.duration);
  }).observe({ type: 'longtask' });
}

type Counters = Readonly<Record<string, number>>;
async function counters(client: CDPSession): Promise<Counters> {
  const { metrics } = await client.send('Performance.getMetrics');
  return Object.fromEntries(metrics.map(({ name, value }) => [name, value]));
}

/** Does something in steps and reads off what it cost; what follows within a moment of it counts as well. */
async function measured(page: Page, client: CDPSession, steps: number, act: () => Promise<void>): Promise<Row> {
  await page.waitForTimeout(CALM_MS);
  await page.evaluate(() => {
    const { large } = window as unknown as Watching;
    [large.framesAtMs, large.tasksMs, large.drawings] = [[], [], 0];
  });
  const before = await counters(client);
  await act();
  await page.waitForTimeout(CALM_MS);
  const after = await counters(client);
  const { framesAtMs, tasksMs, drawings } = await page.evaluate(() => (window as unknown as Watching).large);
  const spent = (name: string): number => ((after[name] ?? NaN) - (before[name] ?? NaN)) * 1000;
  const gapsMs = framesAtMs.slice(1).map((atMs, i) => atMs - framesAtMs[i]!);
  return {
    steps,
    scriptMsPerStep: spent('ScriptDuration') / steps,
    workMsPerStep: spent('TaskDuration') / steps,
    drawingsPerStep: drawings / steps,
    longestFrameMs: Math.max(0, ...gapsMs),
    longestTaskMs: Math.max(0, ...tasksMs),
  };
}

async function sweep(page: Page, at: { x: number; y: number }): Promise<void> {
  for (let step = 1; step <= STEPS; step += 1) {
    await page.mouse.move(at.x + 12 * Math.sin(step / 5), at.y + step);
    await page.waitForTimeout(STEP_PAUSE_MS);
  }
}

/** Time from handing over the file to the list of its things and a frame with the drawings. */
async function openLarge(page: Page): Promise<number> {
  const text = saveScene(largeScene());
  const startMs = performance.now();
  await openScene(page, 'harbour-stores.json', text);
  await page.getByRole('option', { name: /^L7 / }).waitFor({ state: 'attached' });
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  return performance.now() - startMs;
}

async function gestures(page: Page, client: CDPSession): Promise<Record<string, Row>> {
  const rows: Record<string, Row> = {};
  await toFront(page, 'plan');
  const lamp = await placeIn(page, 'plan', 'L7');
  const box = (await page.locator('#drawing-plan').boundingBox())!;
  const ground = { x: box.x + 12, y: box.y + box.height / 2 };
  const take = async (name: string, steps: number, act: () => Promise<void>): Promise<void> => {
    rows[name] = await measured(page, client, steps, act);
  };
  await take('pointer over the plan', STEPS, () => sweep(page, lamp));
  await take('a lamp dragged', STEPS, async () => {
    await page.mouse.move(lamp.x, lamp.y);
    await page.mouse.down();
    await sweep(page, lamp);
    await page.mouse.up();
  });
  await take('undo', 1, () => page.keyboard.press('Control+z'));
  await take('zoomed by the wheel', STEPS, async () => {
    for (let step = 0; step < STEPS; step += 1) {
      await page.mouse.wheel(0, step < STEPS / 2 ? -60 : 60);
      await page.waitForTimeout(STEP_PAUSE_MS);
    }
  });
  await page.locator('#drawing-plan').focus();
  await page.keyboard.press('0');
  await take('everything in a frame', STEPS, async () => {
    await page.keyboard.down('Shift');
    await page.mouse.move(ground.x, box.y + 8);
    await page.mouse.down();
    for (let step = 1; step <= STEPS; step += 1) {
      const share = step / STEPS;
      await page.mouse.move(ground.x + share * (box.width - 40), box.y + 8 + share * (box.height - 20));
      await page.waitForTimeout(STEP_PAUSE_MS);
    }
    await page.mouse.up();
    await page.keyboard.up('Shift');
  });
  await take('another thing chosen', 5, async () => {
    for (const name of ['L9', 'L3', 'L12', 'L5', 'L2']) {
      await page.getByRole('option', { name: new RegExp(`^${name} `) }).click();
    }
  });
  await page.getByRole('option', { name: /^L7 / }).click();
  await take('a height typed', 1, async () => {
    const height = page.getByLabel('Height', { exact: true }).first();
    await height.fill('2.6');
    await height.press('Enter');
  });
  return rows;
}

async function main(): Promise<void> {
  const words = process.argv.slice(2);
  const profilePath = words.includes('--profile') ? words[words.indexOf('--profile') + 1] : undefined;
  const stage = await openStage(profilePath !== undefined);
  const desk = await visit(stage, { viewport: { width: 1920, height: 1080 } }, watch);
  const { page } = desk;
  const client = await page.context().newCDPSession(page);
  await client.send('Performance.enable');
  if (profilePath !== undefined) {
    await client.send('Profiler.enable');
    await client.send('Profiler.start');
  }
  const openedMs = await openLarge(page);
  const rows = await gestures(page, client);
  if (profilePath !== undefined) {
    const { profile } = await client.send('Profiler.stop');
    writeFileSync(profilePath, JSON.stringify(profile));
  }
  await settled(page).catch(() => undefined);
  await client.send('HeapProfiler.collectGarbage');
  const heapMb = (await counters(client))['JSHeapUsedSize']! / 2 ** 20;
  await desk.close();
  await stage.close();
  if (words.includes('--json')) console.log(JSON.stringify({ openedMs, heapMb, rows }, null, 1));
  else {
    console.log(`opened and drawn ${openedMs.toFixed(0)} ms, heap ${heapMb.toFixed(0)} MB`);
    const short = (row: Row): Record<string, number> =>
      Object.fromEntries(Object.entries(row).map(([name, value]) => [name, Number((value as number).toFixed(1))]));
    console.table(Object.fromEntries(Object.entries(rows).map(([name, row]) => [name, short(row)])));
  }
}

void main();

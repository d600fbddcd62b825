/**
 * How the page bears a scene of 200 walls, 60 lamps and 200 pieces, in a real browser: time to the first drawing, and for
 * each gesture the processor time of the page's own thread per step (of script, and of all its work), the drawings and
 * the longest frame. The browser here may have no graphics card; then its frames say little and the work per step is what
 * to go by. Each figure is the median of the rounds.
 *
 *     npm run bench:large -- [--json] [--demo] [--rounds 3] [--only drag,typed] [--profile <folder>]
 *
 * `--demo` takes the demo scene in the large one's place; `--profile` writes one .cpuprofile a gesture.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CDPSession, Page } from 'playwright-core';
import { saveScene } from '../src/scene/save';
import { openScene, openStage, visit } from '../tests/browser/page';
import { placeIn, toFront, type Spot } from '../tests/browser/hands';
import { largeScene } from '../tests/large/largeScene';

const STEPS = 30;
const STEP_PAUSE_MS = 16;
const CALM_MS = 500;
const HEAP_STEPS = 210;

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

async function sweep(page: Page, at: Spot): Promise<void> {
  for (let step = 1; step <= STEPS; step += 1) {
    await page.mouse.move(at.x + 12 * Math.sin(step / 5), at.y + step);
    await page.waitForTimeout(STEP_PAUSE_MS);
  }
}

/** What the gestures take hold of in the large scene, and in the demo scene. */
interface Subject {
  readonly fileName: string;
  readonly text: () => string;
  readonly lamp: string;
  readonly others: readonly string[];
}
const LARGE: Subject = {
  fileName: 'harbour-stores.json',
  text: () => saveScene(largeScene()),
  lamp: 'L7',
  others: ['L9', 'L3', 'L12', 'L5', 'L2'],
};
const DEMO: Subject = {
  fileName: 'customs-office-shaft.json',
  text: () => readFileSync(new URL('../scenes-demo/customs-office-shaft.json', import.meta.url), 'utf8'),
  lamp: 'L1',
  others: ['N1', 'L1', 'F1', 'N1', 'L1'],
};

const twoFrames = (page: Page): Promise<unknown> =>
  page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
const optionOf = (page: Page, name: string) => page.getByRole('option', { name: new RegExp(`^${name} `) });

/** Time from handing over the file to the list of its things and a frame with the drawings. */
async function open(page: Page, subject: Subject): Promise<number> {
  const text = subject.text();
  const startMs = performance.now();
  await openScene(page, subject.fileName, text);
  await optionOf(page, subject.lamp).waitFor({ state: 'attached' });
  await twoFrames(page);
  return performance.now() - startMs;
}

/** Time from reloading the page, with the scene in the browser's store, to a frame with it. */
async function reload(page: Page, subject: Subject): Promise<number> {
  await page
    .getByRole('status', { name: 'Saved state' })
    .getByText(/^Saved/)
    .waitFor();
  const startMs = performance.now();
  await page.reload({ waitUntil: 'commit' });
  await optionOf(page, subject.lamp).waitFor({ state: 'attached' });
  await twoFrames(page);
  return performance.now() - startMs;
}

interface Gesture {
  readonly name: string;
  readonly steps: number;
  readonly act: (page: Page, at: Places) => Promise<void>;
}
interface Places {
  readonly subject: Subject;
  /** Where the lamp lies on the plan. */
  readonly lamp: Spot;
  readonly box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

async function dragLamp(page: Page, lamp: Spot): Promise<void> {
  await page.mouse.move(lamp.x, lamp.y);
  await page.mouse.down();
  await sweep(page, lamp);
  await page.mouse.up();
}

async function pan(page: Page, { box }: Places): Promise<void> {
  const from = { x: box.x + 8, y: box.y + box.height - 60 };
  await page.keyboard.down(' ');
  await page.mouse.move(from.x, from.y);
  await page.mouse.down({ button: 'middle' });
  for (let step = 1; step <= STEPS; step += 1) {
    const away = step <= STEPS / 2 ? step : STEPS - step;
    await page.mouse.move(from.x + 3 * away, from.y - 2 * away);
    await page.waitForTimeout(STEP_PAUSE_MS);
  }
  await page.mouse.up({ button: 'middle' });
  await page.keyboard.up(' ');
}

async function zoom(page: Page, { lamp }: Places): Promise<void> {
  await page.mouse.move(lamp.x, lamp.y);
  for (let step = 0; step < STEPS; step += 1) {
    await page.mouse.wheel(0, step < STEPS / 2 ? -60 : 60);
    await page.waitForTimeout(STEP_PAUSE_MS);
  }
}

async function frame(page: Page, { box }: Places): Promise<void> {
  await page.keyboard.down('Shift');
  await page.mouse.move(box.x + 12, box.y + 8);
  await page.mouse.down();
  for (let step = 1; step <= STEPS; step += 1) {
    const share = step / STEPS;
    await page.mouse.move(box.x + 12 + share * (box.width - 40), box.y + 8 + share * (box.height - 20));
    await page.waitForTimeout(STEP_PAUSE_MS);
  }
  await page.mouse.up();
  await page.keyboard.up('Shift');
}

async function typeHeight(page: Page): Promise<void> {
  const height = page.getByLabel('Height', { exact: true }).first();
  const metres = Number(await height.inputValue());
  await height.fill((metres + 0.1).toFixed(2));
  await height.press('Enter');
}

async function menu(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('menuitem', { name: 'Copy this setup' }).waitFor();
  await page.keyboard.press('Escape');
}

const GESTURES: readonly Gesture[] = [
  { name: 'pointer over the plan', steps: STEPS, act: (page, { lamp }) => sweep(page, lamp) },
  { name: 'a lamp dragged', steps: STEPS, act: (page, { lamp }) => dragLamp(page, lamp) },
  { name: 'undo', steps: 1, act: (page) => page.keyboard.press('Control+z') },
  { name: 'panned by hand', steps: STEPS, act: pan },
  { name: 'zoomed by the wheel', steps: STEPS, act: zoom },
  { name: 'everything in a frame', steps: STEPS, act: frame },
  {
    name: 'another thing chosen',
    steps: 5,
    act: async (page, { subject }) => {
      for (const name of subject.others) await optionOf(page, name).click();
    },
  },
  { name: 'a menu opened and shut', steps: 1, act: menu },
  { name: 'a height typed', steps: 1, act: typeHeight },
];

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)] ?? NaN;
const medianRow = (rows: readonly Row[]): Row => {
  const of = (name: keyof Row): number => median(rows.map((row) => row[name]));
  return {
    steps: of('steps'),
    scriptMsPerStep: of('scriptMsPerStep'),
    workMsPerStep: of('workMsPerStep'),
    drawingsPerStep: of('drawingsPerStep'),
    longestFrameMs: of('longestFrameMs'),
    longestTaskMs: of('longestTaskMs'),
  };
};

/** Every gesture in as many rounds, each from the same view with the same lamp chosen. */
async function gestures(
  page: Page,
  client: CDPSession,
  subject: Subject,
  rounds: number,
  only: readonly string[],
  profileFolder: string | undefined,
): Promise<Record<string, Row>> {
  const rows: Record<string, Row[]> = {};
  await toFront(page, 'plan');
  const lamp = await placeIn(page, 'plan', subject.lamp);
  const box = (await page.locator('#drawing-plan').boundingBox())!;
  const asked = GESTURES.filter(({ name }) => only.length === 0 || only.some((word) => name.includes(word)));
  for (let round = 0; round < rounds; round += 1) {
    for (const { name, steps, act } of asked) {
      await optionOf(page, subject.lamp).click();
      await page.locator('#drawing-plan').focus();
      await page.keyboard.press('0');
      if (profileFolder !== undefined) await client.send('Profiler.start');
      const row = await measured(page, client, steps, () => act(page, { subject, lamp, box }));
      (rows[name] ??= []).push(row);
      if (profileFolder === undefined) continue;
      const { profile } = await client.send('Profiler.stop');
      writeFileSync(join(profileFolder, `${name.replaceAll(' ', '-')}.cpuprofile`), JSON.stringify(profile));
    }
  }
  return Object.fromEntries(Object.entries(rows).map(([name, taken]) => [name, medianRow(taken)]));
}

async function heapMb(client: CDPSession): Promise<number> {
  await client.send('HeapProfiler.collectGarbage');
  return (await counters(client))['JSHeapUsedSize']! / 2 ** 20;
}

/** Heap after a first drag, and after so many more steps of dragging that what they leave behind would show. */
async function growth(page: Page, client: CDPSession, lamp: Spot): Promise<{ beforeMb: number; afterMb: number }> {
  await dragLamp(page, lamp);
  await page.keyboard.press('Control+z');
  await page.waitForTimeout(CALM_MS);
  const beforeMb = await heapMb(client);
  for (let steps = 0; steps < HEAP_STEPS; steps += STEPS) {
    await dragLamp(page, lamp);
    await page.keyboard.press('Control+z');
    await page.waitForTimeout(CALM_MS);
  }
  return { beforeMb, afterMb: await heapMb(client) };
}

async function main(): Promise<void> {
  const words = process.argv.slice(2);
  const after = (word: string): string | undefined =>
    words.includes(word) ? words[words.indexOf(word) + 1] : undefined;
  const profileFolder = after('--profile');
  const only = after('--only')?.split(',') ?? [];
  const subject = words.includes('--demo') ? DEMO : LARGE;
  const stage = await openStage(profileFolder !== undefined);
  const desk = await visit(stage, { viewport: { width: 1920, height: 1080 } }, watch);
  const { page } = desk;
  const client = await page.context().newCDPSession(page);
  // Processor time, not the clock's: what others do on this machine does not count.
  await client.send('Performance.enable', { timeDomain: 'threadTicks' });
  if (profileFolder !== undefined) {
    mkdirSync(profileFolder, { recursive: true });
    await client.send('Profiler.enable');
  }
  const openedMs = await open(page, subject);
  const rows = await gestures(page, client, subject, Number(after('--rounds') ?? 3), only, profileFolder);
  const heap = only.length > 0 ? null : await growth(page, client, await placeIn(page, 'plan', subject.lamp));
  const reloadedMs = only.length > 0 ? null : await reload(page, subject);
  await desk.close();
  await stage.close();
  if (words.includes('--json')) return console.log(JSON.stringify({ openedMs, reloadedMs, heap, rows }, null, 1));
  console.log(`opened and drawn ${openedMs.toFixed(0)} ms, reloaded and drawn ${reloadedMs?.toFixed(0) ?? '-'} ms`);
  if (heap) {
    console.log(`heap ${heap.beforeMb.toFixed(1)} MB, after ${HEAP_STEPS} steps more ${heap.afterMb.toFixed(1)} MB`);
  }
  const short = (row: Row): Record<string, number> =>
    Object.fromEntries(Object.entries(row).map(([name, value]) => [name, Number((value as number).toFixed(1))]));
  console.table(Object.fromEntries(Object.entries(rows).map(([name, row]) => [name, short(row)])));
}

void main();

/**
 * How soon the picture follows the hand: a lamp is dragged on the plan of the demo scene in a real browser, and the time
 * from each pointer move to the coarse and to the sharp map on the elevation is taken in the page itself.
 *
 *     npm run bench:hand -- [--json] [--profile <file.cpuprofile>]
 */
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { openStage, settled, visit, type Visit } from '../tests/browser/page';

const SIZES = [
  [1280, 720],
  [1920, 1080],
] as const;
const SINGLE_MOVES = 8;
const SWEEP_MOVES = 90;
const SWEEP_PAUSE_MS = 16;

interface Drawn {
  readonly kind: string;
  readonly revision: number;
  readonly rough: boolean;
  readonly atMs: number;
}
interface Watched {
  drawn: Drawn[];
  movesAtMs: number[];
  framesAtMs: number[];
}
type Watching = Window & { hand: Watched };

/** Runs in the page: keeps when the pointer moved, when maps were on the screen, and when frames came. */
function watch(): void {
  const watched: Watched = { drawn: [], movesAtMs: [], framesAtMs: [] };
  (window as unknown as Watching).hand = watched;
  const plainMark = performance.mark.bind(performance);
  performance.mark = (name, options) => {
    const mark = plainMark(name, options);
    if (name === 'farsun-drawn') {
      const detail = options?.detail as Omit<Drawn, 'atMs'>;
      // The frame after the next one: by then the picture of this one is on the screen.
      requestAnimationFrame(() => requestAnimationFrame((atMs) => watched.drawn.push({ ...detail, atMs })));
    }
    return mark;
  };
  window.addEventListener('pointermove', (event) => watched.movesAtMs.push(event.timeStamp), true);
  // A method: runners that keep the names of functions wrap others in a helper that the page does not have.
  const loop = {
    frame(atMs: number): void {
      watched.framesAtMs.push(atMs);
      requestAnimationFrame((next) => loop.frame(next));
    },
  };
  window.addEventListener('DOMContentLoaded', () => requestAnimationFrame((atMs) => loop.frame(atMs)));
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
const read = (page: Page): Promise<Watched> => page.evaluate(() => (window as unknown as Watching).hand);
const forget = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const { hand } = window as unknown as Watching;
    [hand.drawn, hand.movesAtMs, hand.framesAtMs] = [[], [], []];
  });

/** Where the lamp stands on the plan: a nudge leaves a note beside it. */
async function lampOnPlan(page: Page): Promise<{ x: number; y: number }> {
  await page.getByRole('button', { name: /^Plan.*bring to the front$/ }).click();
  await page.locator('.panel [role="option"], .panel [role="row"]').filter({ hasText: 'L1' }).first().click();
  await page.locator('#drawing-plan').focus();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowDown');
  return page.locator('.drag-note').evaluate((note) => {
    const box = note.parentElement!.getBoundingClientRect();
    return { x: box.left + Number(note.dataset['x']), y: box.top + Number(note.dataset['y']) };
  });
}

async function measure({ page }: Visit): Promise<Record<string, number>> {
  const at = await lampOnPlan(page);
  await settled(page);
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  const coarseMs: number[] = [];
  const sharpMs: number[] = [];
  for (let move = 1; move <= SINGLE_MOVES; move += 1) {
    await page.waitForTimeout(400);
    await settled(page);
    await page.waitForTimeout(200);
    const newest = Math.max(0, ...(await read(page)).drawn.map((one) => one.revision));
    await forget(page);
    await page.mouse.move(at.x + 2, at.y + 4 + move * 3);
    await page.waitForTimeout(400);
    await settled(page);
    await page.waitForTimeout(400);
    const { drawn, movesAtMs } = await read(page);
    const startMs = movesAtMs[0] ?? NaN;
    const map = drawn.filter((one) => one.kind === 'elevation' && one.revision > newest);
    coarseMs.push((map[0]?.atMs ?? NaN) - startMs);
    sharpMs.push((map.find((one) => !one.rough)?.atMs ?? NaN) - startMs);
  }
  await forget(page);
  for (let move = 0; move < SWEEP_MOVES; move += 1) {
    await page.mouse.move(at.x + 10 * Math.sin(move / 9), at.y + 30 + 24 * Math.cos(move / 9));
    await page.waitForTimeout(SWEEP_PAUSE_MS);
  }
  const { drawn, framesAtMs, movesAtMs } = await read(page);
  await page.mouse.up();
  await settled(page);
  const maps = drawn.filter(
    (one, i, all) =>
      one.kind === 'elevation' && all.findIndex((o) => o.kind === 'elevation' && o.revision === one.revision) === i,
  );
  const sweepMs = (framesAtMs.at(-1) ?? 0) - (movesAtMs[0] ?? 0);
  const gapsMs = framesAtMs.slice(1).map((atMs, i) => atMs - framesAtMs[i]!);
  return {
    coarseMs: median(coarseMs),
    coarseWorstMs: Math.max(...coarseMs),
    sharpMs: median(sharpMs),
    sharpWorstMs: Math.max(...sharpMs),
    sweepMapsPerSecond: (maps.length * 1000) / sweepMs,
    sweepFramesPerSecond: (framesAtMs.length * 1000) / sweepMs,
    sweepWorstFrameMs: Math.max(...gapsMs),
  };
}

async function main(): Promise<void> {
  const words = process.argv.slice(2);
  const profilePath = words.includes('--profile') ? words[words.indexOf('--profile') + 1] : undefined;
  const stage = await openStage(profilePath !== undefined);
  const rows: Record<string, Record<string, number>> = {};
  for (const [width, height] of SIZES) {
    const desk = await visit(stage, { viewport: { width, height } }, watch);
    const client = profilePath ? await desk.page.context().newCDPSession(desk.page) : null;
    await client?.send('Profiler.enable');
    await client?.send('Profiler.start');
    rows[`${width} x ${height}`] = await measure(desk);
    if (client) {
      const { profile } = await client.send('Profiler.stop');
      writeFileSync(`${width}-${profilePath}`, JSON.stringify(profile));
    }
    await desk.close();
  }
  await stage.close();
  if (words.includes('--json')) console.log(JSON.stringify(rows, null, 1));
  else
    console.table(
      Object.fromEntries(
        Object.entries(rows).map(([size, row]) => [
          size,
          Object.fromEntries(Object.entries(row).map(([name, value]) => [name, Number(value.toFixed(0))])),
        ]),
      ),
    );
}

void main();

/** The production build in a real browser: one server and one browser for all checks of a file. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { build, preview, type PreviewServer } from 'vite';
import { ensureBrowser, launchOptions } from '../../scripts/ensure-browser.mjs';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface Stage {
  readonly address: string;
  readonly browser: Browser;
  close(): Promise<void>;
}

/**
 * Builds into a folder of its own, serves it and starts a browser.
 * @param readable keeps the names of functions, for profiles
 */
export async function openStage(readable = false): Promise<Stage> {
  const outDir = mkdtempSync(join(tmpdir(), 'farsun-page-'));
  // What is served to people: the test runner's own setting would build the page of a developer.
  const { NODE_ENV: own } = process.env;
  process.env['NODE_ENV'] = 'production';
  await build({
    root: ROOT,
    logLevel: 'error',
    build: { outDir, emptyOutDir: true, ...(readable && { minify: false }) },
  });
  if (own !== undefined) process.env['NODE_ENV'] = own;
  const server: PreviewServer = await preview({
    root: ROOT,
    configFile: false,
    logLevel: 'error',
    base: './',
    build: { outDir },
    preview: { host: '127.0.0.1', port: 0 },
  });
  const browser = await chromium.launch(launchOptions(await ensureBrowser()));
  const address = server.resolvedUrls?.local[0];
  if (!address) throw new Error('the preview server has no address');
  return {
    address,
    browser,
    async close() {
      await browser.close();
      await server.close();
      rmSync(outDir, { recursive: true, force: true });
    },
  };
}

export interface Visit {
  readonly page: Page;
  /** Errors of the console, of scripts and of the content policy, as they come. */
  readonly faults: string[];
  close(): Promise<void>;
}

/** @param before runs in the page before its own scripts */
export async function visit(stage: Stage, options: BrowserContextOptions = {}, before?: () => void): Promise<Visit> {
  const context = await stage.browser.newContext({
    viewport: { width: 1280, height: 720 },
    colorScheme: 'dark',
    acceptDownloads: true,
    ...options,
  });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  page.on('pageerror', (error) => faults.push(error.message));
  if (before) await page.addInitScript(before);
  await page.goto(stage.address);
  await settled(page);
  return { page, faults, close: () => context.close() };
}

/** The page that the tests of one file share, and the stage that it stands on; there once the file's tests run. */
export interface Desk extends Omit<Visit, 'close'> {
  readonly stage: Stage;
}

/**
 * Opens a stage and one page before the tests of a file, and closes both behind them.
 * @param options of the page; null for a file whose tests open pages of their own
 * @param before runs in the page before its own scripts
 */
export function openDesk(options: BrowserContextOptions | null = {}, before?: () => void): Desk {
  let stage: Stage | undefined;
  let open: Visit | undefined;
  beforeAll(async () => {
    stage = await openStage();
    if (options) open = await visit(stage, options, before);
  });
  afterAll(async () => {
    await open?.close();
    await stage?.close();
  });
  const there = <T>(value: T | undefined): T => {
    if (value === undefined) throw new Error('the tests of this file have not begun, or have no page of their own');
    return value;
  };
  return {
    get stage() {
      return there(stage);
    },
    get page() {
      return there(open).page;
    },
    get faults() {
      return there(open).faults;
    },
  };
}

/** Opens a scene from a file, through the page's own button. */
export async function openScene(page: Page, name: string, text: string): Promise<void> {
  const asked = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open', exact: true }).click();
  const chooser = await asked;
  await chooser.setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
  await page.getByText(`Opened: ${name}`).waitFor();
}

/** Waits until the map is sharp and the verdict belongs to the scene that is shown. */
export async function settled(page: Page): Promise<void> {
  await page.waitForSelector('[data-settled="yes"]', { timeout: 40_000 });
}

/** What gives the shaft away, without the mend that is said behind it once it is found. */
export const verdictText = (page: Page): Promise<string> => page.getByTestId('tell').innerText();

/** A checksum of what a drawing shows. */
export async function drawingSum(page: Page, kind: string): Promise<string> {
  const picture = await page.locator(`#drawing-${kind}`).screenshot();
  let sum = 0;
  for (const byte of picture) sum = (sum * 31 + byte) >>> 0;
  return `${picture.length} ${sum}`;
}

/** Runs in the page: the text of the scene that the browser keeps. */
export function storedText(): Promise<string> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open('farsun');
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
      const reading = opening.result.transaction('scenes').objectStore('scenes').get('open');
      reading.onsuccess = () => {
        opening.result.close();
        resolve((reading.result as { text?: string } | undefined)?.text ?? '');
      };
      reading.onerror = () => reject(reading.error);
    };
  });
}

/** The production build in a real browser: one server for all files, one browser for all checks of a file. */
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { afterAll, beforeAll, inject } from 'vitest';
import { ensureBrowser, launchOptions } from '../../scripts/ensure-browser.mjs';
import { servePage } from './servedPage';

export interface Stage {
  readonly address: string;
  readonly browser: Browser;
  close(): Promise<void>;
}

/**
 * A page built and served for this stage alone, and a browser: for what runs outside the tests.
 * @param readable keeps the names of functions, for profiles
 */
export async function openStage(readable = false): Promise<Stage> {
  const served = await servePage(readable);
  const browser = await chromium.launch(launchOptions(await ensureBrowser()));
  return {
    address: served.address,
    browser,
    async close() {
      await browser.close();
      await served.close();
    },
  };
}

/** The page that was built before all tests, in a browser of its own. */
async function openSharedStage(): Promise<Stage> {
  const browser = await chromium.launch(launchOptions(inject('foundBrowser')));
  return { address: inject('pageAddress'), browser, close: () => browser.close() };
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
    stage = await openSharedStage();
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

/** The production build in a real browser: one server and one browser for all checks of a file. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
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
  await build({
    root: ROOT,
    logLevel: 'error',
    build: { outDir, emptyOutDir: true, ...(readable && { minify: false }) },
  });
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

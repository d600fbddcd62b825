/** The production build behind a server of its own. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, preview } from 'vite';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface ServedPage {
  readonly address: string;
  close(): Promise<void>;
}

/**
 * Builds into a folder of its own and serves it.
 * @param readable keeps the names of functions, for profiles
 */
export async function servePage(readable = false): Promise<ServedPage> {
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
  const server = await preview({
    root: ROOT,
    configFile: false,
    logLevel: 'error',
    base: './',
    build: { outDir },
    preview: { host: '127.0.0.1', port: 0 },
  });
  const address = server.resolvedUrls?.local[0];
  if (!address) throw new Error('the preview server has no address');
  return {
    address,
    async close() {
      await server.close();
      rmSync(outDir, { recursive: true, force: true });
    },
  };
}

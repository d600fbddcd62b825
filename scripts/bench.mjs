/**
 * The bench on what ships: the kernel put together by the page's own bundler with the page's own settings, then run, in a
 * process of its own: what the bundler leaves in memory would be swept through again and again. The options are those of
 * tests/bench/main.ts.
 */
import { spawnSync } from 'node:child_process';
import { rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, loadConfigFromFile } from 'vite';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
// Beside its sources, which find their data from where they lie.
const folder = join(root, 'tests', 'bench');
const name = `built-${process.pid}.mjs`;

const page = await loadConfigFromFile({ command: 'build', mode: 'production' }, join(root, 'vite.config.ts'));
const { target, rolldownOptions } = page.config.build;
await build({
  root,
  configFile: false,
  publicDir: false,
  logLevel: 'error',
  ssr: { noExternal: true, external: ['vite'] },
  build: {
    target,
    ssr: join(folder, 'main.ts'),
    outDir: folder,
    emptyOutDir: false,
    rolldownOptions: { output: { ...rolldownOptions.output, entryFileNames: name, codeSplitting: false } },
  },
});
try {
  const { status } = spawnSync(process.execPath, [join(folder, name), ...process.argv.slice(2)], { stdio: 'inherit' });
  process.exitCode = status ?? 1;
} finally {
  rmSync(join(folder, name), { force: true });
}

/**
 * Finds a Chromium that really starts, in this order: FARSUN_BROWSER, the system's, playwright's cache, the one shipped
 * through npm (tools/browser), apt as root. Each candidate is checked by starting it.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync } from 'node:fs';
import { homedir, platform } from 'node:os';
import { delimiter, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const LAUNCH_ARGS = [
  '--use-angle=swiftshader',
  '--disable-quic',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];
const SYSTEM_NAMES = [
  'chromium-headless-shell',
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'microsoft-edge',
  'microsoft-edge-stable',
];

/** Options for playwright's `chromium.launch`. */
export const launchOptions = ({ executablePath, env }) => ({
  executablePath,
  ...(env && { env: { ...process.env, ...env } }),
  chromiumSandbox: false, // as root the sandbox cannot start
  args: LAUNCH_ARGS,
});

/** Null if the candidate starts, else the first line of what went wrong. */
async function startFault(candidate) {
  try {
    const browser = await chromium.launch({ ...launchOptions(candidate), timeout: 30_000 });
    await browser.close();
    return null;
  } catch (error) {
    return String(error?.message ?? error).split('\n')[0];
  }
}

function* systemCandidates() {
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  for (const name of SYSTEM_NAMES) for (const folder of folders) yield join(folder, name);
  const apps = {
    darwin: [
      '/Applications/Chromium.app/Contents/MacOS/Chromium',
      '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
      '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
    ],
    win32: [process.env.PROGRAMFILES, process.env['PROGRAMFILES(X86)'], process.env.LOCALAPPDATA]
      .filter(Boolean)
      .flatMap((folder) => [
        join(folder, 'Google/Chrome/Application/chrome.exe'),
        join(folder, 'Microsoft/Edge/Application/msedge.exe'),
      ]),
  };
  yield* apps[platform()] ?? [];
}

function* playwrightCandidates() {
  yield chromium.executablePath();
  const caches = { darwin: 'Library/Caches/ms-playwright', win32: 'AppData/Local/ms-playwright' };
  const cache = process.env.PLAYWRIGHT_BROWSERS_PATH ?? join(homedir(), caches[platform()] ?? '.cache/ms-playwright');
  if (!existsSync(cache)) return;
  const places = [
    'chrome-linux/headless_shell',
    'chrome-headless-shell-linux64/chrome-headless-shell',
    'chrome-linux/chrome',
    'chrome-linux64/chrome',
  ];
  for (const folder of readdirSync(cache)) for (const place of places) yield join(cache, folder, place);
}

/** The npm-shipped build: Linux x64 with glibc. Unpacked into the project's cache, not into the shared temp folder. */
function npmCandidates() {
  if (platform() !== 'linux' || process.arch !== 'x64') return [];
  const folder = join(ROOT, 'tools/browser');
  const cache = join(ROOT, '.cache/browser');
  mkdirSync(cache, { recursive: true });
  if (!existsSync(join(folder, 'node_modules'))) {
    const installed = spawnSync('npm', ['ci', '--no-audit', '--no-fund'], { cwd: folder, stdio: 'ignore' });
    if (installed.status !== 0) return [];
  }
  const script = "import c from '@sparticuz/chromium'; process.stdout.write(await c.executablePath())";
  const env = { ...process.env, TMPDIR: cache, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' };
  const unpacked = spawnSync(process.execPath, ['--input-type=module', '-e', script], {
    cwd: folder,
    encoding: 'utf8',
    env,
  });
  if (unpacked.status !== 0 || !unpacked.stdout) return [];
  const executablePath = unpacked.stdout;
  return [{ executablePath }, { executablePath, env: { LD_LIBRARY_PATH: join(cache, 'al2023/lib') } }];
}

function aptCandidates() {
  if (platform() !== 'linux' || process.getuid?.() !== 0) return [];
  for (const args of [['update'], ['install', '-y', '--no-install-recommends', 'chromium-headless-shell']]) {
    if (spawnSync('apt-get', args, { stdio: 'ignore' }).status !== 0) return [];
  }
  return [{ executablePath: '/usr/bin/chromium-headless-shell' }];
}

/**
 * @returns {Promise<{ executablePath: string, env?: Record<string, string> }>} a browser that has been started once
 * @throws {Error} that names every way out, if none starts
 */
export async function ensureBrowser() {
  const named = process.env.FARSUN_BROWSER;
  if (named) {
    const fault = await startFault({ executablePath: named });
    if (fault) throw new Error(`FARSUN_BROWSER is ${named}, which does not start: ${fault}`);
    return { executablePath: named };
  }
  const local = [...systemCandidates(), ...playwrightCandidates()].filter((path) => existsSync(path));
  for (const executablePath of local) if (!(await startFault({ executablePath }))) return { executablePath };
  for (const fetch of [npmCandidates, aptCandidates]) {
    for (const candidate of fetch()) if (!(await startFault(candidate))) return candidate;
  }
  throw new Error(
    'No browser starts. Any one of these helps: set FARSUN_BROWSER to a Chromium; install chromium or ' +
      'chromium-headless-shell; run "npx playwright-core install chromium"; run "npm ci" in tools/browser (Linux x64); ' +
      'run once as root with apt.',
  );
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  ensureBrowser().then(
    ({ executablePath }) => console.log(executablePath),
    (error) => {
      console.error(error.message);
      process.exitCode = 1;
    },
  );
}

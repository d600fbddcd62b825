/**
 * `npm start`: installs what is missing, builds what is out of date, serves the page on this computer only and opens
 * it. Plain Node, because it runs before anything is installed.
 */
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { platform } from 'node:os';
import { extname, join, normalize, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const DIST = join(ROOT, 'dist');
const LOCK_MARK = join(ROOT, 'node_modules/.farsun-lock');
const FIRST_PORT = 4173;
const LAST_PORT = 4272;
const SOURCES = ['src', 'public', 'scenes-demo', 'index.html', 'vite.config.ts', 'package.json', 'package-lock.json'];
const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
};

const npm = platform() === 'win32' ? 'npm.cmd' : 'npm';
function run(what, args) {
  console.log(what);
  const done = spawnSync(npm, args, { cwd: ROOT, stdio: 'inherit', shell: platform() === 'win32' });
  if (done.status !== 0) {
    console.error(`"npm ${args.join(' ')}" failed; see above.`);
    process.exit(1);
  }
}

/** Newest change below a path, ms. */
function newestMs(path) {
  if (!existsSync(path)) return 0;
  const stats = statSync(path);
  if (!stats.isDirectory()) return stats.mtimeMs;
  return readdirSync(path).reduce((newest, name) => Math.max(newest, newestMs(join(path, name))), stats.mtimeMs);
}

function install() {
  const lock = createHash('sha256')
    .update(readFileSync(join(ROOT, 'package-lock.json')))
    .digest('hex');
  const complete = existsSync(join(ROOT, 'node_modules/vite/package.json'));
  const known = existsSync(LOCK_MARK) ? readFileSync(LOCK_MARK, 'utf8') : null;
  // An install made by hand has no mark: npm's own record of it, newer than the lock, will do.
  const record = join(ROOT, 'node_modules/.package-lock.json');
  const byHand = known === null && newestMs(record) >= newestMs(join(ROOT, 'package-lock.json'));
  if (!complete || (known !== lock && !byHand)) run('Installing (once, about a minute)', ['ci']);
  mkdirSync(join(ROOT, 'node_modules'), { recursive: true });
  writeFileSync(LOCK_MARK, lock);
}

function build() {
  const builtMs = newestMs(join(DIST, 'index.html'));
  const changedMs = Math.max(...SOURCES.map((name) => newestMs(join(ROOT, name))));
  if (builtMs < changedMs) run('Building', ['run', '-s', 'build']);
}

/** The file of a request inside dist, or null. */
function fileOf(url) {
  let path;
  try {
    path = decodeURIComponent(new URL(url, 'http://localhost').pathname);
  } catch {
    return null;
  }
  const file = normalize(join(DIST, path.endsWith('/') ? `${path}index.html` : path));
  if (file !== DIST && !file.startsWith(DIST + sep)) return null;
  return existsSync(file) && statSync(file).isFile() ? file : null;
}

function answer(request, response) {
  const file = request.method === 'GET' || request.method === 'HEAD' ? fileOf(request.url ?? '/') : null;
  if (!file) {
    response.writeHead(404, { 'content-type': 'text/plain; charset=utf-8' }).end('Not here.');
    return;
  }
  const hashed = file.startsWith(join(DIST, 'assets') + sep);
  response.writeHead(200, {
    'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
    'cache-control': hashed ? 'max-age=31536000, immutable' : 'no-cache',
    'x-content-type-options': 'nosniff',
  });
  response.end(request.method === 'HEAD' ? undefined : readFileSync(file));
}

/** Tries to show the address in a browser; a machine without one is no fault. */
function open(address) {
  if (process.env.FARSUN_NO_OPEN) return;
  const [command, ...args] = { darwin: ['open', address], win32: ['cmd', '/c', 'start', '', address] }[platform()] ?? [
    'xdg-open',
    address,
  ];
  const child = spawn(command, args, { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}

function listen(port) {
  const server = createServer(answer);
  server.on('error', (error) => {
    if (error.code === 'EADDRINUSE' && port < LAST_PORT) listen(port + 1);
    else {
      console.error(`No free port between ${FIRST_PORT} and ${LAST_PORT}: ${error.message}`);
      process.exit(1);
    }
  });
  server.listen(port, '127.0.0.1', () => {
    const address = `http://127.0.0.1:${port}/`;
    console.log(`Farsun is at ${address} (Ctrl+C ends it)`);
    open(address);
  });
}

install();
build();
listen(FIRST_PORT);

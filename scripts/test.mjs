/**
 * `npm test`: everything that must hold before a change lands, one step after another: types, lint and format, import
 * rules, unit, reference and property tests, then the screens in a real browser. Plain Node, because it may have to
 * install the locked dependencies first. The last line is "N passed, N failed".
 */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { platform } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const RESULTS = join(ROOT, '.cache/test-results');
const npx = platform() === 'win32' ? 'npx.cmd' : 'npx';
const npm = platform() === 'win32' ? 'npm.cmd' : 'npm';

function run(command, args) {
  return spawnSync(command, args, { cwd: ROOT, stdio: 'inherit', shell: platform() === 'win32' }).status === 0;
}

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(`Farsun needs Node 20.19 or newer; this is ${process.versions.node}.`);
  console.log('0 passed, 1 failed');
  process.exit(1);
}
const { dependencies, devDependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
const named = Object.keys({ ...dependencies, ...devDependencies });
const isInstalled = named.every((name) => existsSync(join(ROOT, 'node_modules', name, 'package.json')));
if (!isInstalled && !run(npm, ['ci'])) {
  console.error('The locked dependencies could not be installed; see above.');
  console.log('0 passed, 1 failed');
  process.exit(1);
}

let passed = 0;
let failed = 0;

/** Checks without single tests, side by side; each counts as one and is told when it ends, in one piece. */
function check(checks) {
  return Promise.all(checks.map(([name, steps]) => checkSteps(name, steps)));
}

async function checkSteps(name, steps) {
  const told = [`\n== ${name}\n`];
  let good = true;
  for (const words of steps) {
    const child = spawn(npx, words, { cwd: ROOT, shell: platform() === 'win32' });
    for (const stream of [child.stdout, child.stderr]) stream.on('data', (text) => told.push(text.toString()));
    const ended = await new Promise((resolve) => {
      child.on('error', resolve);
      child.on('close', resolve);
    });
    good &&= ended === 0;
  }
  process.stdout.write(told.join(''));
  if (good) passed++;
  else {
    failed++;
    console.log(`FAILED: ${name}`);
  }
}

/** A vitest run, counted by its own report; a file that fails to load counts as one failure. */
function suite(name, config) {
  console.log(`\n== ${name}`);
  const report = join(RESULTS, `${name.replace(/\W+/g, '-')}.json`);
  const reporters = ['--reporter=dot', '--reporter=json', `--outputFile.json=${report}`];
  const good = run(npx, ['vitest', 'run', '--config', config, ...reporters]);
  if (!existsSync(report)) {
    failed++;
    console.log(`FAILED: ${name} gave no report`);
    return;
  }
  const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(report, 'utf8'));
  const brokenFiles = testResults.filter((file) => file.status === 'failed' && file.assertionResults.length === 0);
  passed += numPassedTests;
  failed += numFailedTests + brokenFiles.length;
  if (!good && numFailedTests + brokenFiles.length === 0) failed++;
}

rmSync(RESULTS, { recursive: true, force: true });
mkdirSync(RESULTS, { recursive: true });
await check([
  [
    'types, of the pure folders also without the browser',
    [
      ['tsc', '--noEmit'],
      ['tsc', '--noEmit', '-p', 'tsconfig.sim.json'],
      ['tsc', '--noEmit', '-p', 'kernel'],
    ],
  ],
  ['lint', [['eslint', '.']]],
]);
await check([
  ['format', [['prettier', '--check', '--log-level', 'warn', '.']]],
  ['import rules', [['depcruise', 'src', 'tests', 'scripts', '--config', '.dependency-cruiser.cjs']]],
]);
suite('unit, reference and property tests', 'vitest.config.ts');
suite('screens in a browser', 'vitest.browser.config.ts');

console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

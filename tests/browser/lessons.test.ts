/** The lessons: a wrong and a right guess, keys alone, the scene that changes the answer, what is kept, the free bench. */
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { faultsOf } from './axe';
import hall from '../reference/drill-hall-falloff.json';
import { choose, field } from './hands';
import { openDesk, settled } from './page';

const desk = openDesk();
let page: Page;
beforeAll(async () => {
  ({ page } = desk);
  await page.getByRole('button', { name: 'Lessons', exact: true }).click();
  await page.locator('.exercise').waitFor();
});

const question = (): Promise<string> => page.locator('.round h4').first().innerText();
const judged = (round: string) => page.getByTestId(`judged-${round}`);
const commit = () => page.getByRole('button', { name: 'Commit the guess' }).first();
const exercise = (name: string) => page.getByRole('button', { name: new RegExp(`^\\d ?${name}`) }).click();

describe('double the distance', () => {
  test('nothing is shown before a guess is committed', async () => {
    expect(await question()).toMatch(/At 2\.00.m the meter reads 1350.lx/);
    expect(await page.locator('.reveal').count()).toBe(0);
    await commit().click();
    expect(await page.locator('.commit').innerText()).toContain('Choose one first.');
  });

  test('a wrong guess gets the reason for that mistake, and the reveal', async () => {
    await page.locator('.choice', { hasText: '675' }).click();
    await commit().click();
    const words = await judged('doubled').innerText();
    expect(words).toMatch(/Not so[\s\S]*You said: 675.lx, half[\s\S]*in one direction only/);
    // The drill hall of tests/reference/drill-hall-falloff.json: 1350 lx at 2 m, 337.5 lx at 4 m.
    const reveal = await page.getByTestId('reveal-doubled').innerText();
    expect(reveal).toMatch(/1350.lx to 338.lx: 2\.00.stops/);
    expect(reveal).toMatch(/Computed\s+Law: candela \/ distance²/);
    for (const view of ['Log-log', 'Stops', 'Linear']) {
      await page.getByTestId('reveal-doubled').getByRole('radio', { name: view }).click();
      await page
        .getByTestId('reveal-doubled')
        .getByRole('img', { name: new RegExp(`${view}\\.$`) })
        .waitFor();
    }
  });

  test('guessed again and right', async () => {
    await page.getByRole('button', { name: 'Guess again' }).click();
    await page.locator('.choice', { hasText: 'a quarter' }).click();
    await commit().click();
    expect(await judged('doubled').innerText()).toMatch(/^Right[\s\S]*four times the area/);
  });

  test('the slider changes question and reveal', async () => {
    const near = page.locator('.lesson-slider').getByRole('textbox');
    await near.fill('3');
    await near.press('Enter');
    await page
      .getByTestId('reveal-doubled')
      .getByText(/600.lx to 150.lx/)
      .waitFor();
    expect(await question()).toMatch(/At 3\.00.m the meter reads 600.lx/);
    await near.fill('9');
    await near.press('Enter');
    await page.getByText('It goes from 1.00 to 4.00. Still using 3.00 m.').waitFor();
  });
});

test('f-numbers by keys alone: number, commit, verdict in focus, on to the next question', async () => {
  await exercise('F-numbers');
  await page.getByRole('heading', { name: 'F-numbers as distances' }).waitFor();
  await page.getByRole('textbox', { name: 'Stops darker' }).focus();
  await page.keyboard.type('1.5');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  expect(await judged('count').innerText()).toMatch(/Not so[\s\S]*a stop for each doubling/);
  expect(await judged('count').evaluate((node) => node === document.activeElement)).toBe(true);
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter'); // Guess again
  await page.getByRole('textbox', { name: 'Stops darker' }).focus();
  await page.keyboard.type('3');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  expect(await judged('count').innerText()).toMatch(/^Right/);
  await page.getByRole('textbox', { name: 'Distance from the lamp' }).focus();
  await page.keyboard.type('4');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  expect(await judged('one-stop-nearer').innerText()).toMatch(/^Right[\s\S]*gain 0\.97.stop/);
  expect(await page.locator('.take-away').innerText()).toMatch(/Read the f-numbers as distances/);
});

test('choices by keys alone', async () => {
  await exercise('Tilt the card');
  await page.getByRole('radio').first().focus();
  await page.keyboard.press('Space');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown'); // two stops, one stop, half a stop
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  expect(await judged('tilted').innerText()).toMatch(/^Right[\s\S]*cosine of 45°/);
});

test('what was learned is there after a reload', async () => {
  await page.reload();
  await settled(page);
  await page.getByRole('button', { name: 'Lessons', exact: true }).click();
  expect(await page.locator('.kept-words').innerText()).toMatch(/^2 of 9 done/);
  await exercise('Tilt the card');
  expect(await judged('tilted').innerText()).toMatch(/^Right/);
});

test('an edit of the scene changes question and answer', async () => {
  await exercise('Double the distance');
  await page.getByRole('button', { name: 'Open this on the sheets' }).click();
  await choose(page, 'L1');
  const level = field(page, 'Level').last();
  await level.fill('50');
  await level.press('Enter');
  await page.getByRole('button', { name: 'Lessons', exact: true }).click();
  await page.getByText('Played on the open scene').waitFor();
  expect(await question()).toMatch(/At 2\.00.m the meter reads 675.lx/);
  await page
    .getByTestId('reveal-doubled')
    .getByText(/675.lx to 169.lx/)
    .waitFor();
});

test('the free bench reads the open scene and tells the gap', async () => {
  await page.getByRole('tab', { name: /Soft square/ }).click();
  await page.getByRole('tab', { name: 'Free bench' }).click();
  const reading = page.getByTestId('walk-reading');
  await reading.waitFor();
  await page.getByRole('slider', { name: 'Where the meter is' }).focus();
  await page.keyboard.press('Home');
  // 2933.72 lx at 1 m, where the law over-reads by 47.25 %: 0.56 stop.
  await expect
    .poll(() => reading.innerText())
    .toMatch(/2930.lx[\s\S]*273.fc[\s\S]*0\.56.stop less[\s\S]*the face is no point/);
});

test('readings typed into the log: the reference’s fit, the slip named, the lamp kept in the kit', async () => {
  await page.getByRole('tab', { name: 'Reading log' }).click();
  const { distancesM, setups } = hall.scene;
  const typed = setups['focused-beam'].readingsTyped.map((lux) => lux * (lux === 4800 ? 2 : 1));
  for (const [i, metres] of distancesM.entries()) {
    for (const [label, value] of [
      [`Distance ${i + 1}`, metres],
      [`Reading ${i + 1}`, typed[i]!],
    ] as const) {
      const cell = page.getByRole('textbox', { name: label, exact: true });
      await cell.fill(String(value));
      await cell.press('Enter');
    }
  }
  // With the 4 m reading doubled the plain fit says 111 393 cd; without it 89 447 cd and 0.345 m.
  const fit = page.getByTestId('log-fit');
  await expect.poll(() => fit.innerText()).toMatch(/89.447 cd[\s\S]*0\.3452 m/);
  expect(await fit.innerText()).toMatch(
    /The reading at 4\.00.m is \+1\.0\d stops off[\s\S]*111.393 cd and 0\.51 m, and this reading \+0\.81/,
  );
  const slipped = page.getByRole('textbox', { name: 'Reading 5', exact: true });
  await slipped.fill('4800');
  await slipped.press('Enter');
  await expect.poll(() => fit.innerText()).toMatch(/89.809 cd ± 1177[\s\S]*0\.3481 m ± 0\.0155/);
  expect(await fit.innerText()).toContain('least squares in log level');
  await page.getByRole('button', { name: 'Keep in the kit' }).click();
  await page.getByRole('button', { name: 'Undo: Add Metered lamp' }).waitFor();
});

test('the handout prints as paper: questions and blanks, answers apart', async () => {
  await page.getByRole('tab', { name: 'Handout' }).click();
  const paper = page.locator('.paper');
  expect(await paper.count()).toBe(1);
  expect(await paper.innerText()).not.toMatch(/Take away|four times the area/);
  for (const name of ['Answers', 'Leader’s page']) await page.getByText(name, { exact: true }).click();
  expect(await paper.nth(1).innerText()).toMatch(/four times the area[\s\S]*Take away/);
  // Of the open scene, its lamp dimmed to a half: 675 lx at the first mark.
  expect(await paper.nth(2).innerText()).toMatch(/338.lx, half: Half would be right[\s\S]*Follow local code/);
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('header.top').isVisible()).toBe(false);
  expect(await page.locator('.handout-head').isVisible()).toBe(false);
  expect(await paper.first().isVisible()).toBe(true);
  const pages = /\/Count (\d+)/.exec((await page.pdf({ format: 'A4' })).toString('latin1'))?.[1];
  expect(Number(pages)).toBeGreaterThan(4);
  await page.emulateMedia({ media: 'screen' });
});

test('all of it passes the accessibility rules, dark and light; nothing went wrong on the way', async () => {
  for (const theme of ['dark', 'light']) {
    await page.evaluate((name) => document.documentElement.setAttribute('data-theme', name), theme);
    await page.getByRole('tab', { name: 'Free bench' }).click();
    await page.getByTestId('walk-reading').waitFor();
    expect(await faultsOf(page), `${theme}, bench`).toEqual([]);
    for (const name of ['Reading log', 'Handout']) {
      await page.getByRole('tab', { name }).click();
      await page.waitForTimeout(300);
      expect(await faultsOf(page), `${theme}, ${name}`).toEqual([]);
    }
    await page.getByRole('tab', { name: 'Exercises' }).click();
    for (const name of ['Double the distance', 'F-numbers', 'Half scrim', 'Lamp against']) {
      await exercise(name);
      await page.waitForTimeout(300);
      expect(await faultsOf(page), `${theme}, ${name}`).toEqual([]);
    }
  }
  expect(desk.faults).toEqual([]);
});

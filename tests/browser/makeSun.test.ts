/** The other way round on the screen: a sun is asked for, looked for, stopped, found, tried and taken back. */
import { beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { openDesk, settled } from './page';

const desk = openDesk();
let page: Page;
beforeAll(() => {
  ({ page } = desk);
});

const SEARCH_MS = 90_000;
const answer = () => page.getByTestId('sun-answer');
const open = async () => {
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('menuitem', { name: 'Make a sun here' }).click();
  await page.getByRole('dialog', { name: 'Make a sun here' }).waitFor();
};
const type = async (label: string, text: string) => {
  const field = page.getByRole('dialog').getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press('Enter');
};

test('the hour puts the sun where the story’s day has it; a typed altitude lets the hour go', async () => {
  await open();
  const altitude = page.getByRole('dialog').getByLabel('Altitude', { exact: true });
  expect(await altitude.inputValue()).toMatch(/^11\.0/);
  await type('Hour of the story’s day', '15:30');
  await expect.poll(() => altitude.inputValue()).toMatch(/^1[6-9]\.\d/);
  await type('Hour of the story’s day', '16:30');
  await expect.poll(() => altitude.inputValue()).toMatch(/^11\.0/);
});

test('a search can be stopped, and tells how far it is', async () => {
  await page.getByRole('button', { name: 'Find a place' }).click();
  await page.getByRole('progressbar', { name: 'Simulating places' }).waitFor();
  await page.getByRole('dialog').getByRole('button', { name: 'Stop' }).click();
  await expect.poll(() => page.getByRole('progressbar', { name: 'Simulating places' }).count()).toBe(0);
  expect(await answer().count()).toBe(0);
});

test('what is found says lamp, place, verdict, and what cannot be had', async () => {
  await type('Farthest from the window', '5');
  await type('T-stop', '4');
  await page.getByRole('button', { name: 'Find a place' }).click();
  await answer().waitFor({ timeout: SEARCH_MS });
  const words = await answer().innerText();
  expect(words).toMatch(/(Reads as sun|Passable|Gives it away)/);
  expect(words).toMatch(/From the window\s+\d\.\d\d.m/);
  expect(words).toMatch(/Cannot be had/);
  expect(words).not.toMatch(/NaN|undefined/);
});

test('a changed form makes it old; Try it makes a setup, undo takes it back', async () => {
  await type('T-stop', '5.6');
  expect(await page.getByRole('dialog').getByRole('button', { name: 'Try it' }).count()).toBe(0);
  await page.getByText('The scene or the form has changed').waitFor();
  await type('T-stop', '4');
  await page.getByRole('button', { name: 'Look again' }).click();
  await answer().waitFor({ timeout: SEARCH_MS });
  const foretold = (await answer().locator('strong').first().innerText()).trim();
  await page.getByRole('dialog').getByRole('button', { name: 'Try it' }).click();
  await page.getByText('made from the place that was found').waitFor();
  await settled(page);
  expect(await page.getByRole('tab', { selected: true }).innerText()).toMatch(/^B/);
  await expect.poll(() => page.getByTestId('verdict-word').innerText(), { timeout: 20_000 }).toBe(foretold);
  await page.getByRole('button', { name: /^Undo/ }).first().click();
  await settled(page);
  expect(await page.getByRole('tab', { selected: true }).innerText()).toMatch(/^A/);
  expect(desk.faults).toEqual([]);
});

/** The page held against WCAG 2.2 A and AA by axe. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Faults of the page as it stands: rule and the first element of each. */
export async function faultsOf(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const results = (await page.evaluate(() =>
    (window as unknown as { axe: { run: (root: Document, options: object) => Promise<unknown> } }).axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
    }),
  )) as AxeResults;
  return results.violations.map((fault) => `${fault.id}: ${fault.nodes[0]?.html.slice(0, 160)}`);
}

/** Before all browser tests: one build, one server, one look for a browser; building once a file took minutes. */
import type { TestProject } from 'vitest/node';
import { ensureBrowser, type FoundBrowser } from '../../scripts/ensure-browser.mjs';
import { servePage } from './servedPage';

declare module 'vitest' {
  export interface ProvidedContext {
    pageAddress: string;
    foundBrowser: FoundBrowser;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const foundBrowser = await ensureBrowser();
  const served = await servePage();
  project.provide('pageAddress', served.address);
  project.provide('foundBrowser', foundBrowser);
  return () => served.close();
}

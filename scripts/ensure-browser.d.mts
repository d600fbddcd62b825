import type { LaunchOptions } from 'playwright-core';

export interface FoundBrowser {
  readonly executablePath: string;
  readonly env?: Readonly<Record<string, string>>;
}
/** A browser that has been started once; throws an error that names every way out, if none starts. */
export function ensureBrowser(): Promise<FoundBrowser>;
export function launchOptions(browser: FoundBrowser): LaunchOptions;

/** Dark, stage dim and light: the colours come from the drawings' own table, so page and drawings cannot drift apart. */
import type { Theme } from '../render/contract';
import { cssTokens } from '../render/tokens';
import type { SessionStore } from './stores/session';

const THEME_KEY = 'farsun-theme';
export const THEME_NAMES: Readonly<Record<Theme, string>> = { dark: 'Dark', dim: 'Stage dim', light: 'Light' };
const isTheme = (value: unknown): value is Theme => typeof value === 'string' && Object.hasOwn(THEME_NAMES, value);

/** What was chosen last, else what the system prefers. */
export function firstTheme(): Theme {
  try {
    const kept = localStorage.getItem(THEME_KEY);
    if (isTheme(kept)) return kept;
  } catch {
    // Storage may be forbidden; then the system decides at each start.
  }
  return matchMedia('(prefers-color-scheme: light)').matches ? 'light' : 'dark';
}

export function applyTheme(theme: Theme): void {
  const root = document.documentElement;
  root.dataset['theme'] = theme;
  for (const [name, value] of Object.entries(cssTokens(theme))) root.style.setProperty(name, value);
}

export function setTheme(session: SessionStore, theme: Theme): void {
  session.setState({ theme });
  applyTheme(theme);
  try {
    localStorage.setItem(THEME_KEY, theme);
  } catch {
    // Not kept for the next start; nothing else depends on it.
  }
}

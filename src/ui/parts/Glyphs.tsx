/** Farsun's own marks. Verdicts: three rays from the left, parallel, spread a little, or out of a dot. */
import type { Verdict } from '../../sim/results';

const RAYS: Readonly<Record<Verdict, string>> = {
  reads: 'M5 12h34M5 22h34M5 32h34',
  passable: 'M5 16L39 9M5 22h34M5 28l34 7',
  givesAway: 'M12 20L38 7M13 22h27M12 24l26 13',
  notEnough: 'M5 12h6M19 12h6M33 12h6M5 22h6M19 22h6M33 22h6M5 32h6M19 32h6M33 32h6',
};

export function VerdictGlyph({ verdict, label }: { readonly verdict: Verdict; readonly label?: string }) {
  const naming = label === undefined ? { 'aria-hidden': true } : { role: 'img', 'aria-label': label };
  return (
    <svg className={verdict} viewBox="0 0 44 44" {...naming}>
      <path d={RAYS[verdict]} fill="none" stroke="currentColor" strokeWidth={3.5} strokeLinecap="round" />
      {verdict === 'givesAway' && <circle cx="7" cy="22" r="4.6" fill="currentColor" />}
    </svg>
  );
}

/** The product's mark: a shaft of three parallel rays that a wall's line cuts off. */
export function ProductMark() {
  return (
    <svg viewBox="0 0 24 24" width="26" height="26" aria-hidden="true">
      <path d="M3 4l15 8M3 9.5l15 8M3 15l9 4.8" fill="none" stroke="var(--sun)" strokeWidth="2" strokeLinecap="round" />
      <path d="M20.5 3v18" fill="none" stroke="var(--ink-1)" strokeWidth="2" strokeLinecap="round" />
    </svg>
  );
}

const LINES = {
  select: 'M6 3l13 9.5-6.2 1.2 3.4 6.6-2.6 1.3-3.4-6.7L6 19.6z',
  pan: 'M12 3v18M3 12h18M12 3l-2.6 3M12 3l2.6 3M12 21l-2.6-3M12 21l2.6-3M3 12l3-2.6M3 12l3 2.6M21 12l-3-2.6M21 12l-3 2.6',
  draw: 'M4 20V7h9M13 7h.01M4 20h.01M13.5 13.5l5-5 2.5 2.5-5 5-3.5 1z',
  measure: 'M3 15.5L15.5 3 21 8.5 8.5 21zM7 12l2.5 2.5M10 9l1.5 1.5M13 6l2.5 2.5',
  fit: 'M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5M8 12h8',
  undo: 'M9 5L4 10l5 5M4 10h10a5.5 5.5 0 0 1 0 11h-3',
  redo: 'M15 5l5 5-5 5M20 10H10a5.5 5.5 0 0 0 0 11h3',
  more: 'M5 7h14M5 12h14M5 17h14',
  zoomIn: 'M12 5v14M5 12h14',
  zoomOut: 'M5 12h14',
  close: 'M6 6l12 12M18 6L6 18',
  done: 'M4 12.5l5 5L20 6.5',
  caution: 'M12 3.5L22 20.5H2zM12 10v5M12 17.6v.4',
  fault: 'M4 4h16v16H4zM8.5 8.5l7 7M15.5 8.5l-7 7',
  table: 'M4 5h16v14H4zM4 10h16M4 14.5h16M9.3 5v14M14.6 5v14',
} as const;
export type GlyphName = keyof typeof LINES;

export function Glyph({ name, size = 20 }: { readonly name: GlyphName; readonly size?: number }) {
  return (
    <svg viewBox="0 0 24 24" width={size} height={size} aria-hidden="true">
      <path
        d={LINES[name]}
        fill="none"
        stroke="currentColor"
        strokeWidth={1.6}
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  );
}

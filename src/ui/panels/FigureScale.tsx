import type { FigureRow } from '../words/figures';

/** Places on the scale are in percent of its width; its height is in pixels. */
const FIRST = 4;
const LAST = 96;
const LINE_Y = 8;
/** Scales are about this wide in the narrow panel and in the wide one, px. Numerals that would touch are dropped there. */
const NARROW_PX = 84;
const WIDE_PX = 118;
const DIGIT_PX = 5.2;
const GAP_PX = 4;

/** Place of a figure on its scale: square root from zero, or logarithmic and centred on 1. Clamped to the scale. */
function placeOf(value: number, row: FigureRow): number {
  const share =
    row.scale === 'ratio'
      ? 0.5 + Math.log2(Math.max(value, 1e-6)) / (2 * Math.log2(row.scaleEnd))
      : Math.sqrt(Math.abs(value) / row.scaleEnd);
  return FIRST + Math.max(0, Math.min(1, share)) * (LAST - FIRST);
}

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly kind: 'reads' | 'passable' | 'gives';
}

/** Solid bar reads as sun, hollow bar passable, dots give it away. */
function stretchesOf(row: FigureRow): Stretch[] {
  const { limits } = row;
  if (!limits) return [];
  const at = (value: number | undefined): number => placeOf(value ?? 0, row);
  const [start, end] = [FIRST, LAST];
  if (row.scale !== 'ratio') {
    const [good, passable] = [at(limits.good[0]), at(limits.passable[0])];
    return [
      { from: start, to: good, kind: 'reads' },
      { from: good, to: passable, kind: 'passable' },
      { from: passable, to: end, kind: 'gives' },
    ];
  }
  const [goodLow, goodHigh] = [at(limits.good[0]), at(limits.good[1])];
  const [passableLow, passableHigh] = [at(limits.passable[0]), at(limits.passable[1])];
  return [
    { from: start, to: passableLow, kind: 'gives' },
    { from: passableLow, to: goodLow, kind: 'passable' },
    { from: goodLow, to: goodHigh, kind: 'reads' },
    { from: goodHigh, to: passableHigh, kind: 'passable' },
    { from: passableHigh, to: end, kind: 'gives' },
  ];
}

function StretchLine({ from, to, kind }: Stretch) {
  if (to - from < 0.5) return null;
  const place = { x: `${from}%`, width: `${to - from}%` };
  const ends = { x1: `${from + 2}%`, x2: `${to}%`, y1: LINE_Y, y2: LINE_Y };
  switch (kind) {
    case 'reads':
      return <rect {...place} y={LINE_Y - 2} height="4" fill="var(--reads)" />;
    case 'passable':
      return <rect {...place} y={LINE_Y - 2} height="4" fill="none" stroke="var(--passable)" strokeWidth="1" />;
    case 'gives':
      return <line {...ends} stroke="var(--gives)" strokeWidth="1.5" strokeDasharray="1.5 3.5" />;
  }
}

interface Numeral {
  readonly place: number;
  readonly text: string;
  /** Class of the panels that it has room in. */
  readonly fits: 'always' | 'when-wide' | 'when-widest';
}
/** Limits in numerals; one that would touch the one before is kept for wider panels. */
function numeralsOf(row: FigureRow): Numeral[] {
  let before: { readonly place: number; readonly text: string } | null = null;
  return (row.limits?.numerals ?? []).map(({ at, text }) => {
    const place = placeOf(at, row);
    const needPx = before ? ((text.length + before.text.length) * DIGIT_PX) / 2 + GAP_PX : 0;
    const share = before ? (place - before.place) / 100 : 1;
    const fits = share * NARROW_PX >= needPx ? 'always' : share * WIDE_PX >= needPx ? 'when-wide' : 'when-widest';
    if (fits === 'always') before = { place, text };
    return { place, text, fits };
  });
}

/** The lamp as a filled diamond and the sun as an open ring on a figure's scale. For the eye only: the table says it all. */
export function FigureScale({ row }: { readonly row: FigureRow }) {
  if (row.scale === null || row.value === null) return null;
  const plain = { x1: `${FIRST}%`, x2: `${LAST}%`, y1: LINE_Y, y2: LINE_Y };
  return (
    <svg className="scale" width="100%" height={row.limits ? 28 : 16} aria-hidden="true">
      {row.limits ? (
        stretchesOf(row).map((stretch) => <StretchLine key={`${stretch.kind} ${stretch.from}`} {...stretch} />)
      ) : (
        <line {...plain} stroke="var(--line-strong)" strokeWidth="1.5" />
      )}
      <circle
        cx={`${placeOf(row.sunAt, row)}%`}
        cy={LINE_Y}
        r="3.6"
        fill="var(--panel)"
        stroke="var(--sun)"
        strokeWidth="1.75"
      />
      <svg x={`${placeOf(row.value, row)}%`} y={LINE_Y} overflow="visible">
        <path d="M0 -5l5 5l-5 5l-5 -5z" fill="var(--lamp)" stroke="var(--panel)" strokeWidth="1" />
      </svg>
      {numeralsOf(row).map(({ place, text, fits }) => (
        <text key={text} className={fits} x={`${place}%`} y="25">
          {text}
        </text>
      ))}
    </svg>
  );
}

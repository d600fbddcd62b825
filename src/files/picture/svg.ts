/** The few SVG elements that our drawings are made of, as text; numbers to a hundredth of a pixel. */

export interface Strokes {
  readonly stroke?: string;
  readonly width?: number;
  readonly fill?: string;
  readonly opacity?: number;
  /** Lengths of dash and gap, px. */
  readonly dash?: string;
}
export interface Lettering {
  readonly size: number;
  readonly fill: string;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly bold?: boolean;
  /** Colour of a soft outline that keeps letters readable on a map. */
  readonly halo?: string;
}

/** Font family that the letters ask for; whoever rasterises must bring it along. */
export const LETTER_FAMILY = 'DejaVu Sans';

const short = (value: number): string => String(Math.round(value * 100) / 100);

/** Text made safe inside an element or an attribute; characters that XML forbids are dropped. */
export function escapeXml(raw: string): string {
  return raw
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');
}

function strokeAttributes({ stroke, width, fill, opacity, dash }: Strokes): string {
  const parts = [`fill="${fill ?? 'none'}"`];
  if (stroke) parts.push(`stroke="${stroke}" stroke-width="${short(width ?? 1)}" stroke-linejoin="round"`);
  if (dash !== undefined) parts.push(`stroke-dasharray="${dash}"`);
  if (opacity !== undefined) parts.push(`opacity="${short(opacity)}"`);
  return parts.join(' ');
}

export const group = (parts: readonly string[]): string => `<g>${parts.join('')}</g>`;

export function line(x1: number, y1: number, x2: number, y2: number, stroke: string, width: number): string {
  const ends = `x1="${short(x1)}" y1="${short(y1)}" x2="${short(x2)}" y2="${short(y2)}"`;
  return `<line ${ends} stroke="${stroke}" stroke-width="${short(width)}"/>`;
}

export function rectangle(left: number, top: number, width: number, height: number, strokes: Strokes): string {
  const place = `x="${short(left)}" y="${short(top)}" width="${short(width)}" height="${short(height)}"`;
  return `<rect ${place} ${strokeAttributes(strokes)}/>`;
}

export function path(points: readonly (readonly [number, number])[], closed: boolean, strokes: Strokes): string {
  const steps = points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`).join('');
  return `<path d="${steps}${closed ? 'Z' : ''}" ${strokeAttributes(strokes)}/>`;
}

export function text(content: string, x: number, y: number, lettering: Lettering): string {
  const { size, fill, anchor, bold, halo } = lettering;
  const font = `font-family="${LETTER_FAMILY}" font-size="${short(size)}"${bold ? ' font-weight="bold"' : ''}`;
  const place = `x="${short(x)}" y="${short(y)}" text-anchor="${anchor}"`;
  const letters = escapeXml(content);
  const under = halo
    ? `<text ${place} ${font} fill="none" stroke="${halo}" stroke-width="3.5" stroke-opacity="0.8" stroke-linejoin="round">${letters}</text>`
    : '';
  return `${under}<text ${place} ${font} fill="${fill}">${letters}</text>`;
}

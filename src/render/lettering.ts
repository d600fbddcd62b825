/** Lettering as small pictures: one canvas a label, drawn at the screen's own resolution and kept while it is in use. */
import { CanvasSource, Texture } from 'pixi.js';
import type { TextOp } from './sketch';
import { CASING, cssColour, DRAWING_FONT } from './tokens';
import type { MeasureText } from './labels';

const LINE_HEIGHT = 1.25;
const PADDING_PX = 4;
/** So many pictures are kept beside those in use. */
const SPARE_PICTURES = 600;
/** 87.5 % wide: the nearest step that a canvas font can name to the drawing width of 86 %. */
const fontOf = (sizePx: number, weight: number): string => `${weight} semi-condensed ${sizePx}px ${DRAWING_FONT}`;

export interface LetteringPicture {
  readonly texture: Texture;
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface Lettering {
  readonly measure: MeasureText;
  picture(text: TextOp, resolution: number): LetteringPicture;
  /** Says that a picture is still in use, for lettering that stands as it did. */
  keep(picture: LetteringPicture): void;
  /** Drops pictures that no frame asked for since the last call, once they are many. */
  sweep(): void;
  /** Forgets everything: the font has changed. */
  clear(): void;
}

function prepare(context: CanvasRenderingContext2D, sizePx: number, weight: number): void {
  context.font = fontOf(sizePx, weight);
  if ('wordSpacing' in context) context.wordSpacing = `${(0.1 * sizePx).toFixed(2)}px`;
}

export function createLettering(): Lettering {
  const ruler = document.createElement('canvas').getContext('2d');
  /** By size and weight, then by text: asked for every label of every drawing. */
  const widths = new Map<number, Map<string, number>>();
  const pictures = new Map<string, LetteringPicture>();
  let asked = new Set<LetteringPicture>();

  const measure: MeasureText = (text, sizePx, weight) => {
    if (!ruler) return 0;
    const font = sizePx * 10_000 + weight;
    const ofFont = widths.get(font) ?? new Map<string, number>();
    widths.set(font, ofFont);
    const known = ofFont.get(text);
    if (known !== undefined) return known;
    prepare(ruler, sizePx, weight);
    const width = ruler.measureText(text).width;
    ofFont.set(text, width);
    return width;
  };
  const drop = (key: string): void => {
    pictures.get(key)?.texture.destroy(true);
    pictures.delete(key);
  };
  return {
    measure,
    picture(text, resolution) {
      const key = JSON.stringify([text.lines, text.sizePx, text.align, text.halo, resolution]);
      const known = pictures.get(key) ?? drawPicture(text, resolution, measure);
      pictures.set(key, known);
      asked.add(known);
      return known;
    },
    keep: (picture) => void asked.add(picture),
    sweep() {
      // A label that finds no room in one frame is often back in the next.
      if (pictures.size > asked.size + SPARE_PICTURES) {
        for (const [key, picture] of [...pictures]) if (!asked.has(picture)) drop(key);
      }
      asked = new Set();
    },
    clear() {
      widths.clear();
      for (const key of [...pictures.keys()]) drop(key);
    },
  };
}

function drawPicture(text: TextOp, resolution: number, measure: MeasureText): LetteringPicture {
  const { lines, sizePx, halo } = text;
  const lineWidths = lines.map((line) => line.reduce((sum, run) => sum + measure(run.text, sizePx, run.weight), 0));
  const innerWidth = Math.max(...lineWidths);
  const widthPx = Math.ceil(innerWidth + 2 * PADDING_PX);
  const heightPx = Math.ceil(lines.length * sizePx * LINE_HEIGHT + 2 * PADDING_PX);
  const canvas = document.createElement('canvas');
  canvas.width = Math.ceil(widthPx * resolution);
  canvas.height = Math.ceil(heightPx * resolution);
  const context = canvas.getContext('2d');
  if (context) {
    context.scale(resolution, resolution);
    context.textBaseline = 'alphabetic';
    context.lineJoin = 'round';
    context.lineWidth = CASING.textHaloPx;
    for (const pass of ['halo', 'ink'] as const) {
      if (pass === 'halo' && !halo) continue;
      lines.forEach((line, i) => {
        const slack = widthPx - lineWidths[i]!;
        let x = text.align === 'left' ? PADDING_PX : text.align === 'right' ? slack - PADDING_PX : slack / 2;
        // Capitals sit in the middle of their line: cap height is 0.7 em.
        const y = PADDING_PX + (i + 0.5) * sizePx * LINE_HEIGHT + 0.35 * sizePx;
        for (const run of line) {
          prepare(context, sizePx, run.weight);
          if (pass === 'halo' && halo) {
            context.globalAlpha = halo.alpha;
            context.strokeStyle = cssColour(halo.colour);
            context.strokeText(run.text, x, y);
          } else {
            context.globalAlpha = 1;
            context.fillStyle = cssColour(run.colour);
            context.fillText(run.text, x, y);
          }
          x += measure(run.text, sizePx, run.weight);
        }
      });
    }
  }
  return { texture: new Texture({ source: new CanvasSource({ resource: canvas, resolution }) }), widthPx, heightPx };
}

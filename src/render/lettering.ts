/** Lettering as small pictures: one canvas a label, drawn at the screen's own resolution and kept while it is in use. */
import { BufferImageSource, Texture } from 'pixi.js';
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
  // All lettering is drawn on one canvas and taken off it: a canvas a label is slow to make, and there are hundreds.
  const easel = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
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
      const known = pictures.get(key) ?? drawPicture(text, resolution, measure, easel);
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

function drawPicture(
  text: TextOp,
  resolution: number,
  measure: MeasureText,
  context: CanvasRenderingContext2D | null,
): LetteringPicture {
  const { lines, sizePx, halo } = text;
  const lineWidths = lines.map((line) => line.reduce((sum, run) => sum + measure(run.text, sizePx, run.weight), 0));
  const innerWidth = Math.max(...lineWidths);
  const widthPx = Math.ceil(innerWidth + 2 * PADDING_PX);
  const heightPx = Math.ceil(lines.length * sizePx * LINE_HEIGHT + 2 * PADDING_PX);
  const [columns, rows] = [Math.ceil(widthPx * resolution), Math.ceil(heightPx * resolution)];
  if (context) {
    const { canvas } = context;
    if (canvas.width < columns) canvas.width = columns;
    if (canvas.height < rows) canvas.height = rows;
    context.setTransform(resolution, 0, 0, resolution, 0, 0);
    context.clearRect(0, 0, widthPx + 1, heightPx + 1);
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
  const pixels = context?.getImageData(0, 0, columns, rows).data ?? new Uint8ClampedArray(4 * columns * rows);
  return { texture: textureOf(pixels, columns, rows, resolution), widthPx, heightPx };
}

/** A texture of plain pixels, whose colours the renderer wants times their alpha. */
function textureOf(pixels: Uint8ClampedArray, columns: number, rows: number, resolution: number): Texture {
  for (let i = 0; i < pixels.length; i += 4) {
    const alpha = pixels[i + 3]! / 255;
    for (let part = i; part < i + 3; part += 1) pixels[part] = pixels[part]! * alpha;
  }
  const source = new BufferImageSource({
    resource: new Uint8Array(pixels.buffer),
    width: columns,
    height: rows,
    resolution,
    format: 'rgba8unorm',
    alphaMode: 'premultiplied-alpha',
    scaleMode: 'linear',
  });
  return new Texture({ source });
}

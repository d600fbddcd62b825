/** From one of our SVG drawings to the bytes of a PNG file, with an open font that is brought along. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { Resvg, initWasm } from '@resvg/resvg-wasm';
import { LETTER_FAMILY } from '../files/picture/svg';

const require = createRequire(import.meta.url);
const FONT_FILES = ['dejavu-fonts-ttf/ttf/DejaVuSans.ttf', 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf'];

let engine: Promise<void> | undefined;

/**
 * Draws an SVG.
 * @param widthPx width of the picture; the height follows
 * @throws if the drawing is not SVG
 */
export async function rasteriseSvg(svg: string, widthPx: number): Promise<Uint8Array> {
  engine ??= initWasm(readFileSync(require.resolve('@resvg/resvg-wasm/index_bg.wasm')));
  await engine;
  const drawing = new Resvg(svg, {
    fitTo: { mode: 'width', value: widthPx },
    font: {
      fontBuffers: FONT_FILES.map((file) => readFileSync(require.resolve(file))),
      defaultFontFamily: LETTER_FAMILY,
      loadSystemFonts: false,
    },
  });
  const image = drawing.render();
  const bytes = image.asPng();
  image.free();
  drawing.free();
  return bytes;
}

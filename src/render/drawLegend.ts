/** The legend of a heat map: colour bar, ticks, unit, and the wedge of the reference. */
import { mapColour } from './heatMap';
import { legendOf, type Legend } from './legend';
import type { MapPicture } from './drawMap';
import type { LabelPlacer } from './labels';
import { shapesLayer, type Layer, type SheetContext } from './picture';
import { crisp, Sketch } from './sketch';
import { MAP_BRIGHTNESS } from './tokens';

const BAR_WIDTH_PX = 11;
const BAR_PIECES = 128;

/** Room that the legend takes at the right of a sheet, CSS pixels. */
export const LEGEND_ROOM_PX = 92;

interface Bar {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}
const heightAt = (bar: Bar, place: number): number => bar.bottom - place * (bar.bottom - bar.top);

/** Legend between two heights, its bar from `barX` on: ticks at the bar's right, the wedge at its left. */
export function drawLegend(
  context: SheetContext,
  map: MapPicture,
  placer: LabelPlacer,
  topY: number,
  bottomY: number,
  barX: number,
): Layer[] {
  const { state, inks, things, memo } = context;
  const left = Math.round(barX);
  const bar: Bar = { left, right: left + BAR_WIDTH_PX, top: Math.round(topY), bottom: Math.round(bottomY) };
  const colours = memo.get('legendBar', [map.scale.map, state.theme, inks, left, bar.top, bar.bottom], () =>
    barLayer(context, map.scale.map, bar),
  );
  const legend = memo.get(
    'legend',
    [map, state.referenceLx, things.document.camera, state.units.illuminance, state.units.length],
    () => legendOf(map.heat, map.scale, state.referenceLx, things.document.camera, state.units),
  );
  placer.block({ left: bar.left - 2, top: bar.top, right: bar.right + 2, bottom: bar.bottom });
  letterTitle(context, legend, placer, bar);
  const sketch = new Sketch(inks, null);
  drawWedge(sketch, legend, placer, bar);
  drawTicks(sketch, legend, placer, bar);
  return [colours, shapesLayer('legend', sketch.shapes)];
}

function barLayer(context: SheetContext, map: 'tide' | 'balance', bar: Bar): Layer {
  const sketch = new Sketch(context.inks, null);
  const brightness = MAP_BRIGHTNESS[context.state.theme];
  const { left, right, top, bottom } = bar;
  for (let i = 0; i < BAR_PIECES; i++) {
    const [red, green, blue] = mapColour(map, (i + 0.5) / BAR_PIECES).map((part) => Math.round(part * brightness));
    // Half a pixel of overlap leaves no seams between the pieces.
    const [y0, y1] = [heightAt(bar, i / BAR_PIECES) + 0.5, heightAt(bar, (i + 1) / BAR_PIECES)];
    sketch.fill([[left, y1, right, y1, right, y0, left, y0]], (red! << 16) | (green! << 8) | blue!);
  }
  const [x0, x1, yTop, yFoot] = [crisp(left - 1), crisp(right), crisp(top - 1), crisp(bottom)];
  sketch.line([[x0, yTop, x1, yTop, x1, yFoot, x0, yFoot]], { role: 'lineStrong', widthPx: 1, closed: true });
  return shapesLayer('legendBar', sketch.shapes);
}

/** Unit over the bar; under it how well the levels are known, what they are compared with, or that they are rough. */
function letterTitle(context: SheetContext, legend: Legend, placer: LabelPlacer, bar: Bar): void {
  const middle = (bar.left + bar.right) / 2;
  placer.place({
    lines: [[{ text: legend.title, bold: true }]],
    places: [{ x: middle, y: bar.top - 6, anchor: 'above' }],
    halo: false,
  });
  const { field, levelBand } = context.state;
  const rough = field?.rough === true ? ['rough'] : [];
  const lines = [...(levelBand ? [levelBand] : []), ...(legend.note ? [legend.note] : []), ...rough];
  if (lines.length === 0) return;
  placer.place({
    lines: lines.map((text) => [{ text, role: 'ink2' }]),
    places: [{ x: Math.min(middle, context.camera.widthPx - 40), y: bar.bottom + 7, anchor: 'below' }],
    halo: false,
  });
}

function drawWedge(sketch: Sketch, legend: Legend, placer: LabelPlacer, bar: Bar): void {
  if (!legend.wedge) return;
  const y = heightAt(bar, legend.wedge.place);
  sketch.fill([[bar.left - 3, y, bar.left - 10, y - 4.5, bar.left - 10, y + 4.5]], sketch.inks.ink1);
  placer.place({
    lines: [[{ text: legend.wedge.label, bold: true }]],
    places: [{ x: bar.left - 13, y, anchor: 'right' }],
  });
}

function drawTicks(sketch: Sketch, legend: Legend, placer: LabelPlacer, bar: Bar): void {
  for (const tick of legend.ticks) {
    const y = crisp(Math.min(bar.bottom - 1, Math.max(bar.top, heightAt(bar, tick.place))));
    sketch.line([[bar.right + 1, y, bar.right + (tick.label ? 6 : 4), y]], { role: 'ink3', widthPx: 1 });
    if (!tick.label) continue;
    placer.place({
      lines: [[{ text: endLabel(tick, legend), role: 'ink2' }]],
      places: [{ x: bar.right + 9, y, anchor: 'left' }],
      clearPx: 0,
      halo: false,
    });
  }
}

/** The end ticks say so when levels lie beyond them. */
function endLabel(tick: { place: number; label: string }, ends: { over: string | null; under: string | null }): string {
  if (tick.place > 0.999 && ends.over) return ends.over;
  if (tick.place < 0.001 && ends.under) return ends.under;
  return tick.label;
}

/** A face in parts between the lines at which its light bends. */

/** Middles and half sizes of the parts that -extent..extent falls into between the lines, none wider than one in `count`. */
export function partsBetween(
  lines: readonly number[],
  extent: number,
  count: number,
): [middle: number, half: number][] {
  const stops = lines.map((line) => Math.max(-extent, Math.min(extent, line)));
  const parts: [number, number][] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    const width = stops[i + 1]! - stops[i]!;
    if (width <= 0) continue;
    const pieces = Math.ceil((width * count) / (2 * extent));
    const half = width / pieces / 2;
    for (let k = 0; k < pieces; k++) parts.push([stops[i]! + (2 * k + 1) * half, half]);
  }
  return parts;
}

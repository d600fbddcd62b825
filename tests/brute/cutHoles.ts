/** The holes that the seed of a cucoloris stands for, drawn in the same order as the document's rule says. */
import { seeded } from './vectors';

export function cutHoles(seed: number, holes: number, widthM: number, heightM: number): [number, number][][] {
  const next = seeded(seed);
  const across = Math.max(1, Math.min(holes, Math.round(Math.sqrt((holes * widthM) / heightM))));
  const up = Math.ceil(holes / across);
  const order = Array.from({ length: across * up }, (_, i) => i);
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(next() * (i + 1));
    const kept = order[i]!;
    order[i] = order[j]!;
    order[j] = kept;
  }
  return order.slice(0, holes).map((cell) => {
    const rx = 0.2 + 0.22 * next();
    const x = (cell % across) + 0.5 + (0.46 - rx) * (2 * next() - 1);
    const ry = 0.2 + 0.22 * next();
    const y = Math.floor(cell / across) + 0.5 + (0.46 - ry) * (2 * next() - 1);
    const corners = 6 + Math.floor(3 * next());
    return Array.from({ length: corners }, (_, i): [number, number] => {
      const turn = (2 * Math.PI * (i + 0.7 * next())) / corners;
      return [((x + rx * Math.cos(turn)) / across - 0.5) * widthM, ((y + ry * Math.sin(turn)) / up - 0.5) * heightM];
    });
  });
}

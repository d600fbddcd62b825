/**
 * The seeded cut of a gate pattern, written anew from its rule in whole-number arithmetic: numbers by the mulberry32
 * recurrence, cells of a grid shuffled from the end, one hole to a cell, its corners on an ellipse at uneven turns.
 */
type Flat = readonly [number, number];

const WORD = 1n << 32n;
const word = (value: bigint): bigint => ((value % WORD) + WORD) % WORD;

/** Numbers of a seed one after the other, 0 to 1. */
function* numbersOf(seed: number): Generator<number, never> {
  let state = word(BigInt(seed));
  for (;;) {
    state = word(state + 0x6d2b79f5n);
    const first = word((state ^ (state >> 15n)) * (state | 1n));
    const second = word(first ^ word(first + word((first ^ (first >> 7n)) * (first | 61n))));
    yield Number(second ^ (second >> 14n)) / 4294967296;
  }
}

/** Holes of a plate of `wide` by `high` about its middle. */
export function seededCut(seed: number, holes: number, wide: number, high: number): Flat[][] {
  const numbers = numbersOf(seed);
  const draw = (): number => numbers.next().value;
  const across = Math.min(holes, Math.max(1, Math.round(Math.sqrt((holes * wide) / high))));
  const upwards = Math.ceil(holes / across);
  const order: number[] = [];
  for (let cell = 0; cell < across * upwards; cell++) order.push(cell);
  for (let last = order.length - 1; last >= 1; last--) {
    const other = Math.floor(draw() * (last + 1));
    const held = order[last]!;
    order[last] = order[other]!;
    order[other] = held;
  }
  const outlines: Flat[][] = [];
  for (const cell of order.slice(0, holes)) {
    const [column, row] = [cell % across, (cell - (cell % across)) / across];
    const wideCell = wide / across;
    const highCell = high / upwards;
    const half = 0.2 + 0.22 * draw();
    const x = (column + 0.5 + (0.46 - half) * (2 * draw() - 1)) * wideCell - wide / 2;
    const tall = 0.2 + 0.22 * draw();
    const y = (row + 0.5 + (0.46 - tall) * (2 * draw() - 1)) * highCell - high / 2;
    const corners = 6 + Math.floor(3 * draw());
    const outline: Flat[] = [];
    for (let i = 0; i < corners; i++) {
      const turn = ((i + 0.7 * draw()) * 2 * Math.PI) / corners;
      outline.push([x + half * wideCell * Math.cos(turn), y + tall * highCell * Math.sin(turn)]);
    }
    outlines.push(outline);
  }
  return outlines;
}

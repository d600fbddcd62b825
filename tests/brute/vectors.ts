/** Vectors, axes and seeded numbers of the brute-force integrator; written apart from the app's own on purpose. */
export type Triple = readonly [number, number, number];

export const plus = (a: Triple, b: Triple, k = 1): Triple => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
export const inner = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const outer = (a: Triple, b: Triple): Triple => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const size = (a: Triple): number => Math.sqrt(inner(a, a));
export const unit = (a: Triple): Triple => plus([0, 0, 0], a, 1 / size(a));
export const RADIAN = Math.PI / 180;

/** Seeded uniform numbers in [0, 1): the mulberry32 recurrence (public domain). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

function reverseBits(word: number): number {
  let w = word;
  w = ((w >>> 1) & 0x55555555) | ((w & 0x55555555) << 1);
  w = ((w >>> 2) & 0x33333333) | ((w & 0x33333333) << 2);
  w = ((w >>> 4) & 0x0f0f0f0f) | ((w & 0x0f0f0f0f) << 4);
  w = ((w >>> 8) & 0x00ff00ff) | ((w & 0x00ff00ff) << 8);
  return ((w >>> 16) | (w << 16)) >>> 0;
}
/** Hash in which each bit depends on lower bits alone; on reversed bits that is Owen's nested scrambling. */
function lowerBitsHash(word: number, seed: number): number {
  let w = (word + seed) | 0;
  w ^= Math.imul(w, 0x6c50b47c);
  w ^= Math.imul(w, 0xb82f1e52);
  w ^= Math.imul(w, 0xc7afe638);
  w ^= Math.imul(w, 0x8d22f6e6);
  return w >>> 0;
}
const scramble = (word: number, seed: number): number => reverseBits(lowerBitsHash(reverseBits(word), seed));

/**
 * `count` points of the unit square, flat u0, v0, u1, v1...: the first two dimensions of Sobol's sequence with Owen's
 * scrambling. Every power-of-two prefix is a (0, m, 2) net.
 * @source Sobol 1967; Owen 1995; the hash is Laine & Karras, EGSR 2011
 */
export function scrambledNet(count: number, seed: number): Float64Array {
  const next = seeded(seed);
  const seeds = [Math.floor(next() * 4294967296), Math.floor(next() * 4294967296)] as const;
  const points = new Float64Array(2 * count);
  for (let index = 0; index < count; index++) {
    let second = 0;
    let direction = 0x80000000;
    for (let bits = index; bits !== 0; bits >>>= 1) {
      if (bits & 1) second ^= direction;
      direction ^= direction >>> 1;
    }
    points[2 * index] = (scramble(reverseBits(index), seeds[0]) + 0.5) / 4294967296;
    points[2 * index + 1] = (scramble(second >>> 0, seeds[1]) + 0.5) / 4294967296;
  }
  return points;
}

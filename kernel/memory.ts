/**
 * Where the kernel keeps its numbers: one place for each kind, fixed when it is compiled, so that nothing is looked up and
 * nothing allocated. One integral is under way at a time, or those of one held cell, and what lies here belongs to them
 * alone. The caller sees the same places through typed arrays (src/sim/solve/kernelModule.ts).
 *
 * The folder is written in the subset of TypeScript that AssemblyScript compiles to WebAssembly: i32 and u8 are whole
 * numbers, f64 are numbers, and an array is a place in memory without bounds.
 */

/** Numbers in a row. */
@unmanaged
export class Numbers {
  [key: number]: f64;

  @inline
  @operator('[]')
  get(i: i32): f64 {
    return load<f64>(changetype<usize>(this) + ((<usize>i) << 3));
  }

  @inline
  @operator('[]=')
  set(i: i32, value: f64): void {
    store<f64>(changetype<usize>(this) + ((<usize>i) << 3), value);
  }

  /** Those from number i on. */
  @inline
  from(i: i32): Numbers {
    return changetype<Numbers>(changetype<usize>(this) + ((<usize>i) << 3));
  }
}

/** Places and counts in a row. */
@unmanaged
export class Places {
  [key: number]: i32;

  @inline
  @operator('[]')
  get(i: i32): i32 {
    return load<i32>(changetype<usize>(this) + ((<usize>i) << 2));
  }

  @inline
  @operator('[]=')
  set(i: i32, value: i32): void {
    store<i32>(changetype<usize>(this) + ((<usize>i) << 2), value);
  }
}

/** Marks in a row, 0 or 1. */
@unmanaged
export class Marks {
  [key: number]: u8;

  @inline
  @operator('[]')
  get(i: i32): u8 {
    return load<u8>(changetype<usize>(this) + <usize>i);
  }

  @inline
  @operator('[]=')
  set(i: i32, value: u8): void {
    store<u8>(changetype<usize>(this) + <usize>i, value);
  }
}

/** Corners (u, v) in a row. */
@unmanaged
export class Corners {
  @inline
  u(i: i32): f64 {
    return load<f64>(changetype<usize>(this) + ((<usize>i) << 4));
  }

  @inline
  v(i: i32): f64 {
    return load<f64>(changetype<usize>(this) + ((<usize>i) << 4), 8);
  }

  @inline
  put(i: i32, u: f64, v: f64): void {
    const at = changetype<usize>(this) + ((<usize>i) << 4);
    store<f64>(at, u);
    store<f64>(at, v, 8);
  }
}

/** Lines in a row, each as h0, hu, hv of h0 + hu u + hv v >= 0 on its kept side. */
@unmanaged
export class Lines {
  @inline
  h0(i: i32): f64 {
    return load<f64>(changetype<usize>(this) + 24 * <usize>i);
  }

  @inline
  hu(i: i32): f64 {
    return load<f64>(changetype<usize>(this) + 24 * <usize>i, 8);
  }

  @inline
  hv(i: i32): f64 {
    return load<f64>(changetype<usize>(this) + 24 * <usize>i, 16);
  }

  @inline
  put(i: i32, h0: f64, hu: f64, hv: f64): void {
    const at = changetype<usize>(this) + 24 * <usize>i;
    store<f64>(at, h0);
    store<f64>(at, hu, 8);
    store<f64>(at, hv, 16);
  }
}

/**
 * Corners, lines, pieces and groups that there is room for. No powers of two: what is used most lies at the beginning of each
 * room, and the beginnings would all fall on the same few lines of the processor's cache.
 */
export const CORNER_CAPACITY = 60_000;
export const LINE_CAPACITY = 250_000;
export const PIECE_CAPACITY = 60_000;
export const GROUP_CAPACITY = 15_000;

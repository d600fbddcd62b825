/**
 * Where the kernel keeps its numbers: one place for each kind, fixed when it is compiled, so that nothing is looked up and
 * nothing allocated. One integral is under way at a time, or those of one held cell, and what lies here belongs to them
 * alone. The caller sees the same places through typed arrays (src/sim/solve/kernelModule.ts).
 *
 * The folder is written in the subset of TypeScript that AssemblyScript compiles to WebAssembly: i32 and u8 are whole
 * numbers, f64 are numbers, and an array is a place in memory without bounds.
 */

/** Values of one kind in a row. */
@unmanaged
export class Row<T> {
  [key: number]: T;

  @inline
  @operator('[]')
  get(i: i32): T {
    return load<T>(changetype<usize>(this) + ((<usize>i) << alignof<T>()));
  }

  @inline
  @operator('[]=')
  set(i: i32, value: T): void {
    store<T>(changetype<usize>(this) + ((<usize>i) << alignof<T>()), value);
  }

  /** Those from number i on. */
  @inline
  from(i: i32): Row<T> {
    return changetype<Row<T>>(changetype<usize>(this) + ((<usize>i) << alignof<T>()));
  }
}
export type Numbers = Row<f64>;
/** Places and counts. */
export type Places = Row<i32>;
/** 0 or 1. */
export type Marks = Row<u8>;

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

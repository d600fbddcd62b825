/** What the caller lends the module. */

export declare function pow(base: f64, exponent: f64): f64;
export declare function asin(sine: f64): f64;

/** Gives up, with an error that says why: more corners than there is room for. Does not come back. */
export declare function refuseCorners(): void;

/** Adds the patch at `from`, of so many corners, times a share, where the closed form of a whole outline is asked for. */
export declare function addOutline(share: f64, from: i32, count: i32): void;

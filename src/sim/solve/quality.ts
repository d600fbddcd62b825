/** How finely emitters are integrated. Meters use the finer rule; maps the quicker one. */
export interface Quality {
  /** Corners of the polygon that stands for a disc where a shadow edge crosses it. */
  readonly discCorners: number;
  /** A face is split until half its size over its distance is at most this. */
  readonly splitRatio: number;
  /** Largest angular size of a quadrature triangle, as a share of a gate's edge width. */
  readonly gateShare: number;
}

/** Disc error at most 0.05 % of the source's peak in a penumbra; splitting error below 0.05 %. */
export const GRID_QUALITY: Quality = { discCorners: 24, splitRatio: 0.12, gateShare: 0.5 };
export const METER_QUALITY: Quality = { discCorners: 96, splitRatio: 0.06, gateShare: 0.25 };
/** The meter rule with every face split in four: its change is the reported integration error. */
export const CHECK_QUALITY: Quality = { discCorners: 192, splitRatio: 0.03, gateShare: 0.125 };

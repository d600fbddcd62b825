/** How finely emitters are integrated. Meters use the finer rule; maps the quicker one. */
export interface Quality {
  /** A face is split until half its size over its distance is at most this. */
  readonly splitRatio: number;
  /** The same along a slim face, where the kernel is taken to fourth order. */
  readonly slimSplitRatio: number;
  /** Tubes thinner than this share of their length are slim. */
  readonly slimTube: number;
  /** Largest part of a lens, seen in the picture, that a quadratic may stand for, as a share of a gate edge's width. */
  readonly gateShare: number;
  /** The same as a share of the angle within which a peaked field falls to half. */
  readonly fieldShare: number;
  /** Largest share by which a beam's own fall may change over half a part, in its tail. */
  readonly beamShare: number;
  /** Largest half part of a face as a share of the receiver's height over a woven net: nets close quickly at a slant. */
  readonly weaveShare: number;
  /** Largest part of a face, seen from the receiver, that a quadratic may stand for, as a share of a web's bend. */
  readonly webShare: number;
  /** A gate edge is a stack of hard edges where the lens blurs it by at least this many of its own widths. */
  readonly hardGate: number;
  /** Sides of the polygon that stands for a projection spot's round field. */
  readonly fieldSides: number;
  /** Half diagonal of a cell of receivers, over its distance, up to which a face that turns is taken as its middle sees it. */
  readonly turnRad: number;
  /** Largest residual that interpolation between receivers may show, of the peak and of the value. */
  readonly interpolation: number;
}

/** Splitting error below 0.05 % of the source's peak. */
export const GRID_QUALITY: Quality = {
  splitRatio: 0.12,
  slimSplitRatio: 0.4,
  slimTube: 0.1,
  gateShare: 0.25,
  fieldShare: 0.35,
  beamShare: 0.4,
  weaveShare: 0.35,
  webShare: 0.5,
  hardGate: 1.5,
  fieldSides: 96,
  turnRad: 0.03,
  interpolation: 0.002,
};
export const METER_QUALITY: Quality = {
  splitRatio: 0.06,
  slimSplitRatio: 0.2,
  slimTube: 0,
  gateShare: 0.125,
  fieldShare: 0.18,
  beamShare: 0.2,
  weaveShare: 0.18,
  webShare: 0.3,
  hardGate: 2,
  fieldSides: 384,
  turnRad: 0,
  interpolation: 0,
};
/** The meter rule with every face split in four: its change is the reported integration error. */
export const CHECK_QUALITY: Quality = {
  splitRatio: 0.03,
  slimSplitRatio: 0.1,
  slimTube: 0,
  gateShare: 0.0625,
  fieldShare: 0.09,
  beamShare: 0.1,
  weaveShare: 0.09,
  webShare: 0.15,
  hardGate: 3,
  fieldSides: 768,
  turnRad: 0,
  interpolation: 0,
};

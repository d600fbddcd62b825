/**
 * A projection spot's field edge, shutters and pattern as straight hard edges in its picture.
 *
 * A soft edge's smoothstep is 3t² - 2t³ = ∫ 6τ(1 - τ) [t >= τ] dτ: a mean of hard edges. Three of them with the Gauss
 * weights of 6τ(1 - τ) stand for it exactly to fifth order where the lens blurs the picture by more than the edge's
 * width; where it does not, the edge is smooth over the lens and goes into the kernel instead (receiverLight.ts decides).
 * Two more edges of next to no weight, just outside the soft band, tell where the band is.
 */
import type { GatePattern } from '../photometry/gatePattern';
import type { Profile } from './compiled';
import type { Quality } from './quality';

type Projection = Extract<Profile, { kind: 'projection' }>;

/** Light is kept where X right + Y up <= offset (tangents of the picture). `soft` is half the soft band's width. */
export interface PictureEdge {
  readonly right: number;
  readonly up: number;
  readonly offset: number;
  readonly soft: number;
}
/** A field edge or a cut: the sum of the weights of the pieces that a picture point lies in. */
export interface GatePart {
  readonly pieces: readonly { readonly weight: number; readonly edges: readonly PictureEdge[] }[];
}

/** Gauss points of the weight 6τ(1 - τ) on 0..1, and the two that bound the band with a little to spare. */
const SPREAD = Math.sqrt(3 / 7) / 2;
const TRACE = 1e-9;
const STEPS = [
  { at: -0.05, weight: TRACE },
  { at: 0.5 - SPREAD, weight: (7 / 30) * (1 - 2 * TRACE) },
  { at: 0.5, weight: (16 / 30) * (1 - 2 * TRACE) },
  { at: 0.5 + SPREAD, weight: (7 / 30) * (1 - 2 * TRACE) },
  { at: 1.05, weight: TRACE },
] as const;

/** The field first, then the cuts in their order, the pattern last: `edgeWidthsRad` of the profile's parts goes the same way. */
export function gateParts(profile: Projection, quality: Quality): GatePart[] {
  const parts = [fieldPart(profile, quality.fieldSides), ...profile.cuts.map(cutPart)];
  return profile.pattern ? [...parts, patternPart(profile.pattern)] : parts;
}

export const edgeWidthsRad = (profile: Projection): number[] => [
  profile.edgeWidthRad,
  ...profile.cuts.map((cut) => cut.edgeWidthRad),
  ...(profile.pattern ? [profile.pattern.edgeWidthRad] : []),
];

function fieldPart(profile: Projection, sides: number): GatePart {
  const { halfFieldRad, edgeWidthRad } = profile;
  // The polygon has the circle's own area.
  const apothem = Math.sqrt(Math.PI / (sides * Math.tan(Math.PI / sides)));
  const soft = edgeWidthRad / 2 / Math.cos(halfFieldRad) ** 2;
  const pieces = STEPS.map(({ at, weight }) => {
    const angle = Math.min(halfFieldRad + (0.5 - at) * edgeWidthRad, Math.PI / 2 - 1e-3);
    const radius = Math.tan(Math.max(0, angle)) * apothem;
    const edges = Array.from({ length: sides }, (_, i): PictureEdge => {
      const turn = (2 * Math.PI * i) / sides;
      return { right: Math.cos(turn), up: Math.sin(turn), offset: radius, soft };
    });
    return { weight, edges };
  });
  return { pieces };
}

function cutPart({ right, up, offset, edgeWidthRad }: Projection['cuts'][number]): GatePart {
  const pieces = STEPS.map(({ at, weight }) => {
    const edge = { right, up, offset: offset + Math.tan((0.5 - at) * edgeWidthRad), soft: edgeWidthRad / 2 };
    return { weight, edges: [edge] };
  });
  return { pieces };
}

/** Soft bands of two holes never overlap (`compilePattern`), so that the pieces of all holes add up to one factor. */
function patternPart({ holes, edgeWidthRad }: GatePattern): GatePart {
  const pieces = holes.flatMap(({ sides }) =>
    STEPS.map(({ at, weight }) => {
      const out = Math.tan((0.5 - at) * edgeWidthRad);
      const edges = sides.map(({ right, up, offset }): PictureEdge => ({
        right,
        up,
        offset: offset + out,
        soft: edgeWidthRad / 2,
      }));
      return { weight, edges };
    }),
  );
  return { pieces };
}

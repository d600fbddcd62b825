/** A setup made ready for the light kernel: world geometry, radians and candela; nothing of the document's shape is left. */
import type { Colour, Role, SceneDocument, Setup, Source } from '../../scene/schema';
import type { Pane } from '../../scene/glass';
import type { Frame } from '../../scene/geometry/frames';
import type { Vec3 } from '../../scene/geometry/vector';
import type { GatePattern } from '../photometry/gatePattern';
import type { WebGrid } from '../photometry/web/grid';

/** A convex plane piece, corners counter-clockwise about the layer's normal. A hole takes away what the solid covers. */
export interface ConvexPiece {
  readonly corners: readonly Vec3[];
  readonly hole: boolean;
  /** Where pieces of one layer differ: in place of the layer's own opacity. */
  readonly opacity?: number;
}

/** A loss that grows with the slant: of a weave whose wires run along right and up, or of a pane of glass. */
export type SlantLoss =
  { readonly stops: number; readonly frame: Frame } | { readonly pane: Pane; readonly frame: Frame };

/**
 * Something thin and plane that light crosses once: a wall face with its openings, a net, a flag, the bars of a window.
 * Transmittance is 1 - opacity where the pieces cover (solid pieces minus holes), else 1.
 */
export interface BlockerLayer {
  readonly id: string;
  /** Surface whose own receivers never see this layer. */
  readonly ownSurfaceId: string | null;
  /** Layers that belong to one lamp (scrims in its slots) act on its light alone. */
  readonly onlySourceId: string | null;
  readonly role: Role;
  readonly origin: Vec3;
  readonly normal: Vec3;
  readonly opacity: number;
  /** Woven stuff and panes of glass are denser at a slant. Null: the same at any angle. */
  readonly weave: SlantLoss | null;
  /** What a gel does to the colour of the light that crosses it; absent where it does nothing. */
  readonly tint?: { readonly miredShift: number; readonly greenShift: number };
  readonly pieces: readonly ConvexPiece[];
}

/** A straight hard edge that can throw a shadow line. `open` points in the plane towards the light that passes. */
export interface HardEdge {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly open: Vec3;
  readonly layerId: string;
  readonly role: Role;
  /** The opening (window) that the edge bounds or divides, as "surface/opening", if any. */
  readonly openingId: string | null;
  readonly label: string;
}

/** An opening's outline on the inner face, bars left out: which window a ray has come through. */
export interface CompiledOpening {
  readonly id: string;
  readonly surfaceId: string;
  readonly frame: Frame;
  readonly corners: readonly Vec3[];
  readonly narrowestPaneM: number;
  /** A point of the plane that shadows grow from: the bars' plane, or the inner face of a window without bars. */
  readonly growthPlane: Vec3;
}

export type EmitterShape =
  | { readonly kind: 'point' }
  | { readonly kind: 'disc'; readonly radiusM: number }
  | { readonly kind: 'rectangle'; readonly halfWidthM: number; readonly halfHeightM: number }
  | { readonly kind: 'tube'; readonly halfLengthM: number; readonly radiusM: number; readonly lit: LitSector | null }
  | { readonly kind: 'sphere'; readonly radiusM: number }
  | { readonly kind: 'sun'; readonly tangentRadius: number };

/** The part of a tube's round that glows: this far to both sides of a direction square to its axis, at most a quarter turn. */
export interface LitSector {
  readonly middle: Vec3;
  readonly halfRad: number;
}

/** A straight cut of a projection spot: light is kept where X right + Y up <= offset (X, Y tangents of the picture). */
export interface ShutterCut {
  readonly right: number;
  readonly up: number;
  readonly offset: number;
  readonly edgeWidthRad: number;
}

/** Measured candela by direction, as shares of the peak. A face sends them to both its sides. */
export interface Web {
  readonly kind: 'web';
  readonly grid: WebGrid;
}

/** Intensity against direction, as a share of the peak. */
export type Profile =
  /** Equal in every direction that the face sends to (all round for a point). */
  | { readonly kind: 'flat' }
  | { readonly kind: 'cosine'; readonly exponent: number }
  | { readonly kind: 'beam'; readonly halfBeamRad: number; readonly steepness: number }
  | Web
  | {
      readonly kind: 'projection';
      readonly halfFieldRad: number;
      readonly edgeWidthRad: number;
      readonly peaking: number;
      /** 1 / focus distance; 0 is focus at infinity. */
      readonly perFocusM: number;
      readonly cuts: readonly ShutterCut[];
      readonly pattern: GatePattern | null;
    }
  | CratedProfile;

/** Light that leaves through an egg crate: the lamp's own profile times what the cells let through. */
export interface CratedProfile {
  readonly kind: 'crated';
  readonly inner: Exclude<Profile, { kind: 'crated' | 'projection' }>;
  readonly slope: number;
}

export interface CompiledSource {
  readonly id: string;
  readonly source: Source;
  /** Share of full output: dimmer times on or off. */
  readonly level: number;
  /** Frame of the emitting face (at its virtual origin); for the sun `forward` points away from it. */
  readonly frame: Frame;
  readonly shape: EmitterShape;
  readonly profile: Profile;
  /** Intensity on the axis at level 1, cd; for the sun its luminance, cd/m². */
  readonly peakCandela: number;
  /** How far before the face the light is out of the lamp, m: receivers and things nearer to the face meet none of it. */
  readonly outletM: number;
  readonly colour: Colour | null;
  /** Set where this is not the source itself but what a mirror shows of it; it then goes by the source's id. */
  readonly image: MirrorImage | null;
}

/** What a mirror adds to a source: its light comes through the mirror's outline, to receivers before the mirror alone. */
export interface MirrorImage {
  readonly mirrorId: string;
  /** A point of the mirror, and the unit normal of its shining face. */
  readonly origin: Vec3;
  readonly normal: Vec3;
  /** What stands in the image's light in place of the scene's own things: those before the mirror, and reflected ones. */
  readonly layers: readonly BlockerLayer[];
  readonly hardEdges: readonly HardEdge[];
}

export interface CompiledSurface {
  readonly id: string;
  readonly frame: Frame;
  readonly blocks: boolean;
  readonly outline: readonly (readonly [number, number])[];
  readonly openings: readonly (readonly (readonly [number, number])[])[];
  readonly bounds: {
    readonly leftM: number;
    readonly bottomM: number;
    readonly widthM: number;
    readonly heightM: number;
  };
}

export interface CompiledScene {
  readonly document: SceneDocument;
  readonly setup: Setup;
  readonly surfaces: ReadonlyMap<string, CompiledSurface>;
  /** Every source, each followed by what the mirrors show of it. */
  readonly sources: readonly CompiledSource[];
  readonly layers: readonly BlockerLayer[];
  readonly hardEdges: readonly HardEdge[];
  readonly openings: readonly CompiledOpening[];
}

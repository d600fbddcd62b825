/** What a search for a placement answers. */
import type { Setup } from '../../scene/schema';
import type { SunCheck } from '../results';

/** A rig that makes the sun that was asked for, as near as it can be had. */
export interface Placement {
  readonly lampId: string;
  readonly kitId: string;
  readonly lampName: string;
  readonly positionM: readonly [number, number, number];
  readonly aimM: readonly [number, number, number];
  /** Height of the lens over the floor drawn under it; over z = 0 where none is. */
  readonly lensHeightM: number;
  /** From the middle of the opening to the lens. */
  readonly distanceM: number;
  /** Off the story's sun, seen from the opening: clockwise on the plan, and up; degrees. */
  readonly turnDeg: number;
  readonly riseDeg: number;
  /** Dimmer that brings the patch to the level asked for; 1 where it falls short. */
  readonly level: number;
  /** Mean of the lamp on the patch at full, through its nets, lx. */
  readonly fullMeanLx: number;
  readonly shortStops: number;
  /** Names of the nets in front of it. */
  readonly nets: readonly string[];
  /** Highest score, that of the azimuth among them. */
  readonly score: number;
  readonly azimuthScore: number;
  readonly check: SunCheck;
  readonly setup: Setup;
}

export interface PlaceAnswer {
  /** True where light of the asked level lands on the surface; the verdict says how well it reads. */
  readonly possible: boolean;
  readonly placement: Placement | null;
  readonly sentence: string;
  /** What cannot be had, and why; whole sentences. */
  readonly cannot: readonly string[];
  /** Spots that were simulated. */
  readonly tried: number;
}

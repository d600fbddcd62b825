/** Beams from one drawing to the next: a lamp's beam is worked out again only where something that it meets has changed. */
import { beamFigure, FARTHEST_HIT_M, type BeamFigure } from './beamGeometry';
import { isStopping, meetModifier, type RayHit } from './raycast';
import type { LampThing, ModifierThing, SceneThings } from './sceneThings';
import type { SceneDocument } from '../scene/schema';

interface KeptBeam {
  readonly lamp: LampThing;
  readonly figure: BeamFigure;
}

const raysOf = ({ axis, beam, field, cone }: BeamFigure): readonly RayHit[] => [axis, ...beam, ...field, ...cone];

/** Whether a ray that ended as it did would now end elsewhere, with `gone` away and `come` there. */
function isChanged(figure: BeamFigure, gone: ReadonlySet<string>, come: readonly ModifierThing[]): boolean {
  return raysOf(figure).some((ray) => {
    if (ray.modifierId !== null && gone.has(ray.modifierId)) return true;
    const reachM = ray.modifierId === null && ray.surfaceId === null ? FARTHEST_HIT_M : ray.distanceM;
    return come.some((thing) => {
      const distanceM = meetModifier(thing, figure.fromM, ray.direction);
      return distanceM !== null && distanceM < reachM;
    });
  });
}

/** Holds the beams of one sheet. */
export class KeptBeams {
  /** How many beams have been worked out so far. */
  worked = 0;
  private beams = new Map<string, KeptBeam>();
  private figures: ReadonlyMap<string, BeamFigure> = new Map();
  private surfaces: SceneThings['surfaces'] = [];
  private webs: SceneDocument['webs'];
  private stopping: readonly ModifierThing[] = [];
  private readonly limitM: number;

  /** @param limitM how far a ray that meets nothing is drawn, metres */
  constructor(limitM: number) {
    this.limitM = limitM;
  }

  /** Beams of all lamps in the planes of their axes and their own right; the same map while none of them has changed. */
  of(things: SceneThings): ReadonlyMap<string, BeamFigure> {
    const stopping = things.modifiers.filter(isStopping);
    if (things.surfaces !== this.surfaces || things.document.webs !== this.webs) this.beams = new Map();
    const [before, now] = [new Set(this.stopping), new Set(stopping)];
    const gone = new Set(this.stopping.filter((thing) => !now.has(thing)).map(({ id }) => id));
    const come = stopping.filter((thing) => !before.has(thing));
    const isSame = gone.size === 0 && come.length === 0;
    const next = new Map<string, KeptBeam>();
    for (const lamp of things.lamps) {
      const kept = this.beams.get(lamp.id);
      const holds = kept?.lamp === lamp && (isSame || !isChanged(kept.figure, gone, come));
      next.set(lamp.id, holds ? kept : { lamp, figure: this.work(things, lamp) });
    }
    const isNew = next.size !== this.beams.size || [...next].some(([id, beam]) => this.beams.get(id) !== beam);
    [this.beams, this.surfaces, this.webs, this.stopping] = [next, things.surfaces, things.document.webs, stopping];
    if (isNew) this.figures = new Map([...next].map(([id, { figure }]) => [id, figure]));
    return this.figures;
  }

  private work(things: SceneThings, lamp: LampThing): BeamFigure {
    this.worked += 1;
    return beamFigure(things, lamp, lamp.frame.right, this.limitM);
  }
}

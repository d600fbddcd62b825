/** Beams on the plan: cones under the map, lines over it, and what goes on from mirrors, in haze and from the sun. */
import { worldFromLocal } from '../scene/geometry/frames';
import { dot, type Vec3 } from '../scene/geometry/vector';
import { returnedRays, type BeamFigure } from './beamGeometry';
import { OPEN_BEAM_M } from './drawObjects';
import { clearRange, drawSunRays, sunnyOpenings, sunRay } from './drawSheet';
import { DASH, drawBeam, drawCone, WEIGHT } from './drawThings';
import type { Path, Shift } from './geometry2d';
import { drawHazeWedges, planSides } from './hazeWedge';
import { KeptDrawings } from './keptDrawings';
import type { LabelPlacer } from './labels';
import { keptBox, shapesLayer, toScreen, type Layer, type SheetContext } from './picture';
import { Sketch, type ShapeOp } from './sketch';

type Figures = ReadonlyMap<string, BeamFigure>;

/** The lamp whose lines are drawn in full: the one in hand, else the one the section goes through, else the only one. */
function leadingFigure({ state, things }: SheetContext, figures: Figures): BeamFigure | undefined {
  const { selection, sourceId } = state;
  const id = things.lamps.length === 1 ? things.lamps[0]!.id : selection?.kind === 'source' ? selection.id : sourceId;
  return id === null ? undefined : figures.get(id);
}
const withoutLeading = (figures: Figures, leading: BeamFigure | undefined): BeamFigure[] =>
  [...figures.values()].filter((figure) => figure !== leading);

/** Cones of the beams; the leading one lies over the others. */
export function conesLayer(context: SheetContext, figures: Figures): Layer {
  const { camera, inks, memo } = context;
  const kept = memo.get('planKeptCones', [], () => new KeptDrawings<BeamFigure, readonly ShapeOp[]>());
  const leading = leadingFigure(context, figures);
  return memo.get('planCones', [camera, figures, inks, leading], () => {
    const cone = (figure: BeamFigure, isLeading: boolean): readonly ShapeOp[] => {
      const sketch = new Sketch(inks, null, 1, keptBox(camera));
      drawCone(context, sketch, figure, isLeading);
      return sketch.shapes;
    };
    const others = kept.of(withoutLeading(figures, leading), [camera, inks], (figure) => cone(figure, false));
    return shapesLayer('cones', [...others.flat(), ...(leading ? cone(leading, true) : [])]);
  });
}

/** A beam with what a mirror makes of it. */
interface DrawnBeam {
  readonly shapes: readonly ShapeOp[];
  /** Lines that lettering keeps off. */
  readonly lines: readonly Path[];
}

/** Lines of the beams; those of the leading lamp lie over the others. Lettering keeps off them, `shift` from there. */
export function beamsLayer(
  context: SheetContext,
  figures: Figures,
  rings: readonly Path[] | null,
  placer: LabelPlacer,
  shift: Shift,
): Layer {
  const { ghost, showTwin } = context.state;
  const { things, inks, camera, memo } = context;
  const { story } = context.state.document;
  const leading = leadingFigure(context, figures);
  const meets = drawsOtherRays(context) && things;
  const kept = memo.get('planKeptBeams', [], () => new KeptDrawings<BeamFigure, DrawnBeam>());
  const { layer, lines } = memo.get(
    'planBeamLayer',
    [camera, figures, inks, rings, leading, ghost, showTwin, story, meets],
    () => {
      const drawOne = (figure: BeamFigure, isLeading: boolean): DrawnBeam => {
        const sketch = new Sketch(inks, rings, 1, keptBox(camera));
        const look = { isLeading, withField: isLeading || things.lamps.length <= 2 };
        const direct = drawBeam(context, sketch, figure, look);
        return { shapes: sketch.shapes, lines: [...direct, ...drawReturned(context, sketch, figure, isLeading)] };
      };
      const key = [camera, inks, rings, meets, things.lamps.length <= 2];
      const drawn = kept.of(withoutLeading(figures, leading), key, (figure) => drawOne(figure, false));
      if (leading) drawn.push(drawOne(leading, true));
      const rest = new Sketch(inks, rings);
      const restLines = drawHazeWedges(context, rest, planSides);
      if (showTwin || things.suns.length > 0) restLines.push(...drawPlanSun(context, rest));
      return {
        layer: shapesLayer('beams', [...drawn.flatMap(({ shapes }) => shapes), ...rest.shapes]),
        lines: [...drawn.flatMap((one) => one.lines), ...restLines],
      };
    },
  );
  placer.avoid(lines, 1, shift);
  return layer;
}

/** Whether light is drawn beside the lamps' own beams: the sun's, off a mirror, in haze. It meets things of its own. */
const drawsOtherRays = ({ things, state }: SheetContext): boolean =>
  state.showTwin ||
  things.suns.length > 0 ||
  state.document.story?.haze === true ||
  things.modifiers.some(({ modifier }) => modifier.material.kind === 'mirror');

/** The beam's way on from a mirror that stands in it. */
function drawReturned(context: SheetContext, sketch: Sketch, figure: BeamFigure, isLeading: boolean): Path[] {
  const { axis, edges } = returnedRays(context.things, figure, OPEN_BEAM_M);
  const path = ({ fromM, atM }: { fromM: Vec3; atM: Vec3 }): Path => [
    ...toScreen(context, fromM),
    ...toScreen(context, atM),
  ];
  const outer = edges.map(path);
  const middle = axis && isLeading ? [path(axis)] : [];
  sketch.line(outer, { role: 'lamp', widthPx: WEIGHT.seen, alpha: isLeading ? 1 : 0.6 });
  sketch.line(middle, { role: 'lamp', widthPx: WEIGHT.hair, dash: DASH.axis });
  return [...outer, ...middle];
}

/** Sun rays at the jambs of every opening that the story's sun can reach: parallel, whatever the lamp does. */
function drawPlanSun(context: SheetContext, sketch: Sketch): Path[] {
  const sun = context.things.storySun;
  if (!sun) return [];
  const rays = sunnyOpenings(context, sun.towards).flatMap(({ thing, opening }) => {
    const up = (opening.sillM + opening.headM) / 2;
    const [along, through] = [dot(sun.towards, thing.frame.right), dot(sun.towards, thing.frame.forward)];
    const clear = clearRange(opening.leftM, opening.rightM, along, through, thing.thicknessM) ?? [];
    return clear.map((right) =>
      sunRay(context, worldFromLocal(thing.frame, [right, up], thing.thicknessM / 2), sun.towards),
    );
  });
  return drawSunRays(context, sketch, rays);
}

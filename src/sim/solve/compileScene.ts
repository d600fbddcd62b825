/** From a setup of the document to what the light kernel works on. */
import type { Material, Modifier, Point2, Role, SceneDocument, Surface } from '../../scene/schema';
import { convexPieces } from '../geometry/convexPieces';
import { frameFromPose, worldFromLocal, type Frame } from '../../scene/geometry/frames';
import { cross, normalise, scale, subtract, type Vec3 } from '../../scene/geometry/vector';
import { blindDepthM } from '../../scene/geometry/blindSlats';
import { boundsOf } from '../../scene/outlines';
import { blindLayers } from './blindLayers';
import type {
  BlockerLayer,
  CompiledOpening,
  CompiledScene,
  CompiledSource,
  CompiledSurface,
  ConvexPiece,
  HardEdge,
} from './compiled';
import { compileSource, inConvexParts } from './compileSources';
import { cellLayers } from './lampCells';
import { glassLoss } from './glassLoss';
import { lampFront } from './lampFront';
import { lampScrimLayers } from './lampScrims';
import { imageOf, type MirrorPlane } from './mirrors';
import {
  barDepthM,
  modifierOutline,
  openingOutline,
  rectangleOutline,
  surfaceOutline,
  windowBars,
  type PlaneShape,
} from './shapes';

/**
 * The judgement's cells follow the narrowest pane. Slats are many and alike: two pitches count as one pane, which changes
 * figures by at most 1 % against twice as many cells each way.
 */
const PITCHES_A_PANE = 2;

const placed = (frame: Frame, outline: readonly Point2[], depthM = 0): Vec3[] =>
  outline.map((corner) => worldFromLocal(frame, corner, depthM));

function piecesOf(frame: Frame, shape: PlaneShape, depthM = 0): ConvexPiece[] {
  return [
    ...convexPieces(shape.outline).map((piece) => ({ corners: placed(frame, piece, depthM), hole: false })),
    ...shape.holes.flatMap((hole) =>
      convexPieces(hole).map((piece) => ({ corners: placed(frame, piece, depthM), hole: true })),
    ),
  ];
}

/** Edges of a counter-clockwise outline; light passes inside it (an opening) or outside it (a flag). */
function edgesOf(
  frame: Frame,
  outline: readonly Point2[],
  depthM: number,
  passes: 'inside' | 'outside',
  about: Pick<HardEdge, 'layerId' | 'role' | 'openingId' | 'label'>,
): HardEdge[] {
  const corners = placed(frame, outline, depthM);
  return corners.map((from, i) => {
    const to = corners[(i + 1) % corners.length]!;
    const inward = normalise(cross(frame.forward, subtract(to, from)));
    return { from, to, open: passes === 'inside' ? inward : scale(inward, -1), ...about };
  });
}

interface Blockers {
  readonly layers: BlockerLayer[];
  readonly hardEdges: HardEdge[];
  readonly openings: CompiledOpening[];
  readonly mirrors: MirrorPlane[];
}

function compileSurface(id: string, surface: Surface): CompiledSurface {
  const { outline, holes } = surfaceOutline(surface.shape);
  const lefts = outline.map((p) => p[0]);
  const ups = outline.map((p) => p[1]);
  const bounds = {
    leftM: Math.min(...lefts),
    bottomM: Math.min(...ups),
    widthM: Math.max(...lefts) - Math.min(...lefts),
    heightM: Math.max(...ups) - Math.min(...ups),
  };
  const openings = [...holes, ...Object.values(surface.openings ?? {}).map(openingOutline)];
  const blocks = surface.kind !== 'readingPlane';
  return { id, frame: frameFromPose(surface.pose), blocks, outline, openings, bounds };
}

/** Both faces of a wall block outside its openings; that is also what its reveals do to straight rays. */
function blockWithSurface(id: string, surface: Surface, compiled: CompiledSurface, out: Blockers): void {
  if (!compiled.blocks) return;
  const { frame } = compiled;
  const thicknessM = surface.thicknessM ?? 0;
  const shape = { outline: compiled.outline, holes: compiled.openings };
  for (const depthM of thicknessM > 0 ? [0, thicknessM] : [0]) {
    out.layers.push({
      id: depthM === 0 ? id : `${id} outer face`,
      ownSurfaceId: depthM === 0 ? id : null,
      onlySourceId: null,
      role: 'set',
      origin: worldFromLocal(frame, [0, 0], depthM),
      normal: frame.forward,
      opacity: 1,
      weave: null,
      pieces: piecesOf(frame, shape, depthM),
    });
    const about = { layerId: depthM === 0 ? id : `${id} outer face`, role: 'set' as const };
    out.hardEdges.push(
      ...edgesOf(frame, compiled.outline, depthM, 'outside', { ...about, openingId: null, label: surface.name }),
    );
    for (const [openingId, opening] of Object.entries(surface.openings ?? {})) {
      const label = opening.name ?? openingId;
      out.hardEdges.push(
        ...edgesOf(frame, openingOutline(opening), depthM, 'inside', {
          ...about,
          openingId: `${id}/${openingId}`,
          label,
        }),
      );
    }
  }
  for (const openingId of Object.keys(surface.openings ?? {})) addWindow(id, openingId, surface, frame, out);
}

function addWindow(surfaceId: string, openingId: string, surface: Surface, frame: Frame, out: Blockers): void {
  const opening = surface.openings![openingId]!;
  const outline = openingOutline(opening);
  const { leftM, rightM, lowM: sillM, highM: headM } = boundsOf(outline);
  let narrowestPaneM = Math.min(rightM - leftM, headM - sillM);
  const depthM = barDepthM(surface, opening);
  const plane = { origin: worldFromLocal(frame, [0, 0], depthM), normal: frame.forward, onlySourceId: null };
  let growthPlane = worldFromLocal(frame, [0, 0]);
  if (opening.window) {
    const { bars, panes } = windowBars(opening);
    const layerId = `${surfaceId}/${openingId} bars`;
    for (const pane of panes) {
      narrowestPaneM = Math.min(narrowestPaneM, pane[1]![0] - pane[0]![0], pane[2]![1] - pane[1]![1]);
    }
    if (bars.length > 0) {
      growthPlane = plane.origin;
      const pieces = bars.map((bar) => ({ corners: placed(frame, bar, depthM), hole: false }));
      const ownSurfaceId = surfaceId;
      out.layers.push({ id: layerId, ownSurfaceId, ...plane, role: 'set', opacity: 1, weave: null, pieces });
      const about = {
        layerId,
        role: 'set' as const,
        openingId: `${surfaceId}/${openingId}`,
        label: `${opening.name ?? openingId} bars`,
      };
      for (const pane of panes) out.hardEdges.push(...edgesOf(frame, pane, depthM, 'inside', about));
    }
    const loss = glassLoss(opening.window.glass, frame);
    if (loss) {
      const pieces = piecesOf(frame, { outline, holes: [] }, depthM);
      const id = `${surfaceId}/${openingId} glass`;
      out.layers.push({ id, ownSurfaceId: surfaceId, ...plane, role: 'shade', ...loss, pieces });
    }
    const { blind } = opening.window;
    if (blind) {
      const label = `${opening.name ?? openingId} slats`;
      const place = { surfaceId, openingId, label, frame, box: { leftM, rightM, sillM, headM } };
      const { layers, hardEdges } = blindLayers(place, blind);
      out.layers.push(...layers);
      out.hardEdges.push(...hardEdges);
      narrowestPaneM = Math.min(narrowestPaneM, PITCHES_A_PANE * blind.pitchM);
      if (bars.length === 0) growthPlane = worldFromLocal(frame, [0, 0], blindDepthM(blind));
    }
  }
  out.openings.push({
    id: `${surfaceId}/${openingId}`,
    surfaceId,
    frame,
    corners: placed(frame, outline),
    narrowestPaneM,
    growthPlane,
  });
}

/** Role by material where the document names none (judgement of the sun, roles of things). */
export function roleOf(modifier: Modifier): Role {
  if (modifier.role) return modifier.role;
  switch (modifier.material.kind) {
    case 'opaque':
      return modifier.shape.kind === 'pattern' ? 'set' : 'cut';
    case 'net':
    case 'wireScrim':
    case 'gel':
      return 'shade';
    case 'diffusion':
    case 'bounce':
      return 'spread';
    case 'mirror':
      return 'cut';
  }
}

/** Straight-through transmittance square on, 0..1. Light that diffusion, bounce and mirror send on is not in it. */
export function straightTransmittance(material: Material): number {
  switch (material.kind) {
    case 'opaque':
    case 'bounce':
    case 'mirror':
      return 0;
    case 'net':
    case 'wireScrim':
      return 2 ** -material.stops;
    case 'gel':
      return material.transmittance;
    case 'diffusion':
      return material.directTransmittance;
  }
}

function weaveOf(material: Material, frame: Frame): BlockerLayer['weave'] {
  if (material.kind !== 'net' && material.kind !== 'wireScrim') return null;
  const woven = (material.weave ?? (material.kind === 'net' ? 'woven' : 'plain')) === 'woven';
  return woven ? { stops: material.stops, frame } : null;
}

function tintOf(material: Material): BlockerLayer['tint'] {
  if (material.kind !== 'gel') return undefined;
  const { miredShift = 0, greenShift = 0 } = material;
  return miredShift === 0 && greenShift === 0 ? undefined : { miredShift, greenShift };
}

function blockWithModifier(id: string, modifier: Modifier, out: Blockers): void {
  const frame = frameFromPose(modifier.pose);
  const role = roleOf(modifier);
  const shape = modifierOutline(modifier.shape);
  const plane = { ownSurfaceId: null, onlySourceId: null, origin: frame.origin, normal: frame.forward };
  const opacity = 1 - straightTransmittance(modifier.material);
  const weave = weaveOf(modifier.material, frame);
  const { material } = modifier;
  const tint = tintOf(material);
  out.layers.push({ id, ...plane, role, opacity, weave, ...(tint && { tint }), pieces: piecesOf(frame, shape) });
  if ((material.kind === 'opaque' || material.kind === 'mirror') && (role === 'set' || role === 'cut')) {
    const about = { layerId: id, role, openingId: null, label: modifier.name };
    out.hardEdges.push(...edgesOf(frame, shape.outline, 0, 'outside', about));
    for (const hole of shape.holes) out.hardEdges.push(...edgesOf(frame, hole, 0, 'inside', about));
  }
  if (material.kind === 'mirror') {
    const about = { layerId: id, role, openingId: null, label: modifier.name };
    out.mirrors.push({
      id,
      name: modifier.name,
      frame,
      reflectance: material.reflectance,
      pieces: piecesOf(frame, shape),
      edges: edgesOf(frame, shape.outline, 0, 'inside', about),
      role,
    });
  }
  const rods = frameRods(modifier);
  if (rods.length > 0) {
    const pieces = rods.map((rod) => ({ corners: placed(frame, rod), hole: false }));
    // Opaque, but part of the net: its shadow shows as a step, it does not trim the patch.
    const rodRole = role === 'cut' || role === 'set' ? role : 'shade';
    out.layers.push({ id: `${id} rods`, ...plane, role: rodRole, opacity: 1, weave: null, pieces });
  }
}

/** Rods round a framed rectangle, outside its cloth; none on the sides that are open. */
function frameRods(modifier: Modifier): Point2[][] {
  if (!modifier.frame || modifier.shape.kind !== 'rectangle') return [];
  const { widthM, heightM } = modifier.shape;
  const rod = modifier.frame.rodWidthM;
  const open = new Set(modifier.frame.openSides ?? []);
  const left = open.has('left') ? 0 : rod;
  const right = open.has('right') ? 0 : rod;
  const rods: Point2[][] = [];
  if (left > 0) rods.push(rectangleOutline(-widthM / 2 - rod, -heightM / 2, rod, heightM));
  if (right > 0) rods.push(rectangleOutline(widthM / 2, -heightM / 2, rod, heightM));
  const across = widthM + left + right;
  if (!open.has('top')) rods.push(rectangleOutline(-widthM / 2 - left, heightM / 2, across, rod));
  if (!open.has('bottom')) rods.push(rectangleOutline(-widthM / 2 - left, -heightM / 2 - rod, across, rod));
  return rods;
}

/**
 * Makes one setup ready for the kernel: every blocker a plane layer of convex pieces, every source peak and profile.
 * @throws {RangeError} if the setup does not exist
 * @remarks Left out: light that diffusion, bounce and slats send on, or a second mirror; lamp bodies; the sides of a concave opening.
 */
export function compileScene(document: SceneDocument, setupId: string): CompiledScene {
  const setup = document.setups.find((candidate) => candidate.id === setupId);
  if (!setup) throw new RangeError(`no setup "${setupId}" in this scene`);
  const blockers: Blockers = { layers: [], hardEdges: [], openings: [], mirrors: [] };
  const surfaces = new Map<string, CompiledSurface>();
  for (const [id, surface] of Object.entries(document.surfaces)) {
    const compiled = compileSurface(id, surface);
    surfaces.set(id, compiled);
    blockWithSurface(id, surface, compiled, blockers);
  }
  for (const [id, modifier] of Object.entries(setup.modifiers)) blockWithModifier(id, modifier, blockers);
  const sources: CompiledSource[] = [];
  for (const [id, source] of Object.entries(setup.sources)) {
    sources.push(...inConvexParts(compileSource(id, source, document)));
    if (source.type !== 'lamp') continue;
    const front = lampFront(id, source);
    blockers.layers.push(...cellLayers(id, source), ...lampScrimLayers(id, source), ...front.layers);
    blockers.hardEdges.push(...front.hardEdges);
  }
  const { mirrors, ...things } = blockers;
  const withImages = sources.flatMap((source) => [
    source,
    ...mirrors.flatMap((mirror) => imageOf(source, mirror, things) ?? []),
  ]);
  return { document, setup, surfaces, sources: withImages, ...things };
}

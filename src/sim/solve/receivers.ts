/** Receivers: which layers they lie on, and the planes that grids and meters make. */
import type { Vec3 } from '../../scene/geometry/vector';
import { cross, dot, normalise, subtract } from '../../scene/geometry/vector';
import { axesAcross } from './emitterFace';
import type { BlockerLayer, CompiledScene, CompiledSource, CompiledSurface, HardEdge } from './compiled';
import type { ReceiverPlane } from './edgeTable';

/** A free receiver this near to a layer's plane lies on it and is not blocked by it, m. */
const LIES_ON_M = 1e-3;

/** Everything that may stand in a source's light: the scene's things, or those that its mirror shows. */
export const layersInLight = (scene: CompiledScene, source: CompiledSource): BlockerLayer[] =>
  (source.image?.layers ?? scene.layers).filter(
    (layer) => layer.onlySourceId === null || layer.onlySourceId === source.id,
  );
export const hardEdgesInLight = (scene: CompiledScene, source: CompiledSource): readonly HardEdge[] =>
  source.image?.hardEdges ?? scene.hardEdges;

/** Layers that a surface's own receivers never see: its lit face, and things fixed in its openings. */
export const ownLayersOf =
  (surfaceId: string) =>
  (layer: BlockerLayer): boolean =>
    layer.ownSurfaceId === surfaceId;

/** True where `point` lies within `marginM` of one of the layer's solid pieces, seen square on to its plane. */
function overSolid(layer: BlockerLayer, point: Vec3, marginM: number): boolean {
  return layer.pieces.some(
    ({ corners, hole }) =>
      !hole &&
      corners.every((a, i) => {
        const along = normalise(subtract(corners[(i + 1) % corners.length]!, a));
        return dot(layer.normal, cross(along, subtract(point, a))) >= -marginM;
      }),
  );
}

/**
 * Layers that a free receiver (a meter) lies on: on their plane and within their outline, to a millimetre. Scrims in a
 * lamp's slots reach past their ring in the model, so nothing lies on them.
 */
export const layersUnder =
  (point: Vec3) =>
  (layer: BlockerLayer): boolean =>
    layer.onlySourceId === null &&
    Math.abs(dot(layer.normal, subtract(point, layer.origin))) <= LIES_ON_M &&
    overSolid(layer, point, LIES_ON_M);

export function planeOfSurface({ frame }: CompiledSurface): ReceiverPlane {
  return { origin: frame.origin, axisX: frame.right, axisY: frame.up, normal: frame.forward };
}

export function planeOfPoint(point: Vec3, normal: Vec3): ReceiverPlane {
  const [axisX, axisY] = axesAcross(normal);
  return { origin: point, axisX, axisY, normal };
}

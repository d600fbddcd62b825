/** Parts that the scene's schemas are put together from: quantities with their bounds, places, shapes, colour. */
import { z } from 'zod';

export const ID_PATTERN = /^[a-z][a-z0-9-]{0,63}$/;

const MAX_COORDINATE_M = 10_000;
export const coordinate = z.number().min(-MAX_COORDINATE_M).max(MAX_COORDINATE_M);
export const sizeM = z.number().positive().max(MAX_COORDINATE_M);
export const angleDeg = z.number().min(-3600).max(3600);
export const ratio = z.number().min(0).max(1);
export const amount = z.number().nonnegative().max(1e12);
export const text = z.string().max(2000);

export const idSchema = z.string().regex(ID_PATTERN);
export const point3 = z
  .tuple([coordinate, coordinate, coordinate])
  .meta({ id: 'Point3M', description: 'x, y, z in metres' });
const point2 = z.tuple([coordinate, coordinate]).meta({ id: 'Point2M', description: 'right, up in metres' });
export const outline = z.array(point2).min(3).max(2000);
export const record = <T extends z.ZodType>(value: T) => z.record(idSchema, value);

/** Where a thing is and which way it faces. */
const directionSchema = z.strictObject({ panDeg: angleDeg, tiltDeg: angleDeg, rollDeg: angleDeg.optional() });
const targetSchema = z.strictObject({ atM: point3, rollDeg: angleDeg.optional() });
export const aimSchema = z.union([directionSchema, targetSchema]).meta({
  id: 'Aim',
  description: 'a direction by pan, tilt and roll in degrees, or a point to look at',
});
export const poseSchema = z.strictObject({ positionM: point3, aim: aimSchema });

/** A plane shape in the thing's own right/up axes, seen from the side it faces. */
const rectangleShape = z.strictObject({ kind: z.literal('rectangle'), widthM: sizeM, heightM: sizeM });
const discShape = z.strictObject({ kind: z.literal('disc'), diameterM: sizeM });
const polygonShape = z.strictObject({
  kind: z.literal('polygon'),
  outlineM: outline,
  holesM: z.array(outline).max(500).optional(),
});
const patternShape = z.strictObject({
  kind: z.literal('pattern'),
  widthM: sizeM,
  heightM: sizeM,
  seed: z.int().min(0).max(0xffffffff),
  holes: z.int().min(1).max(500),
});
export const modifierShapeSchema = z.discriminatedUnion('kind', [
  rectangleShape,
  discShape,
  polygonShape,
  patternShape,
]);
export const surfaceShapeSchema = z.discriminatedUnion('kind', [rectangleShape, polygonShape]);

/** Colour of a source: correlated colour temperature with Duv, or CIE 1931 x, y. */
export const colourSchema = z.union([
  z.strictObject({ cctK: z.number().min(1000).max(25000), duv: z.number().min(-0.05).max(0.05).optional() }),
  z.strictObject({ x: z.number().min(0.01).max(0.8), y: z.number().min(0.01).max(0.9) }),
]);

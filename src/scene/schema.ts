/**
 * The scene document, format version 1: what the user decided, and nothing that can be computed from it.
 *
 * Frame: right-handed metres, x right and y up on the plan, z up. Pan 0 looks along +y and turns clockwise seen from
 * above; tilt is up from level; roll is clockwise seen from behind the thing. Angles are kept in degrees as typed.
 * Every type of the document is inferred from these schemas; the JSON Schema in docs/ is written from them.
 */
import { z } from 'zod';
import {
  coordinate,
  sizeM,
  angleDeg,
  ratio,
  amount,
  text,
  idSchema,
  point3,
  outline,
  record,
  aimSchema,
  poseSchema,
  modifierShapeSchema,
  surfaceShapeSchema,
  colourSchema,
} from './schemaParts';
import { dimensionSchema, planPictureSchema } from './schemaPlan';
import type { lampSchema, sunSchema } from './schemaSources';
import {
  basisSchema,
  distributionSchema,
  emitterSchema,
  fullAngleDeg,
  outputSchema,
  powerSchema,
  sourceSchema,
} from './schemaSources';

export const SCENE_FORMAT = 'farsun-scene';
export const SCENE_FORMAT_VERSION = 1;

// --- surfaces -------------------------------------------------------------------------------------------------

const windowSchema = z.strictObject({
  columns: z.int().min(1).max(50),
  rows: z.int().min(1).max(50),
  barWidthM: z.number().nonnegative().max(10),
  frameWidthM: z.number().nonnegative().max(10).optional(),
  barDepthM: z.number().nonnegative().max(10).optional().meta({
    description: 'depth of the bars behind the lit inner face; the middle of the wall if absent',
  }),
  glass: z
    .strictObject({
      transmittance: ratio.optional().meta({ description: 'at any angle; not used beside any of the others' }),
      refractiveIndex: z.number().min(1).max(4).optional().meta({ description: '1.52 beside the others' }),
      absorptionPerM: amount.optional().meta({ description: '0 beside the others' }),
      thicknessM: sizeM.optional().meta({ description: '0.004 beside the others' }),
    })
    .optional(),
  blind: z
    .strictObject({
      pitchM: sizeM,
      slatWidthM: sizeM,
      tiltDeg: angleDeg.meta({ description: '0 level; at 30, light that comes down at 30 meets the slats edge on' }),
      depthM: z.number().max(10).optional().meta({
        description: "depth of the slats' middles behind the lit inner face; half a slat's width if absent",
      }),
    })
    .optional(),
});
export const openingSchema = z.strictObject({
  name: text.optional(),
  leftM: coordinate.meta({ description: 'from the surface origin to the left edge, seen from the lit side' }),
  sillM: coordinate,
  shape: surfaceShapeSchema,
  window: windowSchema.optional(),
});

export const surfaceSchema = z.strictObject({
  name: text,
  kind: z.enum(['wall', 'floor', 'ceiling', 'backdrop', 'top', 'readingPlane']),
  pose: poseSchema.meta({ description: 'origin of the outline: lower left corner seen from the lit side' }),
  shape: surfaceShapeSchema,
  reflectance: ratio.optional(),
  finish: text.optional(),
  thicknessM: z.number().nonnegative().max(100).optional(),
  openings: record(openingSchema).optional(),
  judgedAreaM: outline.optional(),
  locked: z.boolean().optional(),
  hidden: z.boolean().optional(),
});

// --- grip -----------------------------------------------------------------------------------------------------

export const roleSchema = z.enum(['set', 'cut', 'shade', 'spread']);
const weaveSchema = z.enum(['plain', 'woven']);
export const materialSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('opaque') }),
  z.strictObject({
    kind: z.literal('net'),
    stops: z.number().positive().max(10),
    weave: weaveSchema.optional().meta({ description: 'woven (denser seen at a slant) if absent' }),
  }),
  z.strictObject({
    kind: z.literal('wireScrim'),
    stops: z.number().positive().max(10),
    weave: weaveSchema.optional(),
  }),
  z.strictObject({ kind: z.literal('diffusion'), directTransmittance: ratio, diffuseTransmittance: ratio }),
  z.strictObject({
    kind: z.literal('gel'),
    transmittance: ratio,
    miredShift: z.number().min(-1000).max(1000).optional(),
    greenShift: z.number().min(-0.05).max(0.05).optional(),
  }),
  z.strictObject({ kind: z.literal('bounce'), reflectance: ratio }),
  z.strictObject({ kind: z.literal('mirror'), reflectance: ratio }),
]);
export const modifierSchema = z.strictObject({
  name: text,
  pose: poseSchema.meta({ description: 'centre of the shape, and the way its face looks' }),
  shape: modifierShapeSchema,
  material: materialSchema,
  role: roleSchema.optional(),
  frame: z
    .strictObject({ rodWidthM: sizeM, openSides: z.array(z.enum(['left', 'right', 'top', 'bottom'])).optional() })
    .optional(),
  kitId: idSchema.optional(),
  notes: text.optional(),
  locked: z.boolean().optional(),
  hidden: z.boolean().optional(),
});

// --- meters, camera, story, kit, setups -------------------------------------------------------------------------

export const meterSchema = z.strictObject({
  name: text,
  positionM: point3,
  receptor: z.enum(['flat', 'dome']),
  aim: aimSchema,
  reading: z.strictObject({ illuminanceLx: amount, takenAt: text.optional() }).optional(),
  locked: z.boolean().optional(),
  hidden: z.boolean().optional(),
});

export const cameraSchema = z.strictObject({
  iso: z.number().min(1).max(10_000_000),
  framesPerSecond: z.number().gt(0).max(100_000),
  shutterAngleDeg: z.number().gt(0).max(360),
  tStop: z.number().min(0.1).max(1000),
  whiteBalanceK: z.number().min(1000).max(25000).optional(),
  offsetStops: z.number().min(-20).max(20).optional(),
  incidentConstantFlat: z.number().min(100).max(1000).optional().meta({ description: 'ISO 2720 C, 250 if absent' }),
  incidentConstantDome: z.number().min(100).max(1000).optional().meta({ description: 'ISO 2720 C, 340 if absent' }),
  pose: poseSchema.optional(),
  horizontalViewDeg: fullAngleDeg.optional(),
});

/** Up to `good` a figure reads as sun, up to `passable` it passes. */
const limitsSchema = (most: number, least = 0) =>
  z.strictObject({ good: z.number().min(least).max(most), passable: z.number().min(least).max(most) }).optional();
const MOST_STOPS = 10;
/** In place of the judgement's own limits, figure by figure; units as the figure's. */
const sunLimitsSchema = z
  .strictObject({
    fallOff: limitsSchema(MOST_STOPS),
    fan: limitsSchema(180),
    lineFan: limitsSchema(180),
    edge: limitsSchema(1000, 1).meta({ description: 'times the width of the sun’s edge' }),
    crispEdge: limitsSchema(MOST_STOPS).meta({ description: 'stops by which an edge is crisper than the sun’s' }),
    step: limitsSchema(MOST_STOPS),
    fill: limitsSchema(1).meta({ description: 'share of the opening left unfilled' }),
    height: limitsSchema(89),
    windowSpread: limitsSchema(180),
    windowLevel: limitsSchema(MOST_STOPS),
    colour: limitsSchema(1000),
    duv: limitsSchema(0.05),
    haze: limitsSchema(180),
  })
  .optional();

export const storySchema = z.strictObject({
  place: z
    .strictObject({
      name: text.optional(),
      latitudeDeg: z.number().min(-90).max(90),
      longitudeDeg: z.number().min(-180).max(180),
    })
    .optional(),
  date: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/)
    .optional(),
  clock: z
    .string()
    .regex(/^\d{2}:\d{2}$/)
    .optional(),
  utcOffsetHours: z.number().min(-14).max(14).optional(),
  pressureHPa: z.number().min(300).max(1200).optional(),
  temperatureC: z.number().min(-80).max(60).optional(),
  sun: z.strictObject({ altitudeDeg: z.number().min(-90).max(90), azimuthDeg: angleDeg }).optional(),
  playsSun: z
    .array(z.strictObject({ sourceId: idSchema, surfaceId: idSchema }))
    .max(200)
    .optional(),
  keyMeterId: idSchema.optional(),
  keyLx: amount.optional(),
  ambienceLx: amount.optional(),
  targetOverKeyStops: z.number().min(-20).max(20).optional(),
  edgeDistanceM: sizeM.optional().meta({ description: 'distance from the story window to the surface' }),
  haze: z.boolean().optional(),
  limits: sunLimitsSchema,
  lampSpace: z
    .strictObject({
      insideM: z.array(outline).max(50).optional(),
      outsideM: z.array(outline).max(50).optional(),
      ceilingHeightM: sizeM.optional(),
    })
    .optional(),
});

export const kitEntrySchema = z.strictObject({
  name: text,
  kind: z.enum(['lamp', 'grip', 'stand', 'cable', 'distribution', 'other']),
  count: z.int().min(0).max(100_000),
  typical: z.boolean().optional(),
  lamp: z
    .strictObject({
      emitter: emitterSchema,
      distribution: distributionSchema,
      output: outputSchema,
      colour: colourSchema.optional(),
      basis: basisSchema.optional(),
      power: powerSchema.optional(),
    })
    .optional(),
  grip: z.strictObject({ shape: modifierShapeSchema, material: materialSchema }).optional(),
  notes: text.optional(),
});
export const circuitSchema = z.strictObject({
  name: text,
  voltageV: z.number().gt(0).max(1000),
  breakerA: z.number().gt(0).max(10_000),
  phase: z.enum(['1', '2', '3']).optional(),
  cable: z.strictObject({ lengthM: sizeM, areaMm2: z.number().gt(0).max(1000) }).optional(),
});
export const webSchema = z.strictObject({ name: text, fileName: text.optional(), text: z.string().max(2_000_000) });

const workSchema = z.strictObject({
  minutes: z.number().min(0).max(1000).optional(),
  minutesEachPiece: z.number().min(0).max(1000).optional(),
  hands: z.int().min(0).max(100).optional(),
});
export const mendWorkSchema = z
  .strictObject({
    backOff: workSchema.optional(),
    swing: workSchema.optional(),
    feather: workSchema.optional(),
    halfScrim: workSchema.optional(),
    staggeredNets: workSchema.optional(),
    mirror: workSchema.optional(),
    narrowerSpot: workSchema.optional(),
  })
  .meta({ description: 'minutes and hands that a mend takes this crew; typical figures for what is absent' });

export const markSchema = z.strictObject({ name: text, positionM: point3 });
export const groupSchema = z.strictObject({ name: text, memberIds: z.array(idSchema).max(1000) });

export const setupSchema = z.strictObject({
  id: idSchema,
  name: text,
  notes: text.optional(),
  sources: record(sourceSchema),
  modifiers: record(modifierSchema),
});

export const displaySchema = z.strictObject({
  length: z.enum(['metres', 'feet']).optional(),
  illuminance: z.enum(['lux', 'footcandles']).optional(),
});
export const titleBlockSchema = z.strictObject({
  title: text.optional(),
  sheet: text.optional(),
  by: text.optional(),
  revisions: z.array(text).max(100).optional(),
});

export const sceneSchema = z
  .strictObject({
    format: z.literal(SCENE_FORMAT),
    formatVersion: z.literal(SCENE_FORMAT_VERSION),
    name: text,
    production: text.optional(),
    notes: text.optional(),
    northDeg: angleDeg.optional().meta({ description: 'where north lies on the plan, clockwise from +y; 0 if absent' }),
    display: displaySchema.optional(),
    camera: cameraSchema,
    story: storySchema.optional(),
    surfaces: record(surfaceSchema),
    meters: record(meterSchema),
    marks: record(markSchema).optional(),
    groups: record(groupSchema).optional(),
    pictures: record(planPictureSchema).optional(),
    dimensions: record(dimensionSchema).optional(),
    setups: z.array(setupSchema).min(1).max(100),
    kit: record(kitEntrySchema).optional(),
    circuits: record(circuitSchema).optional(),
    webs: record(webSchema).optional(),
    mendWork: mendWorkSchema.optional(),
    titleBlock: titleBlockSchema.optional(),
  })
  .meta({ id: 'Scene', description: 'A Farsun scene, format version 1' });

export type SceneDocument = z.infer<typeof sceneSchema>;
export type Setup = z.infer<typeof setupSchema>;
export type Source = z.infer<typeof sourceSchema>;
export type Lamp = z.infer<typeof lampSchema>;
export type Sun = z.infer<typeof sunSchema>;
export type Surface = z.infer<typeof surfaceSchema>;
export type Opening = z.infer<typeof openingSchema>;
export type Modifier = z.infer<typeof modifierSchema>;
export type Meter = z.infer<typeof meterSchema>;
export type Web = z.infer<typeof webSchema>;
export type KitEntry = z.infer<typeof kitEntrySchema>;
export type Camera = z.infer<typeof cameraSchema>;
export type Story = z.infer<typeof storySchema>;
export type Pose = z.infer<typeof poseSchema>;
export type Aim = z.infer<typeof aimSchema>;
export type Emitter = z.infer<typeof emitterSchema>;
export type Distribution = z.infer<typeof distributionSchema>;
export type Output = z.infer<typeof outputSchema>;
export type Material = z.infer<typeof materialSchema>;
export type ModifierShape = z.infer<typeof modifierShapeSchema>;
export type SurfaceShape = z.infer<typeof surfaceShapeSchema>;
export type Colour = z.infer<typeof colourSchema>;
export type Role = z.infer<typeof roleSchema>;
export type Basis = z.infer<typeof basisSchema>;
export type Point3 = readonly [x: number, y: number, z: number];
export type Point2 = readonly [right: number, up: number];

export const isLamp = (source: Source): source is Lamp => source.type === 'lamp';

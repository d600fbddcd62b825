/** What gives light in the document: a lamp's emitter, distribution, output, accessories, power and control; the sun. */
import { z } from 'zod';
import { sizeM, angleDeg, ratio, amount, text, idSchema, poseSchema, colourSchema } from './schemaParts';

export const emitterSchema = z.discriminatedUnion('shape', [
  z.strictObject({ shape: z.literal('point') }),
  z.strictObject({ shape: z.literal('disc'), diameterM: sizeM }),
  z.strictObject({
    shape: z.literal('rectangle'),
    widthM: sizeM,
    heightM: sizeM,
    cells: z
      .strictObject({
        count: z.int().min(1).max(64),
        glowShare: z.number().gt(0).max(1).optional().meta({ description: 'glowing part of a cell; 1 if absent' }),
        levels: z
          .array(ratio)
          .min(1)
          .max(64)
          .optional()
          .meta({ description: 'one a cell, from the left, seen from behind the lamp' }),
      })
      .optional()
      .meta({ description: 'a strip of equal cells along its width, each dimmed on its own' }),
  }),
  z.strictObject({
    shape: z.literal('tube'),
    lengthM: sizeM,
    diameterM: sizeM,
    litSectorDeg: z
      .number()
      .gt(0)
      .max(360)
      .optional()
      .meta({ description: 'the part of its round that glows, about its aim; all of it if absent' }),
  }),
  z.strictObject({ shape: z.literal('sphere'), diameterM: sizeM }),
]);

export const fullAngleDeg = z.number().gt(0).lt(180);
const shutterSchema = z.strictObject({
  offsetDeg: z.number().min(-90).max(90).meta({ description: 'angle from the axis to the cut' }),
  turnDeg: angleDeg.meta({ description: 'side the light is cut from: 0 right, 90 top, seen from behind the lamp' }),
  edgeWidthDeg: z.number().gt(0).max(45),
});
const sharePoint = z.tuple([z.number().min(-2).max(2), z.number().min(-2).max(2)]);
const patternCommon = {
  turnDeg: angleDeg.optional().meta({ description: 'counter-clockwise, seen from behind the lamp' }),
  edgeWidthDeg: z
    .number()
    .gt(0)
    .max(45)
    .optional()
    .meta({ description: 'softness of its edges, 0.2 if absent; never wider than the metal between two holes' }),
};
/** Holes in a plate at the gate. Sizes are shares of the field's radius; the seeded kind was there first and has no name. */
const gatePatternSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('seeded').optional(),
    seed: z.int().min(0),
    holes: z.int().min(1).max(200),
    ...patternCommon,
  }),
  z.strictObject({
    kind: z.literal('panes'),
    columns: z.int().min(1).max(12),
    rows: z.int().min(1).max(12),
    barShare: z.number().min(0.01).max(0.95).meta({ description: "a bar's width as a share of a pane with its bar" }),
    heightOverWidth: z.number().min(0.1).max(10).optional(),
    ...patternCommon,
  }),
  z.strictObject({
    kind: z.literal('slats'),
    slats: z.int().min(1).max(60),
    openShare: z.number().min(0.05).max(0.99),
    ...patternCommon,
  }),
  z.strictObject({
    kind: z.literal('shapes'),
    outlines: z.array(z.array(sharePoint).min(3).max(24)).min(1).max(200),
    ...patternCommon,
  }),
]);
export const distributionSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('uniform') }),
  z.strictObject({ kind: z.literal('lambertian') }),
  z.strictObject({ kind: z.literal('cosinePower'), exponent: z.number().min(0).max(10000) }),
  z.strictObject({
    kind: z.literal('beam'),
    beamAngleDeg: fullAngleDeg.meta({ description: 'full angle at 50 % of peak' }),
    fieldAngleDeg: fullAngleDeg.optional().meta({ description: 'full angle at 10 % of peak' }),
    virtualOriginM: z.number().nonnegative().max(100).optional(),
  }),
  z.strictObject({
    kind: z.literal('projection'),
    fieldAngleDeg: fullAngleDeg.meta({ description: 'full angle at half value of the field edge' }),
    edgeWidthDeg: z.number().gt(0).max(45),
    peaking: z.number().min(0).max(20).optional(),
    focusM: sizeM.optional(),
    shutters: z.array(shutterSchema).max(4).optional(),
    pattern: gatePatternSchema.optional(),
  }),
  z.strictObject({
    kind: z.literal('lensed'),
    lensDiameterM: sizeM,
    focalLengthM: sizeM,
    sourceDiameterM: sizeM,
    lampToLensM: sizeM,
    beamAngleDeg: fullAngleDeg,
    fieldAngleDeg: fullAngleDeg.optional(),
  }),
  z.strictObject({ kind: z.literal('web'), webId: idSchema }).meta({
    description: 'a photometric file; a point emitter then stands for the luminous opening in the file',
  }),
]);

export const outputSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('candela'), candela: amount }),
  z.strictObject({ kind: z.literal('lumens'), lumens: amount }),
  z.strictObject({ kind: z.literal('luxAt'), illuminanceLx: amount, distanceM: sizeM }),
  z.strictObject({ kind: z.literal('luminance'), luminanceCdM2: amount }),
  z.strictObject({ kind: z.literal('file'), factor: z.number().positive().max(1000).optional() }).meta({
    description: 'as the photometric file says, all its factors in, times the factor that meter readings give',
  }),
  z.strictObject({
    kind: z.literal('readings'),
    readings: z
      .array(z.strictObject({ distanceM: sizeM, illuminanceLx: amount }))
      .min(1)
      .max(100),
  }),
]);

/** How far black foil or tape reaches in from the rim of a lit face, m. */
const blackenedM = z.number().nonnegative().max(100).optional();
const accessorySchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('wireScrim'),
    stops: z.number().positive().max(10),
    half: z.strictObject({ clockDeg: angleDeg }).optional(),
    slotM: z.number().nonnegative().max(5).optional(),
  }),
  z.strictObject({
    kind: z.literal('barnDoors'),
    leaves: z
      .array(
        z.strictObject({
          turnDeg: angleDeg.meta({ description: 'side the leaf hangs on: 0 right, 90 top, seen from behind the lamp' }),
          openDeg: angleDeg.meta({ description: '0 shut over the front, 90 straight ahead, 180 folded flat outwards' }),
          lengthM: sizeM,
        }),
      )
      .max(8),
  }),
  z.strictObject({ kind: z.literal('snoot'), lengthM: sizeM, diameterM: sizeM }),
  z.strictObject({ kind: z.literal('eggCrate'), cellM: sizeM, depthM: sizeM, wallM: amount.optional() }),
  z
    .strictObject({
      kind: z.literal('blackEdges'),
      leftM: blackenedM,
      rightM: blackenedM,
      topM: blackenedM,
      bottomM: blackenedM,
      ringM: blackenedM,
    })
    .meta({
      description:
        'left and right as seen from behind; a tube has these two ends, a round face or a lens a ring all round',
    }),
  z.strictObject({
    kind: z.literal('gel'),
    name: text.optional(),
    transmittance: ratio,
    miredShift: z.number().min(-1000).max(1000).optional(),
    greenShift: z
      .number()
      .min(-0.05)
      .max(0.05)
      .optional()
      .meta({ description: 'added to Duv; positive is towards green' }),
  }),
]);

export const powerSchema = z.strictObject({
  mainsW: amount.optional(),
  powerFactor: z.number().gt(0).max(1).optional(),
  batteryWh: amount.optional(),
  batteryLimitW: amount.optional(),
  circuitId: idSchema.optional(),
});
const controlSchema = z.strictObject({
  universe: z.int().min(1).max(63999),
  startAddress: z.int().min(1).max(512),
  footprint: z.int().min(1).max(512),
  mode: text.optional(),
  gangId: idSchema.optional(),
  radio: z.boolean().optional(),
});
/** How well a level is known: a class figure is good to a stop, a file to 10 %, a metered lamp to 15 %. */
export const basisSchema = z.enum(['typical', 'file', 'metered']);

const sourceCommon = {
  name: text,
  level: ratio.optional().meta({ description: '0 to 1, linear in light; 1 if absent' }),
  off: z.boolean().optional(),
  colour: colourSchema.optional(),
  notes: text.optional(),
  locked: z.boolean().optional(),
  hidden: z.boolean().optional(),
};
export const lampSchema = z.strictObject({
  type: z.literal('lamp'),
  ...sourceCommon,
  unit: text.optional(),
  symbol: z
    .enum(['point', 'lensedSpot', 'projectionSpot', 'panel', 'tube', 'mat', 'sphere', 'openFace', 'discharge', 'strip'])
    .optional(),
  pose: poseSchema,
  emitter: emitterSchema,
  distribution: distributionSchema,
  output: outputSchema,
  basis: basisSchema.optional(),
  accessories: z.array(accessorySchema).max(20).optional(),
  kitId: idSchema.optional(),
  power: powerSchema.optional(),
  control: controlSchema.optional(),
  stand: z.strictObject({ name: text.optional(), bags: z.int().min(0).max(20).optional() }).optional(),
});
export const sunSchema = z.strictObject({
  type: z.literal('sun'),
  ...sourceCommon,
  altitudeDeg: z.number().min(-90).max(90),
  azimuthDeg: angleDeg.meta({ description: 'clockwise from true north' }),
  angularDiameterDeg: z.number().gt(0).max(10).optional().meta({ description: '0.533 if absent' }),
  normalIlluminanceLx: amount,
});
export const sourceSchema = z.discriminatedUnion('type', [lampSchema, sunSchema]);

/** What grip helpers have placed, kept beside the stored scene, so that it can be adjusted after a reload as before it. */
import { z } from 'zod';
import { modifierSchema, type SceneDocument } from '../../scene/schema';
import { lampSchema } from '../../scene/schemaSources';
import { DARK_SIDES } from '../../sim/grip/gripRequest';
import { stands, type GripMade } from '../grip/gripStore';

const lampAndSurface = { lampId: z.string(), surfaceId: z.string() };
const requestSchema = z.discriminatedUnion('helper', [
  z.strictObject({
    helper: z.literal('nets'),
    ...lampAndSurface,
    distanceM: z.number(),
    turnDeg: z.number(),
    nets: z.array(z.strictObject({ stops: z.number(), coverShare: z.number() })),
  }),
  z.strictObject({
    helper: z.literal('flag'),
    lampId: z.string(),
    dark: z.strictObject({ surfaceId: z.string(), side: z.enum(DARK_SIDES), lineM: z.number() }),
    wantedSurfaceId: z.string(),
    distanceM: z.number(),
    edge: z.enum(['dark', 'half']),
  }),
  z.strictObject({ helper: z.literal('mirror'), ...lampAndSurface, pathM: z.number(), way: z.number() }),
  z.strictObject({
    helper: z.literal('halfScrim'),
    ...lampAndSurface,
    grades: z.array(z.number()),
    clockDeg: z.number(),
  }),
]);
const rigSchema = z
  .strictObject({
    setupId: z.string(),
    lampId: z.string(),
    request: requestSchema,
    pieces: z.record(z.string(), modifierSchema),
    lampBefore: lampSchema,
    lampAfter: lampSchema,
  })
  .refine(({ lampId, request }) => lampId === request.lampId);
export type StoredRig = z.infer<typeof rigSchema>;

/** Each adjustment leaves one more behind; so many of the latest are enough. */
const MOST_RIGS = 100;

/** Those that still stand in the scene, as plain data. */
export const rigsToStore = (made: readonly GripMade[], scene: SceneDocument): StoredRig[] =>
  made.slice(-MOST_RIGS).flatMap((one): StoredRig[] => {
    if (one.request === null || !stands(scene, one)) return [];
    const { setupId, lampId, request, pieces, lampBefore, lampAfter } = one;
    return [structuredClone({ setupId, lampId, request, pieces, lampBefore, lampAfter }) as StoredRig];
  });

/** Stored rigs as far as they are sound and stand in the scene; the rest is left out, since the scene holds without it. */
export function rigsFromStore(stored: unknown, scene: SceneDocument): GripMade[] {
  return (Array.isArray(stored) ? stored : [])
    .flatMap((one) => rigSchema.safeParse(one).data ?? [])
    .map((rig, index): GripMade => ({ ...rig, id: `made-${index + 1}`, helper: rig.request.helper }))
    .filter((rig) => stands(scene, rig));
}

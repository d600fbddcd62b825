/** What lies on the plan beside the set itself: pictures of a plan under it, and dimensions that stay. */
import { z } from 'zod';
import { angleDeg, coordinate, idSchema, point3, ratio, text } from './schemaParts';

/** Longest side of a stored picture, pixels, and most characters of its data URL (1.5 MB of picture). */
export const MOST_PICTURE_PX = 2048;
export const MOST_PICTURE_CHARS = 2_000_000;

const pixels = z.int().min(1).max(MOST_PICTURE_PX);
export const planPictureSchema = z.strictObject({
  name: text,
  image: z
    .string()
    .max(MOST_PICTURE_CHARS)
    .regex(/^data:image\/(?:png|jpeg|webp);base64,[A-Za-z0-9+/]+={0,2}$/)
    .meta({ description: 'the picture itself, PNG, JPEG or WebP, as a data URL' }),
  widthPx: pixels,
  heightPx: pixels,
  metresPerPixel: z.number().min(1e-5).max(100),
  positionM: point3.meta({ description: 'where the middle of the picture lies on the plan' }),
  turnDeg: angleDeg.optional().meta({ description: 'clockwise seen from above; 0 if absent' }),
  opacity: ratio.optional().meta({ description: '0.5 if absent' }),
  keepsColours: z.boolean().optional().meta({
    description: 'shown in its own colours on a dark ground too; absent: dark lines on paper turn light on dark',
  }),
  locked: z.boolean().optional(),
  hidden: z.boolean().optional(),
});

/** Where a dimension ends: at a place, or at a thing that it follows. */
const freeEndSchema = z.strictObject({ atM: point3 });
const tiedEndSchema = z.strictObject({
  kind: z.enum(['source', 'modifier', 'meter', 'mark', 'surface', 'opening']),
  id: idSchema,
  surfaceId: idSchema.optional().meta({ description: 'the wall of an opening' }),
  side: z.enum(['left', 'right']).optional().meta({
    description: 'which end of a wall, or jamb of an opening, seen from the lit side; the middle if absent',
  }),
});
export const dimensionSchema = z.strictObject({
  name: text,
  from: z.union([freeEndSchema, tiedEndSchema]),
  to: z.union([freeEndSchema, tiedEndSchema]),
  offsetM: coordinate.optional().meta({
    description: 'how far the line stands off, to the left of the way from one end to the other; 0.5 if absent',
  }),
  locked: z.boolean().optional(),
  hidden: z.boolean().optional(),
});

export type PlanPicture = z.infer<typeof planPictureSchema>;
export type Dimension = z.infer<typeof dimensionSchema>;
export type TiedEnd = z.infer<typeof tiedEndSchema>;
export type DimensionEnd = Dimension['from'];
export const PICTURE_OPACITY = 0.5;
export const DIMENSION_OFFSET_M = 0.5;

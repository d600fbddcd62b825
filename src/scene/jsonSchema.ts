/** The JSON Schema of scene files, for those who write them by hand or by script. */
import { z } from 'zod';
import { sceneSchema } from './schema';

/** Text of docs/scene.schema.json: what the schema takes as input. It cannot say what invariants.ts says. */
export function sceneJsonSchemaText(): string {
  return `${JSON.stringify(z.toJSONSchema(sceneSchema, { io: 'input' }), null, 2)}\n`;
}

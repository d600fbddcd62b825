/** Writes docs/scene.schema.json, the JSON Schema of scene files, from the schema in src/scene. Run after a change there. */
import { writeFileSync } from 'node:fs';
import { sceneJsonSchemaText } from '../src/scene/jsonSchema';

writeFileSync(new URL('../docs/scene.schema.json', import.meta.url), sceneJsonSchemaText());

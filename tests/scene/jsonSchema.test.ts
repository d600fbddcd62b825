import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { sceneJsonSchemaText } from '../../src/scene/jsonSchema';

test('docs/scene.schema.json is in step with the schema (npx tsx scripts/write-schema.ts writes it)', () => {
  const written = readFileSync(new URL('../../docs/scene.schema.json', import.meta.url), 'utf8');
  expect(written).toBe(sceneJsonSchemaText());
  expect(JSON.parse(written)).toMatchObject({ $ref: '#/$defs/Scene' });
});

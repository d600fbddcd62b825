/** From a document to the text of its file. */
import { sceneSchema, type SceneDocument } from './schema';

/**
 * The document as JSON: fields in the order of the schema, ids in the order they were put in, two spaces, a last line end.
 * Loading it gives an equal document.
 * @throws {z.ZodError} if the document does not fit the schema, which no document made by load or commands can
 */
export function saveScene(document: SceneDocument): string {
  return `${JSON.stringify(sceneSchema.parse(document), null, 2)}\n`;
}

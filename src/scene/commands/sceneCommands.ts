/** Commands on the parts of a scene that there is only one of. */
import type { z } from 'zod';
import type { Path, Problem } from '../faults';
import { cameraProblems, storyProblems } from '../invariants';
import { cameraSchema, displaySchema, sceneSchema, storySchema, titleBlockSchema, type SceneDocument } from '../schema';
import { refuse, type CommandResult, type ReadCommand, type ScenePart } from './types';
import { acceptIfSound, patched } from './values';

const { name, production, notes, northDeg, mendWork } = sceneSchema.shape;
const SHAPES: Readonly<Record<ScenePart, Readonly<Record<string, z.ZodType>>>> = {
  camera: cameraSchema.shape,
  story: storySchema.shape,
  display: displaySchema.shape,
  titleBlock: titleBlockSchema.shape,
  scene: { name, production, notes, northDeg, mendWork },
};

function partProblems(document: SceneDocument, part: ScenePart): Problem[] {
  if (part === 'camera') return cameraProblems(document.camera, ['camera']);
  return part === 'story' && document.story !== undefined ? storyProblems(document.story, ['story']) : [];
}

export function patchScene(
  document: SceneDocument,
  { part, fields, clear }: Extract<ReadCommand, { type: 'patchScene' }>,
): CommandResult {
  const before = part === 'scene' ? document : (document[part] ?? {});
  const path: Path = part === 'scene' ? [] : [part];
  const judged = patched(before, SHAPES[part], fields, clear ?? [], path);
  if (!judged.ok) return refuse(judged.fault);
  const next = (part === 'scene' ? judged.value : { ...document, [part]: judged.value }) as SceneDocument;
  return acceptIfSound(next, partProblems(next, part));
}

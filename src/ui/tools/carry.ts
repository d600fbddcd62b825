/** A drag or a nudge of one thing carries whatever is chosen with it. */
import type { ObjectRef } from '../../render/contract';
import type { Command, SingleCommand } from '../../scene/commands';
import type { SceneDocument } from '../../scene/schema';
import { subtract, type Vec3 } from '../../scene/geometry/vector';
import { moveBy } from './arrange';
import { commandFor } from './commandFor';
import type { Edit } from './edits';
import { anchorOf, isFixed, sameRef } from './things';

const singles = (command: Command): readonly SingleCommand[] =>
  command.type === 'sequence' ? command.commands : [command];

/** How far an edit moves its thing; null where it only aims or turns it. */
function moveOf(scene: SceneDocument, setupId: string, edit: Edit): Vec3 | null {
  const before = anchorOf(scene, setupId, edit.ref);
  if (!before || edit.kind === 'opening' || edit.kind === 'shutter' || edit.kind === 'figure') return null;
  const after = edit.kind === 'mark' ? edit.positionM : edit.pose.positionM;
  const deltaM = subtract(after, before);
  return deltaM.every((value) => value === 0) ? null : deltaM;
}

/** The command of an edit, with the same move for the other chosen things that can be moved. */
export function carryCommand(
  scene: SceneDocument,
  setupId: string,
  edit: Edit,
  chosen: readonly ObjectRef[],
): Command | null {
  const own = commandFor(scene, setupId, edit);
  if (!own || !chosen.some((ref) => sameRef(ref, edit.ref))) return own;
  const others = chosen.filter((ref) => !sameRef(ref, edit.ref) && !isFixed(scene, setupId, ref));
  const deltaM = moveOf(scene, setupId, edit);
  if (others.length === 0 || !deltaM) return own;
  const moved = moveBy({ scene, setupId }, [edit.ref, ...others], deltaM);
  if (!moved.ok) return own;
  // The leading thing keeps the exact digits of its own drag.
  const isOwn = (command: SingleCommand): boolean =>
    'at' in command && command.type === 'move' && command.at.id === edit.ref.id && command.at.kind === edit.ref.kind;
  const rest = singles(moved.command).filter((command) => !isOwn(command));
  return { type: 'sequence', label: `Move ${others.length + 1} things`, commands: [...singles(own), ...rest] };
}

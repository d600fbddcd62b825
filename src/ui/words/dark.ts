/** When no light arrives where the drawings show it: what is dark, and why as far as the scene itself tells. */
import type { SceneDocument } from '../../scene/schema';
import type { ResultsState } from '../stores/results';
import { setupOf } from '../tools/things';
import { listed } from './format';

/** Why nothing is lit, to stand after a colon. */
export function darkReason(document: SceneDocument, setupId: string): string {
  const sources = Object.values(setupOf(document, setupId)?.sources ?? {});
  if (sources.length === 0) return 'the setup has no lamp';
  if (sources.every((source) => source.off === true || source.level === 0)) return 'every lamp is off or at 0 %';
  return 'walls or grip stand in the way, or the lamps look elsewhere';
}

/**
 * The caution that nothing is lit.
 * @returns null while a map is on its way, before there is one, and where any shown surface has light
 */
export function darkCaution(
  document: SceneDocument,
  setupId: string,
  { fields, status, revision }: Pick<ResultsState, 'fields' | 'status' | 'revision'>,
): string | null {
  if (status.kind !== 'current') return null;
  const maps = Object.entries(fields).filter(([id, field]) => field.revision === revision && document.surfaces[id]);
  if (maps.length === 0) return null;
  if (maps.some(([, { result }]) => result.illuminanceLx.some((level) => level > 0))) return null;
  const names = maps.map(([id]) => document.surfaces[id]?.name ?? id);
  return `No light reaches ${listed(names)}: ${darkReason(document, setupId)}.`;
}

/** What becomes of a photometric file that somebody brings in: a command on the scene, and what is said of it. */
import type { Command, SingleCommand } from '../scene/commands';
import type { KitEntry, Lamp, SceneDocument } from '../scene/schema';
import { keywordText, type PhotometricFile } from '../scene/webs/photometricFile';
import { webFigures } from '../sim/photometry/web/figures';
import { gridOf } from '../sim/photometry/web/grid';
import { freeKitId } from './kitCommands';
import { freshId, newLamp } from './newThings';
import { setupOf } from './tools/things';
import { formatNumber } from './words/format';

export interface BroughtIn {
  readonly command: Command;
  /** The lamp that has the file now. */
  readonly lampId: string;
  readonly said: string;
}
export interface OpenedWeb {
  readonly fileName: string;
  readonly text: string;
  readonly file: PhotometricFile;
}

const MOST_NAME = 80;

function webNameOf({ file, fileName }: OpenedWeb): string {
  const name = keywordText(file, 'LUMINAIRE', 'LUMCAT') ?? fileName.replace(/\.[^.]*$/, '');
  return name.slice(0, MOST_NAME);
}

/** Id of the same text that the scene has already, or a new one. */
function webIdFor(scene: SceneDocument, text: string): { id: string; isNew: boolean } {
  const known = Object.entries(scene.webs ?? {}).find(([, web]) => web.text === text);
  if (known) return { id: known[0], isNew: false };
  let count = 1;
  while (scene.webs && Object.hasOwn(scene.webs, `web-${count}`)) count += 1;
  return { id: `web-${count}`, isNew: true };
}

/** What a lamp takes from a file: its light, its output, its opening, and how well both are known. */
const lightOf = (webId: string) =>
  ({
    distribution: { kind: 'web', webId },
    output: { kind: 'file' },
    emitter: { shape: 'point' },
    basis: 'file',
  }) as const satisfies Partial<Lamp>;

/** Whether a file serves other lamps than this one, or the kit. */
function isUsedElsewhere(scene: SceneDocument, webId: string, setupId: string, lampId: string): boolean {
  const uses = (lamp: Pick<Lamp, 'distribution'> | undefined): boolean =>
    lamp?.distribution.kind === 'web' && lamp.distribution.webId === webId;
  const inSetups = scene.setups.some((setup) =>
    Object.entries(setup.sources).some(
      ([id, source]) => source.type === 'lamp' && uses(source) && !(setup.id === setupId && id === lampId),
    ),
  );
  return inSetups || Object.values(scene.kit ?? {}).some((entry) => uses(entry.lamp));
}

/**
 * Gives the file to an own lamp of the kit, or to a new one there.
 * @param entryId the kit entry that takes it; null for a new one
 */
export function bringInToKit(
  scene: SceneDocument,
  entryId: string | null,
  opened: OpenedWeb,
): { readonly command: Command; readonly said: string } {
  const { fileName, text } = opened;
  const { id: webId, isNew } = webIdFor(scene, text);
  const name = webNameOf(opened);
  const web = { name, fileName: fileName.slice(0, 200), text };
  const entry = entryId === null ? undefined : scene.kit?.[entryId];
  const light = entry?.lamp ?? {};
  const commands: SingleCommand[] = isNew ? [{ type: 'add', at: { kind: 'web', id: webId }, value: web }] : [];
  if (entry && entryId !== null) {
    const at = { kind: 'kitEntry', id: entryId } as const;
    commands.push({ type: 'patch', at, fields: { lamp: { ...light, ...lightOf(webId) }, typical: false } });
  } else {
    const value: KitEntry = { name, kind: 'lamp', count: 1, lamp: lightOf(webId) };
    commands.push({ type: 'add', at: { kind: 'kitEntry', id: freeKitId(scene) }, value });
  }
  return {
    command: { type: 'sequence', label: `Bring in ${fileName.slice(0, 100)}`, commands },
    said: `Kept in the kit: ${entry?.name ?? name}, from ${fileName}`,
  };
}

/**
 * Gives the file to a lamp, or to a new one in front of the shown surface.
 * @param lampId the lamp that takes it; null for a new one
 */
export function bringIn(
  scene: SceneDocument,
  setupId: string,
  surfaceId: string | null,
  lampId: string | null,
  opened: OpenedWeb,
): BroughtIn {
  const { fileName, text, file } = opened;
  const { id: webId, isNew } = webIdFor(scene, text);
  const found = lampId === null ? undefined : setupOf(scene, setupId)?.sources[lampId];
  const lamp = found?.type === 'lamp' ? found : null;
  const id = lamp && lampId !== null ? lampId : freshId(scene, 'lamp');
  const at = { kind: 'source', setupId, id } as const;
  const web = { name: webNameOf(opened), fileName: fileName.slice(0, 200), text };
  const commands: SingleCommand[] = isNew ? [{ type: 'add', at: { kind: 'web', id: webId }, value: web }] : [];
  let name = lamp?.name ?? '';
  if (lamp) {
    commands.push({ type: 'patch', at, fields: lightOf(webId) });
    const before = lamp.distribution.kind === 'web' ? lamp.distribution.webId : webId;
    if (before !== webId && !isUsedElsewhere(scene, before, setupId, id)) {
      commands.push({ type: 'remove', at: { kind: 'web', id: before } });
    }
  } else {
    const made: Lamp = { ...newLamp(scene, setupId, surfaceId), ...lightOf(webId), unit: web.name, symbol: 'point' };
    name = made.name;
    commands.push({ type: 'add', at, value: made });
  }
  const { fluxLm, peakCd } = webFigures(gridOf(file));
  const figures = `${formatNumber(fluxLm)} lm, peak ${formatNumber(peakCd)} cd`;
  return {
    command: { type: 'sequence', label: `Bring in ${fileName.slice(0, 100)}`, commands },
    lampId: id,
    said: `Brought in: ${fileName}, ${figures}. ${name} has it.`,
  };
}

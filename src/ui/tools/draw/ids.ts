/** Ids and names that nothing in a scene has yet, several at a time. */
import type { SceneDocument } from '../../../scene/schema';

function takenIds(scene: SceneDocument): Set<string> {
  return new Set([
    ...Object.keys(scene.surfaces),
    ...Object.values(scene.surfaces).flatMap((surface) => Object.keys(surface.openings ?? {})),
    ...Object.keys(scene.meters),
    ...Object.keys(scene.marks ?? {}),
    ...Object.keys(scene.groups ?? {}),
    ...Object.keys(scene.pictures ?? {}),
    ...Object.keys(scene.dimensions ?? {}),
    ...scene.setups.flatMap((setup) => [setup.id, ...Object.keys(setup.sources), ...Object.keys(setup.modifiers)]),
  ]);
}
function takenNames(scene: SceneDocument): Set<string> {
  const things: readonly { readonly name?: string | undefined }[] = [
    ...Object.values(scene.surfaces),
    ...Object.values(scene.surfaces).flatMap((surface) => Object.values(surface.openings ?? {})),
    ...Object.values(scene.meters),
    ...Object.values(scene.marks ?? {}),
    ...Object.values(scene.groups ?? {}),
    ...Object.values(scene.pictures ?? {}),
    ...Object.values(scene.dimensions ?? {}),
    ...scene.setups.flatMap((setup) => [...Object.values(setup.sources), ...Object.values(setup.modifiers)]),
  ];
  return new Set(things.flatMap(({ name }) => (name === undefined ? [] : [name])));
}

function firstFree(taken: Set<string>, of: (count: number) => string): string {
  let count = 1;
  while (taken.has(of(count))) count += 1;
  const found = of(count);
  taken.add(found);
  return found;
}

/** Hands out ids ("wall-1") and names ("Wall 1", "L3"), each once. */
export interface Labels {
  id(stem: string): string;
  name(stem: string): string;
  /** The bare word where it is free, else as `name`. */
  onlyName(word: string): string;
}
export function freshLabels(scene: SceneDocument): Labels {
  const [ids, names] = [takenIds(scene), takenNames(scene)];
  const name = (stem: string): string =>
    // "Wall 1" after a word, "L3" after a letter.
    firstFree(names, (count) => (stem.length > 1 ? `${stem} ${count}` : `${stem}${count}`));
  return {
    id: (stem) => firstFree(ids, (count) => `${stem}-${count}`),
    name,
    onlyName(word) {
      if (names.has(word)) return name(word);
      names.add(word);
      return word;
    },
  };
}

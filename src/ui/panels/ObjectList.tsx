import { useMemo, type ReactNode } from 'react';
import {
  Collection,
  Header,
  ListBox,
  ListBoxItem,
  ListBoxSection,
  ListLayout,
  Virtualizer,
} from 'react-aria-components';
import type { ObjectRef } from '../../render/contract';
import { measured } from '../../scene/dimensions';
import type { SceneDocument } from '../../scene/schema';
import { formatLength } from '../../scene/units/format';
import { useApp, useDocument, useSession } from '../app';
import { ThingSymbol } from '../parts/ThingSymbol';
import { chosenRefs } from '../tools/chosen';
import { useMedia } from '../parts/useMedia';
import { anchorOf, nameOf, openingOf, refKey, setupOf } from '../tools/things';
import { unitsOf, type Units } from '../words/format';

interface ListedThing {
  readonly key: string;
  readonly ref: ObjectRef;
  readonly name: string;
  readonly place: string;
}
interface ListedGroup {
  readonly name: string;
  readonly things: readonly ListedThing[];
}

function placeWords(document: SceneDocument, setupId: string, ref: ObjectRef, units: Units): string {
  if (ref.kind === 'surface') return document.surfaces[ref.id]?.kind === 'readingPlane' ? 'reading plane' : '';
  if (ref.kind === 'picture') return document.pictures?.[ref.id]?.hidden === true ? 'hidden' : '';
  const dimension = ref.kind === 'dimension' ? document.dimensions?.[ref.id] : undefined;
  if (dimension) {
    const found = measured(document, setupId, dimension);
    return found ? formatLength(found.lengthM, units.length) : 'not in this setup';
  }
  const anchor = anchorOf(document, setupId, ref);
  return anchor ? `h ${formatLength(anchor[2], units.length)}` : '';
}

/** The part of the scene that a line of the list tells of. */
function partOf(document: SceneDocument, setupId: string, ref: ObjectRef): object | undefined {
  const setup = setupOf(document, setupId);
  switch (ref.kind) {
    case 'source':
      return setup?.sources[ref.id];
    case 'modifier':
      return setup?.modifiers[ref.id];
    case 'opening':
      return openingOf(document, ref)?.opening;
    case 'surface':
      return document.surfaces[ref.id];
    case 'meter':
      return document.meters[ref.id];
    case 'mark':
      return document.marks?.[ref.id];
    case 'camera':
      return document.camera;
  }
}

const keptLines = new WeakMap<object, ListedThing>();

/** The same line for a thing that has not changed, so that the page leaves it as it stands. */
function listedThing(document: SceneDocument, setupId: string, ref: ObjectRef, units: Units): ListedThing {
  const fresh: ListedThing = {
    key: refKey(ref),
    ref,
    name: nameOf(document, setupId, ref),
    place: placeWords(document, setupId, ref, units),
  };
  const part = partOf(document, setupId, ref);
  if (!part) return fresh;
  const kept = keptLines.get(part);
  if (kept && kept.key === fresh.key && kept.name === fresh.name && kept.place === fresh.place) return kept;
  keptLines.set(part, fresh);
  return fresh;
}

/** Every thing of the setup that is shown, in the order lamps, grip, windows, walls, meters, camera. */
export function listedGroups(document: SceneDocument, setupId: string, units: Units): ListedGroup[] {
  const setup = setupOf(document, setupId);
  const refs = (kind: ObjectRef['kind'], ids: readonly string[]): ObjectRef[] => ids.map((id) => ({ kind, id }));
  const openings = Object.entries(document.surfaces).flatMap(([surfaceId, surface]) =>
    Object.keys(surface.openings ?? {}).map((id): ObjectRef => ({ kind: 'opening', id, surfaceId })),
  );
  const groups: readonly (readonly [string, readonly ObjectRef[]])[] = [
    ['Lamps and sun', refs('source', Object.keys(setup?.sources ?? {}))],
    ['Grip', refs('modifier', Object.keys(setup?.modifiers ?? {}))],
    ['Windows', openings],
    ['Walls and floors', refs('surface', Object.keys(document.surfaces))],
    ['Meters', refs('meter', Object.keys(document.meters))],
    ['Marks', refs('mark', Object.keys(document.marks ?? {}))],
    ['Dimensions', refs('dimension', Object.keys(document.dimensions ?? {}))],
    ['Pictures of a plan', refs('picture', Object.keys(document.pictures ?? {}))],
    ['Camera', document.camera.pose ? [{ kind: 'camera', id: 'camera' }] : []],
  ];
  return groups
    .filter(([, things]) => things.length > 0)
    .map(([name, things]) => ({
      name,
      things: things.map((ref) => listedThing(document, setupId, ref, units)),
    }));
}

/** From so many things on only the lines in view are made, and the list scrolls in a box of its own. */
const LONG_LIST = 100;
const [LINE_PX, TALL_LINE_PX, HEADING_PX] = [32, 44, 26];

function Lines({ isLong, children }: { readonly isLong: boolean; readonly children: ReactNode }) {
  const isCoarse = useMedia('(pointer: coarse)');
  if (!isLong) return children;
  const rowSize = isCoarse ? TALL_LINE_PX : LINE_PX;
  return (
    <Virtualizer layout={ListLayout} layoutOptions={{ rowSize, headingSize: HEADING_PX }}>
      {children}
    </Virtualizer>
  );
}

/** What the drawings show, as a list: for the keyboard, for screen readers, and for things that lie on each other. */
export function ObjectList() {
  const { actions, session } = useApp();
  // Not the draft: while something is dragged the list stands still.
  const document = useDocument((state) => state.history.present);
  const setupId = useSession((state) => state.setupId);
  const selection = useSession((state) => state.selection);
  const also = useSession((state) => state.also);
  const groups = useMemo(() => listedGroups(document, setupId, unitsOf(document)), [document, setupId]);
  const things = useMemo(() => groups.flatMap((group) => group.things), [groups]);
  const isLong = things.length > LONG_LIST;
  const refOf = (key: unknown): ObjectRef | null => things.find((thing) => thing.key === key)?.ref ?? null;
  return (
    <section className="card list" aria-labelledby="things-title">
      <header>
        <h2 id="things-title">In this scene</h2>
        <span>{things.length}</span>
      </header>
      <Lines isLong={isLong}>
        <ListBox
          className={isLong ? 'things long' : 'things'}
          aria-labelledby="things-title"
          aria-describedby="things-hint"
          items={groups}
          selectionMode="multiple"
          selectionBehavior="replace"
          selectedKeys={chosenRefs(document, setupId, { selection, also }).map(refKey)}
          onSelectionChange={(keys) => {
            const refs =
              keys === 'all' ? things.map((thing) => thing.ref) : [...keys].flatMap((key) => refOf(key) ?? []);
            const [only, second] = refs;
            if (only && !second) actions.select(only);
            else if (only) actions.choose(refs);
          }}
          onAction={(key) => {
            actions.select(refOf(key));
            window.document.getElementById(`drawing-${session.getState().activeSheet}`)?.focus();
          }}
        >
          {(group) => (
            <ListBoxSection id={group.name}>
              <Header className="things-heading">{group.name}</Header>
              <Collection items={group.things}>
                {(thing) => (
                  <ListBoxItem id={thing.key} textValue={thing.name} className="thing">
                    <ThingSymbol document={document} setupId={setupId} thing={thing.ref} />
                    <span>{thing.name}</span>
                    <small>{thing.place}</small>
                  </ListBoxItem>
                )}
              </Collection>
            </ListBoxSection>
          )}
        </ListBox>
      </Lines>
      <p className="small" id="things-hint">
        Arrow keys choose. Enter goes to the drawing, where arrow keys nudge the chosen thing by a centimetre (Shift
        ten, Alt a tenth).
      </p>
    </section>
  );
}

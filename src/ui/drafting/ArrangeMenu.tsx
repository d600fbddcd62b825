import { useRef, useState } from 'react';
import { type Key, Header, Menu, MenuItem, MenuSection, Popover, Separator } from 'react-aria-components';
import type { ObjectRef } from '../../render/contract';
import type { SceneDocument } from '../../scene/schema';
import { useApp, useDocument, useSession } from '../app';
import { alignTo, distribute, groupAll, removeAll, switchAll, ungroupAll } from '../tools/arrange';
import { chosenRefs, looseRefs } from '../tools/chosen';
import { nameOf } from '../tools/things';
import { arrange, chosenNow, whereOf } from './arranging';
import { ArrangeDialog, type Arrangement } from './ArrangeDialog';
import { startDraw } from './drafting';

/** Entries that ask for figures first. */
const WITH_FIGURES: readonly { readonly id: Arrangement; readonly name: string }[] = [
  { id: 'move', name: 'Move by' },
  { id: 'copy', name: 'Copy' },
  { id: 'mirror', name: 'Mirror' },
  { id: 'aim', name: 'Aim at' },
  { id: 'level', name: 'Level with' },
  { id: 'swing', name: 'Swing' },
];

function useActs(open: (arrangement: Arrangement) => void): Readonly<Record<string, () => void>> {
  const app = useApp();
  const { session, actions } = app;
  const now = () => [whereOf(app), chosenNow(app)] as const;
  const hiddenRefs = () => {
    const where = whereOf(app);
    const setup = where.scene.setups.find(({ id }) => id === where.setupId);
    const isHidden = (kind: string, id: string): boolean => {
      const record = { source: setup?.sources, modifier: setup?.modifiers, meter: where.scene.meters }[kind];
      return record?.[id]?.hidden === true;
    };
    return looseRefs(where.scene, where.setupId).filter(({ kind, id }) => isHidden(kind, id));
  };
  return {
    ...Object.fromEntries(WITH_FIGURES.map(({ id }) => [id, () => open(id)])),
    east: () => arrange(app, alignTo(...now(), 0)),
    north: () => arrange(app, alignTo(...now(), 1)),
    height: () => arrange(app, alignTo(...now(), 2)),
    distribute: () => arrange(app, distribute(...now())),
    group: () => arrange(app, groupAll(...now())),
    ungroup: () => arrange(app, ungroupAll(...now())),
    lock: () => arrange(app, switchAll(...now(), 'locked', true)),
    unlock: () => arrange(app, switchAll(...now(), 'locked', false)),
    hide: () => arrange(app, switchAll(...now(), 'hidden', true)),
    show: () => arrange(app, switchAll(whereOf(app), hiddenRefs(), 'hidden', false)),
    several: () => session.setState(({ several }) => ({ several: !several })),
    all: () => actions.choose(looseRefs(whereOf(app).scene, whereOf(app).setupId)),
    measure: () => startDraw(app, 'measure'),
    remove: () => arrange(app, removeAll(...now())),
  };
}

function lockedThing(scene: SceneDocument, setupId: string, { kind, id }: ObjectRef): boolean {
  const setup = scene.setups.find((one) => one.id === setupId);
  const record = { source: setup?.sources, modifier: setup?.modifiers, meter: scene.meters, surface: scene.surfaces };
  return kind in record && record[kind as keyof typeof record]?.[id]?.locked === true;
}

/** The menu of what is chosen: by the second button, by the menu key or Shift F10, by a finger that rests, or by its button. */
export function ArrangeMenu() {
  const { session } = useApp();
  const at = useSession((state) => state.menuAt);
  const selection = useSession((state) => state.selection);
  const also = useSession((state) => state.also);
  const setupId = useSession((state) => state.setupId);
  const several = useSession((state) => state.several);
  const scene = useDocument((state) => state.history.present);
  const anchor = useRef<HTMLSpanElement>(null);
  const [dialog, setDialog] = useState<Arrangement | null>(null);
  const act = useActs(setDialog);
  const chosen = chosenRefs(scene, setupId, { selection, also });
  const first = chosen[0];
  const title =
    chosen.length > 1 ? `${chosen.length} things` : first ? nameOf(scene, setupId, first) : 'Nothing is chosen';
  const choose = (key: Key): void => {
    session.setState({ menuAt: null });
    act[String(key)]?.();
  };
  const hasSome = chosen.length > 0;
  const isGrouped = Object.values(scene.groups ?? {}).some(({ memberIds }) =>
    chosen.some(({ id }) => memberIds.includes(id)),
  );
  const isLocked = (ref: ObjectRef): boolean => lockedThing(scene, setupId, ref);
  const isMany = chosen.length > 1;
  return (
    <>
      <span ref={anchor} className="menu-anchor" style={{ left: at?.x ?? 0, top: at?.y ?? 0 }} />
      <Popover
        className="popover arrange"
        triggerRef={anchor}
        isOpen={at !== null}
        placement="bottom start"
        onOpenChange={(isOpen) => !isOpen && session.setState({ menuAt: null })}
      >
        <Menu className="menu" aria-label={`Arrange: ${title}`} onAction={choose}>
          {hasSome && (
            <MenuSection>
              <Header>{title}</Header>
              {WITH_FIGURES.map(({ id, name }) => (
                <MenuItem key={id} id={id}>
                  {name}
                </MenuItem>
              ))}
            </MenuSection>
          )}
          {isMany && (
            <MenuSection>
              <Header>Line up with {first && nameOf(scene, setupId, first)}</Header>
              <MenuItem id="east">Along north: same east</MenuItem>
              <MenuItem id="north">Along east: same north</MenuItem>
              <MenuItem id="height">Same height</MenuItem>
              {chosen.length > 2 && <MenuItem id="distribute">Even gaps</MenuItem>}
              <MenuItem id="group">Group</MenuItem>
            </MenuSection>
          )}
          {hasSome && <Separator />}
          {isGrouped && <MenuItem id="ungroup">Leave its group</MenuItem>}
          {chosen.some((ref) => !isLocked(ref)) && <MenuItem id="lock">Lock</MenuItem>}
          {chosen.some(isLocked) && <MenuItem id="unlock">Unlock</MenuItem>}
          {hasSome && <MenuItem id="hide">Hide on the drawings</MenuItem>}
          {hasSome && <MenuItem id="remove">Remove</MenuItem>}
          {hasSome && <Separator />}
          <MenuItem id="show">Show what is hidden</MenuItem>
          <MenuItem id="several">{several ? 'Choose one at a time' : 'Choose several'}</MenuItem>
          <MenuItem id="all">Choose all lamps, grip, meters</MenuItem>
          <MenuItem id="measure">Measure</MenuItem>
        </Menu>
      </Popover>
      {dialog !== null && <ArrangeDialog arrangement={dialog} onClose={() => setDialog(null)} />}
    </>
  );
}

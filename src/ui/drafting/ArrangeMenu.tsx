import { useRef, useState } from 'react';
import { type Key, Header, Menu, MenuItem, MenuSection, Popover, Separator } from 'react-aria-components';
import { useApp, useDocument, useSession } from '../app';
import { alignTo, distribute, groupAll, removeAll, switchAll, ungroupAll } from '../tools/arrange';
import { ADJUST_WORDS, HELPER_WORDS } from '../grip/helperWords';
import { useMade } from '../grip/GripButtons';
import { adjustGrip, openGrip } from '../grip/opening';
import { GRIP_HELPERS } from '../../sim/grip/gripRequest';
import { chosenRefs, looseRefs } from '../tools/chosen';
import { isLocked, nameOf, sourceOf } from '../tools/things';
import { arrange, chosenNow, whereOf } from './arranging';
import { ArrangeDialog, type Arrangement } from './ArrangeDialog';
import { startDraw } from './drafting';

/** From this width on the menu, in two columns, has room beside any point; on narrower screens it hangs below and is shifted in. */
const ROOM_BESIDE_PX = 1024;

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
      const { meters, pictures, dimensions } = where.scene;
      const records: Partial<Record<string, Readonly<Record<string, { hidden?: boolean | undefined }>>>> = {
        source: setup?.sources,
        modifier: setup?.modifiers,
        meter: meters,
        picture: pictures,
        dimension: dimensions,
      };
      return records[kind]?.[id]?.hidden === true;
    };
    const onPlan = (['picture', 'dimension'] as const).flatMap((kind) =>
      Object.keys((kind === 'picture' ? where.scene.pictures : where.scene.dimensions) ?? {}).map((id) => ({
        kind,
        id,
      })),
    );
    return [...looseRefs(where.scene, where.setupId), ...onPlan].filter(({ kind, id }) => isHidden(kind, id));
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

/** The menu of what is chosen: by the second button, by the menu key or Shift F10, by a finger that rests, or by its button. */
export function ArrangeMenu() {
  const app = useApp();
  const { session } = app;
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
  const isLone = chosen.length === 1;
  const title =
    chosen.length > 1 ? `${chosen.length} things` : first ? nameOf(scene, setupId, first) : 'Nothing is chosen';
  const made = useMade(isLone ? first! : null);
  const lampId =
    isLone && first?.kind === 'source' && sourceOf(scene, setupId, first.id)?.type === 'lamp' ? first.id : null;
  const choose = (key: Key): void => {
    session.setState({ menuAt: null });
    const helper = GRIP_HELPERS.find((one) => key === `grip ${one}`);
    const adjusted = made.find(({ id }) => key === `adjust ${id}`);
    if (helper && lampId !== null) openGrip(app, helper, lampId);
    else if (adjusted) adjustGrip(app, adjusted);
    else act[String(key)]?.();
  };
  const hasSome = chosen.length > 0;
  const areLocked = hasSome && chosen.every((ref) => isLocked(scene, setupId, ref));
  const isGrouped = Object.values(scene.groups ?? {}).some(({ memberIds }) =>
    chosen.some(({ id }) => memberIds.includes(id)),
  );
  const isMany = chosen.length > 1;
  return (
    <>
      <span ref={anchor} className="menu-anchor" style={{ left: at?.x ?? 0, top: at?.y ?? 0 }} />
      <Popover
        className="popover arrange"
        triggerRef={anchor}
        isOpen={at !== null}
        placement={window.innerWidth < ROOM_BESIDE_PX ? 'bottom start' : 'right top'}
        onOpenChange={(isOpen) => !isOpen && session.setState({ menuAt: null })}
      >
        <Menu className="menu" autoFocus="first" aria-label={`Arrange: ${title}`} onAction={choose}>
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
          {(lampId !== null || made.length > 0) && (
            <MenuSection>
              <Header>Grip</Header>
              {made.map(({ id, helper }) => (
                <MenuItem key={`adjust ${id}`} id={`adjust ${id}`}>
                  {ADJUST_WORDS[helper]}
                </MenuItem>
              ))}
              {lampId !== null &&
                GRIP_HELPERS.map((helper) => (
                  <MenuItem key={helper} id={`grip ${helper}`}>
                    {HELPER_WORDS[helper]}
                  </MenuItem>
                ))}
            </MenuSection>
          )}
          {hasSome && <Separator />}
          {isGrouped && <MenuItem id="ungroup">Leave its group</MenuItem>}
          {hasSome && !areLocked && <MenuItem id="lock">Lock</MenuItem>}
          {areLocked && <MenuItem id="unlock">Unlock</MenuItem>}
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

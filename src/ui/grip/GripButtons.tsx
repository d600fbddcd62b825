import { Button } from 'react-aria-components';
import { useStore } from 'zustand';
import type { ObjectRef } from '../../render/contract';
import type { Modifier } from '../../scene/schema';
import { nameMatches } from '../../scene/kit/own';
import { GRIP_HELPERS } from '../../sim/grip/gripRequest';
import { useApp, useDocument, useSession } from '../app';
import { modifierOf, sourceOf } from '../tools/things';
import type { GripMade } from './gripStore';
import { ADJUST_WORDS, FOR_WORDS, HELPER_WORDS, SHORT_WORDS } from './helperWords';
import { adjustGrip, lampForHelper, madeOf, openGrip } from './opening';

/** What helpers have placed that the thing belongs to, as far as it still stands. */
export function useMade(ref: ObjectRef | null): readonly GripMade[] {
  const { grip } = useApp();
  const state = useStore(grip);
  const scene = useDocument((document) => document.history.present);
  const setupId = useSession((session) => session.setupId);
  return ref === null ? [] : madeOf(state, scene, setupId, ref);
}

/** A flag or a mirror as a helper names it. What it was asked for cannot be read off its place, as it can for nets. */
const isLostRig = (piece: Modifier | undefined): boolean =>
  piece !== undefined &&
  /^(Flag|Mirror)( \d+)?$/.test(piece.name) &&
  (piece.material.kind === 'opaque' || piece.material.kind === 'mirror');
const LOST_WORDS =
  'Put by hand, or by a helper in another browser: there are no figures to adjust. Move it here, or set it up anew from its lamp.';

/** On a chosen lamp: its grip helpers, and those to adjust; on a piece that one has placed: that one. */
export function GripButtons({ thing }: { readonly thing: ObjectRef }) {
  const app = useApp();
  const made = useMade(thing);
  const setupId = useSession((state) => state.setupId);
  const isLamp = useDocument(
    (state) => thing.kind === 'source' && sourceOf(state.history.present, setupId, thing.id)?.type === 'lamp',
  );
  const isLost = useDocument(
    ({ history }) => thing.kind === 'modifier' && isLostRig(modifierOf(history.present, setupId, thing.id)),
  );
  if (!isLamp && made.length === 0) return isLost ? <p className="wide quiet">{LOST_WORDS}</p> : null;
  return (
    <div className="grip-buttons" role="group" aria-label="Grip helpers">
      <div className="buttons">
        {made.map((one) => (
          <Button key={one.id} className="button" onPress={() => adjustGrip(app, one)}>
            {ADJUST_WORDS[one.helper]}
          </Button>
        ))}
        {isLamp &&
          GRIP_HELPERS.map((helper) => (
            <Button
              key={helper}
              className="button"
              aria-label={HELPER_WORDS[helper]}
              onPress={() => openGrip(app, helper, thing.id)}
            >
              {SHORT_WORDS[helper]}
            </Button>
          ))}
      </div>
    </div>
  );
}

/** In the kit: the helpers that its search finds, for the chosen lamp or the one that plays the sun. */
export function HelperKit({ search, onClose }: { readonly search: string; readonly onClose: () => void }) {
  const app = useApp();
  const scene = useDocument((state) => state.history.present);
  const session = useSession((state) => state);
  const lamp = lampForHelper(scene, session);
  const found = GRIP_HELPERS.filter((helper) => nameMatches(`${HELPER_WORDS[helper]} ${FOR_WORDS[helper]}`, search));
  if (found.length === 0 || lamp === null) return null;
  return (
    <>
      <h3>Grip set up for {lamp.name}</h3>
      <ul aria-label="Grip helpers">
        {found.map((helper) => (
          <li key={helper}>
            <span>
              <strong>{HELPER_WORDS[helper]}</strong>
              <small>{FOR_WORDS[helper]}</small>
            </span>
            <span className="kit-ways">
              <Button
                className="button"
                aria-label={`Set up: ${HELPER_WORDS[helper]}, ${lamp.name}`}
                onPress={() => {
                  onClose();
                  openGrip(app, helper, lamp.id);
                }}
              >
                Set up
              </Button>
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

import { useEffect, useMemo, useRef, type KeyboardEvent } from 'react';
import { Button } from 'react-aria-components';
import { useStore } from 'zustand';
import type { Command } from '../../scene/commands';
import type { Lamp, SceneDocument } from '../../scene/schema';
import { formatAngle, formatLength } from '../../scene/units/format';
import type { GripFact, GripPlan } from '../../sim/grip/gripPlan';
import type { GripRequest } from '../../sim/grip/gripRequest';
import { useApp, useSession } from '../app';
import { Glyph } from '../parts/Glyphs';
import { showUnderVerdict } from '../parts/showUnderVerdict';
import { notify } from '../stores/session';
import { sourceOf } from '../tools/things';
import { unitsOf, type Units } from '../words/format';
import { FlagForm, HalfScrimForm, MirrorForm, NetsForm, type FormProps } from './GripForms';
import { GripGist, GripNumbers } from './GripNumbers';
import type { GripOpen } from './gripStore';
import { FOR_WORDS, HELPER_CAUTIONS, HELPER_WORDS } from './helperWords';
import { changeTo } from './setupChange';
import { useGripWork, type GripWork } from './useGripWork';

function FormOf({ document, request, change }: FormProps<GripRequest>) {
  switch (request.helper) {
    case 'nets':
      return <NetsForm document={document} request={request} change={change} />;
    case 'flag':
      return <FlagForm document={document} request={request} change={change} />;
    case 'mirror':
      return <MirrorForm document={document} request={request} change={change} />;
    case 'halfScrim':
      return <HalfScrimForm document={document} request={request} change={change} />;
  }
}

function factText({ kind, value }: GripFact, units: Units): string {
  if (kind === 'angle') return formatAngle(value);
  return formatLength(value, units.length, kind === 'fineLength');
}

/** Where the pieces stand, as the crew rigs them, and what the light does. */
function PlanWords({ plan, units }: { readonly plan: GripPlan | null; readonly units: Units }) {
  if (plan === null) return null;
  if (!plan.ok) {
    return (
      <p className="grip-refusal" role="alert">
        <Glyph name="caution" size={18} /> {plan.sentence}
      </p>
    );
  }
  return (
    <div className="grip-words">
      <dl>
        {plan.facts.map((fact) => (
          <div key={fact.name}>
            <dt>{fact.name}</dt>
            <dd>{factText(fact, units)}</dd>
          </div>
        ))}
      </dl>
      <p>{plan.remarks.join(' ')}</p>
    </div>
  );
}

/** Keeps the plan on the drawings as a draft while the form is open; what else drafts goes before it, and then it is back. */
function usePreview(command: Command | null, isWorking: boolean): void {
  const { document, actions } = useApp();
  const shown = useRef<Command | null>(null);
  useEffect(() => {
    // The last plan stays on the drawings until the next one is there.
    if (isWorking) return;
    shown.current = command;
    actions.draft(command);
  }, [actions, command, isWorking]);
  useEffect(() => {
    const unsubscribe = document.subscribe(({ draft }) => {
      if (draft === null && shown.current !== null) actions.draft(shown.current);
    });
    return () => {
      unsubscribe();
      actions.draft(null);
    };
  }, [document, actions]);
}

/** Puts the keyboard on the form when it opens, and back where it was when it closes. */
function useFocusOn(heading: React.RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const before = document.activeElement instanceof HTMLElement ? document.activeElement : null;
    const own = heading.current;
    showUnderVerdict(own?.closest<HTMLElement>('.grip') ?? null);
    own?.focus({ preventScroll: true });
    return () => {
      const isLost = document.activeElement === null || document.activeElement === document.body;
      const isInside = own?.closest('.grip')?.contains(document.activeElement) ?? false;
      if (!isLost && !isInside) return;
      const back = before?.isConnected && before !== document.body ? before : null;
      (back ?? document.querySelector<HTMLElement>('.things'))?.focus({ preventScroll: true });
    };
  }, [heading]);
}

function useApply(open: GripOpen, work: GripWork, command: Command | null): () => void {
  const { actions, grip, session } = useApp();
  return () => {
    const { plan, request, base } = work;
    if (!plan?.ok || request === null || command === null) return;
    const lampBefore = sourceOf(base, open.setupId, open.lampId) as Lamp;
    const fault = actions.run(command);
    if (fault !== null) {
      notify(session, { kind: 'caution', lines: [fault] });
      return;
    }
    const made = {
      id: (grip.getState().made.at(-1)?.id ?? 0) + 1,
      setupId: open.setupId,
      request,
      pieces: Object.fromEntries(plan.pieceIds.map((id) => [id, plan.setup.modifiers[id]!])),
      lampBefore,
      lampAfter: plan.setup.sources[open.lampId] as Lamp,
    };
    grip.setState((state) => ({ open: null, made: [...state.made, made] }));
    const first = plan.pieceIds[0];
    actions.select(first === undefined ? { kind: 'source', id: open.lampId } : { kind: 'modifier', id: first });
    notify(session, {
      kind: 'done',
      lines: [`Done: ${HELPER_WORDS[open.helper].toLowerCase()}. Adjust it from what it placed`],
      action: { label: 'Undo', run: actions.undo },
    });
  };
}

function OpenCard({ open, present }: { readonly open: GripOpen; readonly present: SceneDocument }) {
  const { grip } = useApp();
  const work = useGripWork(open, present);
  const { plan, request } = work;
  const { helper, setupId, lampId } = open;
  const setup = present.setups.find(({ id }) => id === setupId);
  const lampName = sourceOf(present, setupId, lampId)?.name ?? 'the lamp';
  const command = useMemo(
    () => (plan?.ok && setup ? changeTo(setup, plan.setup, `${HELPER_WORDS[helper]}, ${lampName}`) : null),
    [plan, setup, helper, lampName],
  );
  usePreview(command, plan === null);
  const heading = useRef<HTMLHeadingElement>(null);
  useFocusOn(heading);
  const cancel = (): void => grip.setState({ open: null });
  const apply = useApply(open, work, command);
  const onKeyDown = (event: KeyboardEvent): void => {
    // In a field Escape takes back what is typed there.
    if (event.key !== 'Escape' || event.target instanceof HTMLInputElement) return;
    event.preventDefault();
    cancel();
  };
  const canSearch = helper === 'nets' || helper === 'halfScrim';
  return (
    <section className="card grip" aria-labelledby="grip-title" data-testid="grip" onKeyDown={onKeyDown}>
      <header>
        <h2 id="grip-title" tabIndex={-1} ref={heading}>
          {HELPER_WORDS[helper]}: {lampName}
        </h2>
        <span>{open.made ? 'adjusting' : 'not placed yet'}</span>
      </header>
      <p className="small">{FOR_WORDS[helper]}. The drawings show it as it would stand.</p>
      {work.fault !== null && (
        <p className="grip-refusal" role="alert">
          <Glyph name="caution" size={18} /> {work.fault}
        </p>
      )}
      {request !== null && (
        <>
          {plan?.ok !== false && (
            <GripNumbers document={present} helper={helper} before={work.before} after={work.after} />
          )}
          <div className="fields">
            <FormOf document={present} request={request} change={work.change} />
          </div>
          {canSearch && (
            <Button className="button grip-search" onPress={work.findBest} isDisabled={work.isSearching}>
              {work.isSearching ? 'Looking' : helper === 'nets' ? 'Find the best edges' : 'Find the best angle'}
            </Button>
          )}
          <PlanWords plan={plan} units={unitsOf(present)} />
        </>
      )}
      <div className="buttons grip-end">
        {request !== null && plan?.ok !== false && (
          <GripGist document={present} helper={helper} before={work.before} after={work.after} />
        )}
        <Button className="button main" onPress={apply} isDisabled={command === null}>
          {open.made ? 'Apply the change' : 'Apply'}
        </Button>
        <Button className="button" onPress={cancel}>
          Cancel
        </Button>
      </div>
      <ul className="caution-list">
        {HELPER_CAUTIONS[helper].map((words) => (
          <li key={words}>
            <Glyph name="caution" size={18} />
            <span>{words}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The form of the grip helper that stands open, if one does; it goes with its setup and its scene. */
export function GripCard() {
  const { grip, document } = useApp();
  const open = useStore(grip, (state) => state.open);
  const setupId = useSession((state) => state.setupId);
  const present = useStore(document, (state) => state.history.present);
  const opened = useStore(document, (state) => state.opened);
  const since = useRef(opened);
  useEffect(() => {
    const isOther = since.current !== opened;
    since.current = opened;
    if (isOther) grip.setState({ open: null, made: [] });
    else if (open !== null && open.setupId !== setupId) grip.setState({ open: null });
  }, [grip, open, opened, setupId]);
  if (open === null || open.setupId !== setupId) return null;
  return <OpenCard key={`${open.helper} ${open.lampId} ${open.made?.id ?? 'new'}`} open={open} present={present} />;
}

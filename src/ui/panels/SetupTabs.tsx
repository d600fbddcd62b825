import { useLayoutEffect, useRef, type KeyboardEvent } from 'react';
import { useApp, useDocument, useSession } from '../app';
import { setupLetter } from '../words/format';

export const SETUP_PANEL_ID = 'setup-panel';
export const setupTabId = (setupId: string): string => `setup-tab-${setupId}`;

/** Whole names where they all have room; else only the chosen tab keeps its name and the others show their letter. */
function fitNames(list: HTMLElement): void {
  list.dataset['names'] = 'all';
  if (list.scrollWidth > list.clientWidth) list.dataset['names'] = 'chosen';
}

/** The setups as tabs; arrow keys, Home and End walk through them. The drawings and the panel belong to the chosen one. */
export function SetupTabs() {
  const { actions } = useApp();
  const setups = useDocument((state) => state.history.present.setups);
  const setupId = useSession((state) => state.setupId);
  const list = useRef<HTMLDivElement>(null);
  const index = setups.findIndex((setup) => setup.id === setupId);

  useLayoutEffect(() => {
    const element = list.current;
    if (!element) return undefined;
    const fit = (): void => fitNames(element);
    fit();
    void document.fonts.ready.then(fit);
    const watch = new ResizeObserver(fit);
    watch.observe(element);
    return () => watch.disconnect();
  }, [setups, setupId]);

  function onKeyDown(event: KeyboardEvent): void {
    const last = setups.length - 1;
    const next = {
      ArrowRight: index === last ? 0 : index + 1,
      ArrowLeft: index <= 0 ? last : index - 1,
      Home: 0,
      End: last,
    }[event.key];
    const setup = next === undefined ? undefined : setups[next];
    if (!setup) return;
    event.preventDefault();
    actions.chooseSetup(setup.id);
    list.current?.querySelector<HTMLElement>(`#${setupTabId(setup.id)}`)?.focus();
  }
  return (
    <div className="setups" role="tablist" aria-label="Setups" ref={list} onKeyDown={onKeyDown}>
      {setups.map((setup, position) => (
        <button
          key={setup.id}
          id={setupTabId(setup.id)}
          type="button"
          role="tab"
          className="setup"
          aria-selected={setup.id === setupId}
          aria-controls={SETUP_PANEL_ID}
          tabIndex={setup.id === setupId ? 0 : -1}
          title={setup.notes ? `${setup.name}: ${setup.notes}` : setup.name}
          onClick={() => actions.chooseSetup(setup.id)}
        >
          <i>{setupLetter(position)}</i> <span>{setup.name}</span>
        </button>
      ))}
    </div>
  );
}

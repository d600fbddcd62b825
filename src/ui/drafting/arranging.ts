/** Does an arrangement of what is chosen, says it, and keeps what was made chosen. */
import type { ObjectRef } from '../../render/contract';
import type { App } from '../app';
import { notify } from '../stores/session';
import type { Arranged, Where } from '../tools/arrange';
import { chosenRefs } from '../tools/chosen';

type Desk = Pick<App, 'session' | 'document' | 'actions'>;

export const whereOf = ({ document, session }: Desk): Where => ({
  scene: document.getState().history.present,
  setupId: session.getState().setupId,
});
export const chosenNow = (desk: Desk): ObjectRef[] => {
  const { scene, setupId } = whereOf(desk);
  return chosenRefs(scene, setupId, desk.session.getState());
};

/** @returns why it cannot be done, or null */
export function carryOutArranged(desk: Desk, arranged: Arranged): string | null {
  const fault = arranged.ok ? desk.actions.run(arranged.command) : arranged.fault;
  if (fault !== null || !arranged.ok) return fault;
  if (arranged.made) desk.actions.choose(arranged.made);
  const { command } = arranged;
  const words = command.type === 'sequence' ? command.label : 'Done';
  notify(desk.session, { kind: 'done', lines: [words], action: { label: 'Undo', run: desk.actions.undo } });
  return null;
}
/** As `carryOutArranged`; a refusal becomes a notice. */
export function arrange(desk: Desk, arranged: Arranged): void {
  const fault = carryOutArranged(desk, arranged);
  if (fault !== null) notify(desk.session, { kind: 'caution', lines: [fault] });
}

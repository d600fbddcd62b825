/** Keeps a measured distance on the plan. */
import type { DimensionEnd } from '../../scene/schemaPlan';
import type { App } from '../app';
import { notify } from '../stores/session';
import { freshLabels } from '../tools/draw/ids';
import { startDraw } from './drafting';

type Desk = Pick<App, 'session' | 'document' | 'actions'>;

/** The dimension is chosen, so that its line can be moved; the tape is ready for the next. */
export function keepDimension(desk: Desk, from: DimensionEnd, to: DimensionEnd): void {
  const { actions, document, session } = desk;
  const labels = freshLabels(document.getState().history.present);
  const id = labels.id('dimension');
  const name = labels.name('Dimension');
  const fault = actions.run({ type: 'add', at: { kind: 'dimension', id }, value: { name, from, to } });
  if (fault !== null) return notify(session, { kind: 'caution', lines: [fault] });
  startDraw(desk, 'measure');
  session.setState({ selection: { kind: 'dimension', id } });
  notify(session, { kind: 'done', lines: [`${name} kept`], action: { label: 'Undo', run: actions.undo } });
}

/** Brings a picture of a plan under the drawing, and scales it. A file that is none leaves the scene as it is. */
import { pictureFault, sniffPicture, SNIFFED_BYTES, type Sniffed } from '../../files/planPicture/sniffPicture';
import { hasPhotometricEnding } from '../../files/photometry/openPhotometricFile';
import { askForFile } from '../actions';
import type { App } from '../app';
import { startDraw } from '../drafting/drafting';
import { notify } from '../stores/session';
import { freshLabels } from '../tools/draw/ids';
import { MOST_PICTURES, placedPicture, scaledByTwoPoints } from '../tools/planPicture';
import { reencode } from './reencode';

type Desk = Pick<App, 'session' | 'document' | 'actions'>;

const refuse = (desk: Desk, line: string): void => notify(desk.session, { kind: 'fault', lines: [line] });
const sniffed = async (file: File): Promise<Sniffed> =>
  sniffPicture(new Uint8Array(await file.slice(0, SNIFFED_BYTES).arrayBuffer()));

/** The picture is under the plan, chosen, and waits for two points of known distance; or one line says why not. */
export async function bringInPicture(desk: Desk, file: File): Promise<void> {
  const { actions, document, session } = desk;
  const { opened } = document.getState();
  const what = await sniffed(file);
  const fault = pictureFault(what, file.name, file.size);
  if (fault !== null || !what.ok) return refuse(desk, fault ?? '');
  const taken = await reencode(file, what.kind).catch(() => null);
  if (taken === null) {
    return refuse(desk, `${file.name} is damaged: this browser cannot read it as a picture. Nothing was brought in.`);
  }
  // Another scene may have been opened while the picture was read.
  if (document.getState().opened !== opened) return undefined;
  const scene = document.getState().history.present;
  if (Object.keys(scene.pictures ?? {}).length >= MOST_PICTURES) {
    return refuse(desk, `There are ${MOST_PICTURES} plan pictures already. Remove one, then bring in ${file.name}.`);
  }
  const labels = freshLabels(scene);
  const id = labels.id('picture');
  const value = placedPicture(scene, labels.onlyName('Plan picture'), taken);
  const refused = actions.run({ type: 'add', at: { kind: 'picture', id }, value });
  if (refused !== null) return refuse(desk, refused);
  startDraw(desk, 'scale');
  session.setState({ selection: { kind: 'picture', id } });
  const from = taken.scaledFrom;
  const size = `${taken.widthPx} x ${taken.heightPx} px`;
  const lines = [
    from
      ? `Plan picture brought in, scaled down from ${from[0]} x ${from[1]} px to ${size}`
      : `Plan picture brought in, ${size}`,
  ];
  notify(session, { kind: 'done', lines, action: { label: 'Undo', run: actions.undo } });
}

export const pickPicture = (desk: Desk): void =>
  askForFile('image/png,image/jpeg,image/webp', (file) => void bringInPicture(desk, file));

/** Whether a file dropped beside the plan is meant for it. */
export const isPictureName = (fileName: string): boolean => /\.(png|jpe?g|webp)$/i.test(fileName);

/** A file dropped on the plan, unless it is a scene or a photometric file. @returns whether it is taken */
export function dropOnPlan(desk: Desk, file: File): boolean {
  if (/\.json$/i.test(file.name) || hasPhotometricEnding(file.name)) return false;
  void bringInPicture(desk, file);
  return true;
}

/** The picture that is scaled: the chosen one, else the only one. */
export function pictureInHand({ document, session }: Pick<Desk, 'document' | 'session'>): string | null {
  const ids = Object.keys(document.getState().history.present.pictures ?? {});
  const { selection } = session.getState();
  if (selection?.kind === 'picture' && ids.includes(selection.id)) return selection.id;
  return ids.length === 1 ? (ids[0] ?? null) : null;
}

/** Scales the picture by the two pressed points. @returns why not, or null */
export function scaleByPoints(desk: Desk, trueM: number): string | null {
  const id = pictureInHand(desk);
  const picture = id === null ? undefined : desk.document.getState().history.present.pictures?.[id];
  if (id === null || !picture) return 'Choose the picture in the list first.';
  const [from, to] = desk.session.getState().drawing.corners;
  if (!from || !to) return 'Press two points on the picture first.';
  const scaled = scaledByTwoPoints(picture, from, to, trueM);
  if (!scaled.ok) return scaled.fault;
  const fault = desk.actions.run({ type: 'patch', at: { kind: 'picture', id }, fields: scaled.fields });
  if (fault !== null) return fault;
  startDraw(desk, 'scale');
  desk.session.setState({ selection: { kind: 'picture', id } });
  notify(desk.session, {
    kind: 'done',
    lines: [`${picture.name} scaled`],
    action: { label: 'Undo', run: desk.actions.undo },
  });
  return null;
}

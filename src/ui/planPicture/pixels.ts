/** Unpacks the pictures of the open scene for the drawings; each once, as long as it stays the same picture. */
import type { PlanPixels } from '../../render/contract';
import type { DocumentStore } from '../stores/document';
import { notify, type SessionStore } from '../stores/session';

async function unpacked(image: string): Promise<PlanPixels> {
  const [head = '', base64 = ''] = image.split(',', 2);
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const bitmap = await createImageBitmap(new Blob([bytes], { type: /image\/\w+/.exec(head)?.[0] ?? '' }));
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [bitmap.width, bitmap.height];
  const context = canvas.getContext('2d', { alpha: false });
  if (!context) throw new Error('this browser gives no canvas');
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  const { data, width, height } = context.getImageData(0, 0, canvas.width, canvas.height);
  return { image, bytes: new Uint8Array(data.buffer), columns: width, rows: height };
}

/** Follows the scene's pictures; a stored picture that cannot be unpacked is said once. */
export function startUnpacking(document: DocumentStore, session: SessionStore): void {
  const under = new Set<string>();
  const follow = (): void => {
    const pictures = document.getState().shown.pictures ?? {};
    const { planPixels } = session.getState();
    const kept = Object.entries(planPixels).filter(([id, pixels]) => pictures[id]?.image === pixels.image);
    if (kept.length < Object.keys(planPixels).length) session.setState({ planPixels: Object.fromEntries(kept) });
    for (const [id, { image, name }] of Object.entries(pictures)) {
      if (planPixels[id]?.image === image || under.has(image)) continue;
      under.add(image);
      unpacked(image).then(
        (pixels) => {
          under.delete(image);
          if (document.getState().shown.pictures?.[id]?.image !== image) return;
          session.setState((state) => ({ planPixels: { ...state.planPixels, [id]: pixels } }));
        },
        // It stays under way: asked for again it would fail again.
        () =>
          notify(session, {
            kind: 'fault',
            lines: [`${name} cannot be shown: what the scene holds is no picture. All else of the scene stands.`],
          }),
      );
    }
  };
  document.subscribe((state, before) => {
    if (state.shown.pictures !== before.shown.pictures) follow();
  });
  follow();
}

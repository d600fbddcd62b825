import { useDeferredValue, useId, useMemo } from 'react';
import type { Lamp, SceneDocument } from '../../../scene/schema';
import { lampSpread, type LampSpread } from '../../../sim/solve/farField';
import { basisWords } from '../../words/basis';
import { CandelaTable, FigureList, figureRows, Plots } from './SpreadParts';

/** The figures follow a drag a little later than the drawing: what is dragged must not wait for them. */
function useSpread(lamp: Lamp, webs: SceneDocument['webs']): LampSpread | null {
  const { emitter, distribution, output, accessories } = lamp;
  const light = useMemo(
    () => ({ emitter, distribution, output, ...(accessories && { accessories }) }),
    [emitter, distribution, output, accessories],
  );
  const settled = useDeferredValue(light);
  return useMemo(() => lampSpread({ ...UPRIGHT, ...settled }, webs ? { webs } : {}), [settled, webs]);
}
/** Where a lamp stands does not change what it sends. */
const UPRIGHT = {
  type: 'lamp',
  name: 'Lamp',
  pose: { positionM: [0, 0, 0], aim: { panDeg: 0, tiltDeg: 0 } },
} satisfies Partial<Lamp>;

/** Spread of the light of a lamp without a photometric file, drawn and in figures that are worked out from its fields. */
export function SpreadFields({ lamp, webs }: { readonly lamp: Lamp; readonly webs: SceneDocument['webs'] }) {
  const spread = useSpread(lamp, webs);
  const titleId = useId();
  if (spread === null) return null;
  return (
    <section className="web" aria-labelledby={titleId}>
      <h4 id={titleId}>Spread of the light, worked out from the fields</h4>
      <FigureList rows={[['Level', basisWords(lamp)], ...figureRows(spread.figures)]} />
      <Plots grid={spread.grid} />
      <p className="quiet">
        At full, far away, as the fields have it: the shape is an idealised one. Scrims in the slots, doors and snoot
        are left out.
      </p>
      <CandelaTable grid={spread.grid} />
    </section>
  );
}

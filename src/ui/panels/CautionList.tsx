import { useMemo } from 'react';
import { findCautions } from '../../scene/cautions';
import { useDocument, useSession } from '../app';
import { Glyph } from '../parts/Glyphs';

/** What is wrong or risky about how things stand. Ends with whom to defer to. */
export function CautionList() {
  const document = useDocument((state) => state.history.present);
  const setupId = useSession((state) => state.setupId);
  const cautions = useMemo(() => findCautions(document, setupId), [document, setupId]);
  return (
    <section className="card" aria-labelledby="cautions-title">
      <header>
        <h2 id="cautions-title">Cautions</h2>
        <span>{cautions.length === 0 ? 'none found' : cautions.length}</span>
      </header>
      {cautions.length > 0 && (
        <ul className="caution-list">
          {cautions.map((caution) => (
            <li key={`${caution.kind} ${caution.objectIds.join(' ')}`}>
              <Glyph name="caution" size={18} />
              <span>{caution.sentence}</span>
            </li>
          ))}
        </ul>
      )}
      <p className="small">
        Follow local code. A licensed electrician, a qualified rigger or a competent person decides.
      </p>
    </section>
  );
}

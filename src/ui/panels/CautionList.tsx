import { useMemo } from 'react';
import { findCautions } from '../../scene/cautions';
import { useDocument, useResults, useSession } from '../app';
import { Glyph } from '../parts/Glyphs';
import { darkCaution } from '../words/dark';

/** What is wrong or risky about how things stand. Ends with whom to defer to. */
export function CautionList() {
  const document = useDocument((state) => state.history.present);
  const setupId = useSession((state) => state.setupId);
  const cautions = useMemo(() => findCautions(document, setupId), [document, setupId]);
  const dark = useResults((state) => darkCaution(document, setupId, state));
  const count = cautions.length + (dark === null ? 0 : 1);
  return (
    <section className="card cautions" aria-labelledby="cautions-title">
      <header>
        <h2 id="cautions-title">Cautions</h2>
        <span>{count === 0 ? 'none found' : count}</span>
      </header>
      {count > 0 && (
        <ul className="caution-list">
          {dark !== null && (
            <li>
              <Glyph name="caution" size={18} />
              <span>{dark}</span>
            </li>
          )}
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

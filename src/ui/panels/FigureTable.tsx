import { useApp, useSession } from '../app';
import { Fractions } from '../parts/Fractions';
import { VerdictGlyph } from '../parts/Glyphs';
import { LIMITS_BASIS } from '../../sim/judgement/limits';
import { VERDICT_WORDS, type FigureRow } from '../words/figures';
import { explainFigure } from '../words/explain';
import { FigureScale } from './FigureScale';

/** Chooses a figure: it is marked on the elevation and explained in a sentence. Pressed again, it is let go. */
function FigureName({ row }: { readonly row: FigureRow }) {
  const { session } = useApp();
  const isChosen = useSession((state) => state.figure === row.key);
  return (
    <button
      type="button"
      className="figure-name"
      aria-expanded={isChosen}
      aria-controls={isChosen ? `explained-${row.key}` : undefined}
      onClick={() => session.setState({ figure: isChosen ? null : row.key })}
    >
      {row.name}
      {row.unit !== '' && <span className="unit"> {row.unit}</span>}
    </button>
  );
}

function Explained({ row }: { readonly row: FigureRow }) {
  return (
    <tr className="explained" id={`explained-${row.key}`}>
      <td colSpan={4}>
        <Fractions text={explainFigure(row)} />
      </td>
    </tr>
  );
}

function FigureLine({ row }: { readonly row: FigureRow }) {
  const isChosen = useSession((state) => state.figure === row.key);
  const name = (
    <th scope="row">
      <FigureName row={row} />
    </th>
  );
  return (
    <>
      <tr data-selected={isChosen || undefined} title={`${row.limitWords}${row.limits ? ` (${LIMITS_BASIS})` : ''}`}>
        {name}
        {row.scale !== null && (
          <td>
            <FigureScale row={row} />
            <span className="hidden-word">{row.limitWords}</span>
          </td>
        )}
        <td className="value" colSpan={row.scale === null ? 2 : 1}>
          {row.scale === null && <span className="hidden-word">{row.limitWords}: </span>}
          <Fractions text={row.text} />
          {row.verdict ? (
            <VerdictGlyph verdict={row.verdict} label={VERDICT_WORDS[row.verdict]} />
          ) : (
            <span className="no-mark" />
          )}
        </td>
        <td className="sun">
          <Fractions text={row.sunText} />
        </td>
      </tr>
      {isChosen && <Explained row={row} />}
    </>
  );
}

/** Figures that have no value here, and why: "Windows spread: one window". */
function MissingFigures({ rows }: { readonly rows: readonly FigureRow[] }) {
  if (rows.length === 0) return null;
  return (
    <tfoot>
      <tr>
        <td className="reason" colSpan={4}>
          Not judged here.{' '}
          {rows.map((row) => (
            <span key={row.key}>
              {`${row.name} ${row.unit}`.trim()}: {row.reason}.{' '}
            </span>
          ))}
        </td>
      </tr>
    </tfoot>
  );
}

/** Every figure of the judgement with its limits, the lamp's value and the sun's. */
export function FigureTable({ rows }: { readonly rows: readonly FigureRow[] }) {
  return (
    <table className="figures">
      <thead>
        <tr>
          <th scope="col">Figure</th>
          <th scope="col">
            <span className="scale-key">
              <svg viewBox="0 0 12 12" width="12" height="12" aria-hidden="true">
                <path d="M6 1l5 5l-5 5l-5 -5z" fill="var(--lamp)" />
              </svg>
              lamp
              <svg viewBox="0 0 12 12" width="12" height="12" aria-hidden="true">
                <circle cx="6" cy="6" r="4" fill="none" stroke="var(--sun)" strokeWidth="1.75" />
              </svg>
              sun
            </span>
          </th>
          <th scope="col" className="value">
            Lamp
          </th>
          <th scope="col" className="sun">
            Sun
          </th>
        </tr>
      </thead>
      <tbody>
        {rows
          .filter((row) => row.value !== null)
          .map((row) => (
            <FigureLine key={row.key} row={row} />
          ))}
      </tbody>
      <MissingFigures rows={rows.filter((row) => row.value === null)} />
    </table>
  );
}

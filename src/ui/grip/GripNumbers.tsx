import { limitsOf, scoreAgainst, type Limits } from '../../sim/judgement/limits';
import type { SceneDocument } from '../../scene/schema';
import { formatIlluminance, formatLength } from '../../scene/units/format';
import type { GripFigures } from '../../sim/grip/gripFigures';
import type { GripHelper } from '../../sim/grip/gripRequest';
import { VerdictGlyph } from '../parts/Glyphs';
import { classOfScore, VERDICT_WORDS } from '../words/figures';
import { fixed, unitsOf } from '../words/format';

interface Row {
  readonly name: string;
  readonly unit: string;
  readonly of: (figures: GripFigures) => number | null;
  readonly text: (value: number) => string;
  readonly limits?: Limits;
}

function rowsOf(document: SceneDocument, helper: GripHelper): Row[] {
  const units = unitsOf(document);
  const limits = limitsOf(document);
  const level = (value: number): string => formatIlluminance(value, units.illuminance);
  const dark: Row[] = [
    { name: 'Spill left, mean', unit: '', of: ({ dark: part }) => part?.meanLx ?? null, text: level },
    { name: 'Spill left, brightest', unit: '', of: ({ dark: part }) => part?.peakLx ?? null, text: level },
    { name: 'Wanted light, mean', unit: '', of: ({ wanted }) => wanted?.meanLx ?? null, text: level },
  ];
  const thrown: Row = {
    name: 'Throw',
    unit: '',
    of: ({ throwM }) => throwM,
    text: (value) => formatLength(value, units.length),
  };
  return [
    ...(helper === 'flag' ? dark : []),
    ...(helper === 'mirror' ? [thrown] : []),
    {
      name: 'Fall-off',
      unit: 'stops',
      of: ({ falloffStops }) => falloffStops,
      text: (value) => fixed(value, 2),
      limits: limits.fallOff,
    },
    {
      name: 'Step',
      unit: '/10 cm',
      of: ({ stepStopsPer10cm }) => stepStopsPer10cm,
      text: (value) => fixed(value, 2),
      limits: limits.step,
    },
    { name: 'Patch level', unit: '', of: ({ meanLx }) => meanLx, text: level },
  ];
}

/** One figure with what the judgement makes of it: a mark and its word. */
function Cell({ row, figures }: { readonly row: Row; readonly figures: GripFigures | null }) {
  if (figures === null) return <td aria-busy="true">…</td>;
  const value = row.of(figures);
  if (value === null) return <td>-</td>;
  const verdict = row.limits && classOfScore(scoreAgainst(value, row.limits));
  return (
    <td>
      {row.text(value)}
      {verdict && (
        <span className={`class ${verdict}`}>
          <VerdictGlyph verdict={verdict} /> {VERDICT_WORDS[verdict]}
        </span>
      )}
    </td>
  );
}

/** Light that the wanted patch, or the wanted part, loses: "costs 1.2 stops". */
function lost(before: GripFigures | null, after: GripFigures | null, helper: GripHelper): string | null {
  const of = (figures: GripFigures | null): number | null =>
    helper === 'flag' ? (figures?.wanted?.meanLx ?? null) : (figures?.meanLx ?? null);
  const [from, to] = [of(before), of(after)];
  if (from === null || to === null || from <= 0) return null;
  if (to <= 0) return 'All of the wanted light is lost.';
  const stops = Math.log2(from / to);
  const amount = `${fixed(Math.abs(stops), 2)} ${Math.abs(stops) > 1.005 ? 'stops' : 'stop'}`;
  if (Math.abs(stops) < 0.005) return 'No wanted light is lost.';
  return stops > 0 ? `Wanted light lost: ${amount}.` : `Wanted light gained: ${amount}.`;
}

/** The figures that a helper is for, now and with its pieces in, as the solver has them. */
export function GripNumbers({
  document,
  helper,
  before,
  after,
}: {
  readonly document: SceneDocument;
  readonly helper: GripHelper;
  readonly before: GripFigures | null;
  readonly after: GripFigures | null;
}) {
  const reason = after?.reason ?? before?.reason ?? null;
  return (
    <>
      <table className="grip-numbers" data-testid="grip-numbers" data-ready={before && after ? 'yes' : 'no'}>
        <caption className="hidden-word">Figures before and after</caption>
        <thead>
          <tr>
            <td />
            <th scope="col">Before</th>
            <th scope="col">After</th>
          </tr>
        </thead>
        <tbody>
          {rowsOf(document, helper).map((row) => (
            <tr key={row.name}>
              <th scope="row">
                {row.name} {row.unit !== '' && <span className="unit">{row.unit}</span>}
              </th>
              <Cell row={row} figures={before} />
              <Cell row={row} figures={after} />
            </tr>
          ))}
        </tbody>
      </table>
      <p className="small" role="status">
        {reason ?? lost(before, after, helper) ?? 'Working it out.'}
        {helper === 'mirror' && after && !after.isOffMirror && after.reason === null && (
          <> The lamp’s own light is brighter there than the mirror’s: flag it off the patch.</>
        )}
        {after?.hotEnd && ` Hot end after: ${after.hotEnd}.`}
      </p>
    </>
  );
}

/** The figure that the helper is for, before and after, in one line: it stays beside the buttons while the form scrolls. */
export function GripGist({
  document,
  helper,
  before,
  after,
}: {
  readonly document: SceneDocument;
  readonly helper: GripHelper;
  readonly before: GripFigures | null;
  readonly after: GripFigures | null;
}) {
  const row = rowsOf(document, helper)[0]!;
  const said = (figures: GripFigures | null): string => {
    const value = figures && row.of(figures);
    return figures === null ? '…' : value === null ? '-' : row.text(value!);
  };
  const value = after && row.of(after);
  const verdict = row.limits && value !== null ? classOfScore(scoreAgainst(value, row.limits)) : null;
  return (
    <p className="grip-gist">
      {row.name} {said(before)} to <strong>{said(after)}</strong> {row.unit}
      {verdict && (
        <>
          {' '}
          <VerdictGlyph verdict={verdict} /> {VERDICT_WORDS[verdict].toLowerCase()}
        </>
      )}
    </p>
  );
}

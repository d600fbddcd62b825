import { useState } from 'react';
import { Button } from 'react-aria-components';
import { cheapestMend } from '../../sim/mends/sentenceWithMend';
import type { SunCheck } from '../../sim/results';
import { workOf, type Mend, type MendFigures } from '../../sim/mends/mend';
import { useApp, useDocument, useMends, useResults, useSession } from '../app';
import { Fractions } from '../parts/Fractions';
import { Glyph, VerdictGlyph } from '../parts/Glyphs';
import { sourceOf } from '../tools/things';
import { classOfScore, VERDICT_WORDS } from '../words/figures';
import { setupLetter } from '../words/format';
import { costWords, mendFigures, MEND_WORDS, orderWords, workWords } from '../words/mends';
import { WorkDialog } from './WorkDialog';

/** Figures in rows, one column for each time: now, after the mend, and what the judgement then said. */
function FigureCompare({
  caption,
  columns,
  rows,
}: {
  readonly caption: string;
  readonly columns: readonly { readonly name: string; readonly figures: MendFigures }[];
  readonly rows: MendFigures;
}) {
  const names = mendFigures(rows, rows);
  return (
    <table className="compare">
      <caption className="hidden-word">{caption}</caption>
      <thead>
        <tr>
          <td />
          {names.map(({ key, name, unit }) => (
            <th key={key} scope="col">
              {name} {unit !== '' && <span className="unit">{unit}</span>}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {columns.map((column) => (
          <tr key={column.name}>
            <th scope="row">{column.name}</th>
            {mendFigures(rows, column.figures).map(({ key, after }) => (
              <td key={key}>{after}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function TryButton({ mend }: { readonly mend: Mend }) {
  const { actions } = useApp();
  const isCurrent = useMends((state) => state.isCurrent);
  if (mend.setup === null) return null;
  return (
    <Button
      className="button"
      isDisabled={!isCurrent}
      aria-label={`Try it: ${MEND_WORDS[mend.kind].toLowerCase()}`}
      onPress={() => actions.tryMend(mend)}
    >
      Try it
    </Button>
  );
}

/** What a mend takes: light (where its sentence does not stand beside it), hands, minutes, and that kit and space allow it. */
function MendCost({ mend, isLightSaid = false }: { readonly mend: Mend; readonly isLightSaid?: boolean }) {
  const document = useDocument((state) => state.shown);
  const work = workOf(document, mend.kind, mend.pieces);
  const light = mend.costStops === null || isLightSaid ? '' : `${costWords(mend.costStops)}, `;
  // The sentence may have said already what binds the mend.
  const why = mend.sentence.includes(mend.why) ? '' : ` ${mend.why}`;
  return (
    <p className="small">
      Simulated: <Fractions text={light} />
      {workWords(work)}. Kit and space: yes.
      <Fractions text={why} />
    </p>
  );
}

/** The mend that the verdict's sentence names, as the crew rigs it. */
export function BestMend({ check }: { readonly check: SunCheck }) {
  const mends = useMends((state) => state.found?.mends);
  const isCurrent = useMends((state) => state.isCurrent);
  const best = cheapestMend(check, mends ?? []);
  if (!best || !isCurrent) return null;
  return (
    <div className="best-mend" data-testid="best-mend">
      <div>
        <p>
          <strong>Cheapest mend.</strong>{' '}
          <Fractions text={`${orderWords(best)}. ${best.remark === best.why ? '' : best.remark}`} />
        </p>
        <MendCost mend={best} isLightSaid />
      </div>
      <TryButton mend={best} />
    </div>
  );
}

function MendItem({ mend, position }: { readonly mend: Mend; readonly position: number }) {
  const source = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  const lamp = sourceOf(source, setupId, mend.sourceId)?.name ?? mend.sourceId;
  const verdict = mend.scoreAfter === null ? 'notEnough' : classOfScore(mend.scoreAfter);
  return (
    <li data-mend={mend.kind}>
      <header>
        <h3>
          {position}. {MEND_WORDS[mend.kind]}
          <span className="unit"> {lamp}</span>
        </h3>
        <span className={`after ${verdict}`}>
          <VerdictGlyph verdict={verdict} /> {VERDICT_WORDS[verdict]}
        </span>
      </header>
      <p>
        <Fractions text={mend.sentence} />
      </p>
      <FigureCompare
        caption={`${MEND_WORDS[mend.kind]}: figures before and after`}
        rows={mend}
        columns={[
          { name: 'Now', figures: mend.before },
          { name: 'After', figures: mend },
        ]}
      />
      <div className="cost-line">
        <MendCost mend={mend} />
        <TryButton mend={mend} />
      </div>
    </li>
  );
}

function Refusals({ mends }: { readonly mends: readonly Mend[] }) {
  if (mends.length === 0) return null;
  return (
    <div className="refusals" data-testid="refusals">
      <h3>Cannot be had</h3>
      <ul>
        {mends.map((mend) => (
          <li key={mend.id}>
            <strong>{MEND_WORDS[mend.kind]}.</strong> <Fractions text={mend.sentence} />
          </li>
        ))}
      </ul>
    </div>
  );
}

/** How the search stands, and what can be done about it. */
function SearchState() {
  const { mending } = useApp();
  const status = useMends((state) => state.status);
  const hasOld = useMends((state) => state.found !== null && !state.isCurrent);
  const reads = useResults(
    (state) => state.checks.length > 0 && state.checks.every(({ verdict }) => verdict === 'reads'),
  );
  const find = (label: string) => (
    <Button className="button" onPress={() => mending.find()}>
      {label}
    </Button>
  );
  switch (status.kind) {
    case 'found':
      return null;
    case 'searching': {
      const percent = Math.round(status.fraction * 100);
      return (
        <div className="search-state">
          <span>
            Simulating mends, {percent}&thinsp;%.{hasOld && ' Those below are out of date.'}
          </span>
          <progress max={100} value={percent} aria-label="Simulating mends" />
          <Button className="button" onPress={() => mending.stop()}>
            Stop
          </Button>
        </div>
      );
    }
    case 'stopped':
      return (
        <div className="search-state">
          <span>Stopped.{hasOld && ' Those below are out of date.'}</span>
          {find('Look for mends')}
        </div>
      );
    case 'failed':
      return (
        <div className="search-state" role="alert">
          <Glyph name="fault" size={18} />
          <span>The search stopped: {status.fault.message}.</span>
          {find('Look again')}
        </div>
      );
    case 'waiting':
      return (
        <div className="search-state">
          <span>
            {reads ? 'It reads as sun: nothing to mend.' : 'Simulated once the verdict has stood for a moment.'}
            {hasOld && ' Those below are out of date.'}
          </span>
          {find(reads ? 'Look anyway' : 'Look now')}
        </div>
      );
  }
}

/** In a setup that was made from a mend: what stood before, what was foretold, and what the judgement says of it. */
function TriedMend() {
  const { actions } = useApp();
  const setupId = useSession((state) => state.setupId);
  const fromId = useSession((state) => state.madeFrom[state.setupId]);
  const mend = useMends((state) => state.tried[setupId]);
  const setups = useDocument((state) => state.shown.setups);
  const check = useResults((state) => {
    const own = state.checks.filter((one) => one.sourceId === mend?.sourceId);
    const highest = (scores: object): number => Math.max(0, ...(Object.values(scores) as number[]));
    return own.sort((a, b) => highest(b.scores) - highest(a.scores))[0];
  });
  if (!mend) return null;
  const index = setups.findIndex(({ id }) => id === fromId);
  const before = index < 0 ? 'Before' : `Setup ${setupLetter(index)}`;
  return (
    <div className="tried" data-testid="tried">
      <p>Made from a mend: {MEND_WORDS[mend.kind].toLowerCase()}. Beside what it mends and what was foretold:</p>
      <FigureCompare
        caption="The mend that was tried"
        rows={mend}
        columns={[
          { name: before, figures: mend.before },
          { name: 'Foretold', figures: mend },
          ...(check ? [{ name: 'Judged', figures: check }] : []),
        ]}
      />
      {index >= 0 && fromId !== undefined && (
        <Button className="button" onPress={() => actions.chooseSetup(fromId)}>
          Back to setup {setupLetter(index)}
        </Button>
      )}
    </div>
  );
}

/** Everything that would make the rig read more like the sun, ranked; what cannot be had, with the reason. */
export function MendsPanel() {
  const [isEditing, setEditing] = useState(false);
  const found = useMends((state) => state.found);
  const isCurrent = useMends((state) => state.isCurrent);
  const isJudged = useResults((state) => state.checks.length > 0);
  if (!isJudged) return null;
  const possible = found?.mends.filter((mend) => mend.possible) ?? [];
  const refused = found?.mends.filter((mend) => !mend.possible) ?? [];
  return (
    <section className="card mends" aria-labelledby="mends-title" data-testid="mends">
      <header>
        <h2 id="mends-title">Mends</h2>
        <span>{isCurrent ? 'by what they leave, best first' : found ? 'out of date' : ''}</span>
      </header>
      <TriedMend />
      <SearchState />
      {found && (
        <div className={isCurrent ? 'mend-list' : 'mend-list old'}>
          {possible.length === 0 && <p>Nothing found that would make it read more like the sun.</p>}
          <ol>
            {possible.map((mend, index) => (
              <MendItem key={mend.id} mend={mend} position={index + 1} />
            ))}
          </ol>
          <Refusals mends={refused} />
          <p className="small">
            Minutes and hands are common practice, no published source. Lamps and stands in a new place: safety first,
            then light.
          </p>
          <Button className="button" onPress={() => setEditing(true)}>
            Edit minutes and hands
          </Button>
        </div>
      )}
      <WorkDialog isOpen={isEditing} onClose={() => setEditing(false)} />
    </section>
  );
}

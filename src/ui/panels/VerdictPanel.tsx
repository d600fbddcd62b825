import { Button } from 'react-aria-components';
import { FIGURE_WORDS } from '../../sim/judgement/figureWords';
import { flagWords } from '../../sim/judgement/flagWords';
import { sentenceWithMend } from '../../sim/mends/sentenceWithMend';
import type { SunCheck } from '../../sim/results';
import { useApp, useDocument, useMends, useResults, useSession } from '../app';
import { Fractions } from '../parts/Fractions';
import { Glyph, VerdictGlyph } from '../parts/Glyphs';
import { setupOf, sourceOf } from '../tools/things';
import { limitsOf } from '../../sim/judgement/limits';
import { againstLimit, figureRows, VERDICT_WORDS, worstRow, type FigureRow } from '../words/figures';
import { confidenceWords } from '../words/explain';
import { bandOf, lowerFirst, unitsOf } from '../words/format';
import { BestMend } from './MendsPanel';
import { FigureTable } from './FigureTable';
import { LimitsButton } from './LimitsDialog';

/** "L1 on plaster wall" */
function usePairWords(): (check: SunCheck) => string {
  const document = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  return (check) => {
    const source = sourceOf(document, setupId, check.sourceId)?.name ?? check.sourceId;
    const surface = document.surfaces[check.surfaceId]?.name ?? check.surfaceId;
    return `${source} on ${lowerFirst(surface)}`;
  };
}

function useFigureRows(check: SunCheck): FigureRow[] {
  const document = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  const source = sourceOf(document, setupId, check.sourceId);
  return figureRows(check, unitsOf(document), bandOf(source ? [source] : []), limitsOf(document));
}

function CheckChoice({ checks, index }: { readonly checks: readonly SunCheck[]; readonly index: number }) {
  const { session } = useApp();
  const pairWords = usePairWords();
  if (checks.length < 2) return null;
  return (
    <div className="choose-check" role="group" aria-label="Lamp and surface">
      {checks.map((check, position) => (
        <Button
          key={`${check.sourceId} ${check.surfaceId}`}
          className="toggle"
          aria-pressed={position === index}
          data-selected={position === index || undefined}
          onPress={() => session.setState({ checkIndex: position, surfaceId: check.surfaceId })}
        >
          {pairWords(check)}
        </Button>
      ))}
    </div>
  );
}

/** The word and the worst figure; stays at the top of the panel while the rest scrolls. */
function VerdictHead({ check }: { readonly check: SunCheck }) {
  const worst = worstRow(useFigureRows(check), check.worst);
  return (
    <div className="verdict-head">
      <VerdictGlyph verdict={check.verdict} />
      <div>
        <strong className={check.verdict} data-testid="verdict-word">
          {VERDICT_WORDS[check.verdict]}
        </strong>
        {check.worst && worst && (check.scores[check.worst] ?? 0) > 0 && (
          <span>
            {check.verdict === 'reads' ? 'Nearest to its limit' : 'Worst'}: {FIGURE_WORDS[check.worst]},{' '}
            <Fractions text={againstLimit(worst)} />
          </span>
        )}
      </div>
    </div>
  );
}

function CheckBody({ check }: { readonly check: SunCheck }) {
  const rows = useFigureRows(check);
  const flags = flagWords(check);
  const confidence = confidenceWords(check);
  return (
    <>
      {flags.length > 0 && <p className="small">{flags.join(' ')}</p>}
      {confidence !== null && <p className="small">{confidence}</p>}
      <FigureTable rows={rows} />
      <LimitsButton />
    </>
  );
}

/** What stopped the judgement, and of which setup; the last verdict, if there is one, stays below as out of date. */
function JudgementFault() {
  const { actions, solving } = useApp();
  const fault = useResults((state) => state.checksFault);
  const setupId = useSession((state) => state.setupId);
  const setupName = useDocument((state) => setupOf(state.shown, setupId)?.name ?? setupId);
  const canUndo = useDocument((state) => state.history.past.length > 0);
  const hasOld = useResults((state) => state.checks.length > 0);
  if (!fault) return null;
  return (
    <div className="judgement-fault" role="alert">
      <Glyph name="fault" size={18} />
      <p>
        The judgement of setup {setupName} stopped: {fault.message}.{hasOld && ' The verdict below is out of date.'}
      </p>
      <div className="buttons">
        <Button className="button" onPress={() => solving.again()}>
          Judge again
        </Button>
        {canUndo && (
          <Button className="button" onPress={() => actions.undo()}>
            Undo
          </Button>
        )}
      </div>
    </div>
  );
}

function useHasLamp(): boolean {
  const setupId = useSession((state) => state.setupId);
  return useDocument((state) =>
    Object.values(setupOf(state.shown, setupId)?.sources ?? {}).some(({ type }) => type === 'lamp'),
  );
}

function NothingToJudge() {
  const { actions, session } = useApp();
  const hasFault = useResults((state) => state.checksFault !== null);
  const waiting = useResults((state) => state.checksRevision < 0);
  const hasLamp = useHasLamp();
  if (hasFault) return null;
  if (waiting) return <p className="say">Working out the verdict.</p>;
  return (
    <>
      <p className="say">{hasLamp ? 'No lamp plays the sun here.' : 'There is no lamp in this setup yet.'}</p>
      <p className="small">
        {hasLamp
          ? 'Select a lamp and turn on “Plays the sun on the wall shown”.'
          : 'The first one plays the sun on the wall shown, and the verdict stands here.'}
      </p>
      <div className="buttons">
        {hasLamp ? (
          <Button className="button" onPress={() => actions.toFront('plan')}>
            Show the plan
          </Button>
        ) : (
          <Button className="button" onPress={() => actions.place('lamp')}>
            Place a lamp
          </Button>
        )}
        <Button className="button" onPress={() => session.setState({ isMakingSun: true })}>
          Make a sun here
        </Button>
      </div>
    </>
  );
}

function useShownCheck(): {
  readonly checks: readonly SunCheck[];
  readonly index: number;
  readonly check: SunCheck | undefined;
} {
  const checks = useResults((state) => state.checks);
  const index = Math.min(
    useSession((state) => state.checkIndex),
    checks.length - 1,
  );
  return { checks, index, check: checks[index] };
}

/** What gives the shaft away, and, once mends have been looked for, the cheapest of them. */
function VerdictSentence({ check }: { readonly check: SunCheck }) {
  const mends = useMends((state) => (state.isCurrent ? state.found?.mends : undefined));
  const whole = sentenceWithMend(check, mends ?? []);
  return (
    <p className="say">
      <span data-testid="tell">
        <Fractions text={check.sentence} />
      </span>
      <Fractions text={whole.slice(check.sentence.length)} />
    </p>
  );
}

/** The answer that the panel opens with, word and sentence: it never scrolls away. */
export function VerdictTop() {
  const { check } = useShownCheck();
  const isOld = useResults((state) => state.checksRevision !== state.revision && state.checksRevision >= 0);
  const isLate = useResults((state) => state.status.kind !== 'solving' || state.status.late);
  const pairWords = usePairWords();
  return (
    <div className="verdict-top" data-testid="verdict-top">
      <header>
        <h2 id="verdict-title">Does it read as sun?</h2>
        {check && <span>{isOld && isLate ? 'out of date' : pairWords(check)}</span>}
      </header>
      <JudgementFault />
      {check && <VerdictHead check={check} />}
      {check ? <VerdictSentence check={check} /> : <NothingToJudge />}
    </div>
  );
}

/** Why: the figures and what they are held against. */
export function VerdictPanel() {
  const { checks, index, check } = useShownCheck();
  if (!check) return null;
  return (
    <section className="card verdict" aria-labelledby="verdict-title" data-testid="verdict">
      <BestMend check={check} />
      <CheckChoice checks={checks} index={index} />
      <CheckBody check={check} />
    </section>
  );
}

import { useEffect, useId, useMemo, useRef, useState } from 'react';
import { Button, Label, Radio, RadioGroup } from 'react-aria-components';
import type { Say } from '../../sim/teach/say';
import { judgeGuess, type Ask, type Exercise, type Guess, type Reveal, type Round } from '../../sim/teach/lesson';
import { lengthKind, numberKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';
import { Glyph } from '../parts/Glyphs';
import type { Units } from '../words/format';
import { SpreadPicture } from './BenchPicture';
import { LessonChartView } from './LessonChartView';
import type { Kept } from './progress';
import { together } from './together';

interface AskProps {
  readonly ask: Ask;
  readonly units: Units;
  readonly guess: Guess | null;
  readonly onGuess: (guess: Guess) => void;
}
function AskFields({ ask, units, guess, onGuess }: AskProps) {
  if (ask.kind === 'choice') {
    return (
      <RadioGroup className="choices" value={typeof guess === 'string' ? guess : null} onChange={onGuess}>
        <Label className="hidden-word">Your guess</Label>
        {ask.choices.map(({ id, words }) => (
          <Radio key={id} value={id} className="choice">
            <span className="dot" aria-hidden="true" />
            <span>{together(words)}</span>
          </Radio>
        ))}
      </RadioGroup>
    );
  }
  return (
    <div className="number-guess">
      <QuantityField
        label={ask.label}
        value={typeof guess === 'number' ? guess : null}
        kind={ask.quantity === 'stops' ? numberKind('stops', 1, 0.5) : lengthKind(units)}
        optional={{ word: '', onClear: () => null }}
        onCommit={(value) => {
          onGuess(value);
          return null;
        }}
      />
    </div>
  );
}

function RevealTable({ reveal, say }: { readonly reveal: Reveal; readonly say: Say }) {
  const hasLaw = reveal.rows.some(({ law }) => law !== null);
  return (
    <div className="table-scroll">
      <table className="table lesson-table">
        <thead>
          <tr>
            <th scope="col">
              <span className="hidden-word">What</span>
            </th>
            <th scope="col">Computed</th>
            {hasLaw && <th scope="col">Law: {reveal.lawWords}</th>}
          </tr>
        </thead>
        <tbody>
          {reveal.rows.map(({ words, quantity, computed, law }) => (
            <tr key={words}>
              <th scope="row">{together(words)}</th>
              <td>{say.quantity(quantity, computed)}</td>
              {hasLaw && <td>{law === null ? '-' : say.quantity(quantity, law)}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface RevealProps {
  readonly round: Round;
  readonly say: Say;
  readonly units: Units;
  readonly title: string;
}
function RevealPart({ round, say, units, title }: RevealProps) {
  const reveal = useMemo(() => round.reveal(), [round]);
  return (
    <div className="reveal" data-testid={`reveal-${round.id}`}>
      <div className="reveal-words">
        {reveal.words.map((words) => (
          <p key={words}>{together(words)}</p>
        ))}
        <RevealTable reveal={reveal} say={say} />
      </div>
      <div className="reveal-pictures">
        {reveal.picture === 'spread' && <SpreadPicture />}
        <LessonChartView
          chart={reveal.chart}
          first={reveal.chart.firstView ?? 'linear'}
          units={units}
          label={`${title}: levels against ${reveal.chart.alongWords.toLowerCase()}`}
        />
      </div>
    </div>
  );
}

interface Props {
  readonly exercise: Exercise;
  readonly round: Round;
  readonly number: number;
  readonly say: Say;
  readonly units: Units;
  readonly kept: Kept | null;
  readonly onCommit: (kept: Kept) => void;
  readonly onAgain: () => void;
}
/** One question: a guess is committed before anything is shown, and judged for what went wrong in it. */
export function RoundCard({ exercise, round, number, say, units, kept, onCommit, onAgain }: Props) {
  const titleId = useId();
  const [guess, setGuess] = useState<Guess | null>(null);
  const [nudge, setNudge] = useState('');
  const judged = useRef<HTMLDivElement>(null);
  const wasCommitted = useRef(false);
  useEffect(() => {
    if (kept && wasCommitted.current) judged.current?.focus();
    wasCommitted.current = false;
  }, [kept]);
  const commit = (): void => {
    const isThere = guess !== null && (round.ask.kind === 'number' || round.ask.choices.some(({ id }) => id === guess));
    if (!isThere) {
      setNudge(round.ask.kind === 'number' ? 'Type a number first.' : 'Choose one first.');
      return;
    }
    const { isRight, reason } = judgeGuess(round, guess);
    const said =
      round.ask.kind === 'number'
        ? say.quantity(round.ask.quantity, Number(guess))
        : (round.ask.choices.find(({ id }) => id === guess)?.words ?? '');
    wasCommitted.current = true;
    setNudge('');
    onCommit({ said, isRight, reason });
  };
  return (
    <section className="round" aria-labelledby={titleId}>
      <h4 id={titleId}>
        <span className="round-number">Question {number}</span> {together(round.question)}
      </h4>
      {kept === null ? (
        <>
          <AskFields ask={round.ask} units={units} guess={guess} onGuess={setGuess} />
          <div className="commit">
            <Button className="button main" onPress={commit}>
              Commit the guess
            </Button>
            <span role="status">{nudge}</span>
          </div>
        </>
      ) : (
        <>
          <div
            className="judged"
            data-right={kept.isRight ? 'yes' : 'no'}
            ref={judged}
            tabIndex={-1}
            data-testid={`judged-${round.id}`}
          >
            <Glyph name={kept.isRight ? 'done' : 'close'} size={28} />
            <div>
              <p>
                <b>{kept.isRight ? 'Right' : 'Not so'}</b> You said: {together(kept.said)}
              </p>
              <p>{together(kept.reason)}</p>
            </div>
            <Button
              className="button"
              onPress={() => {
                setGuess(null);
                onAgain();
              }}
            >
              Guess again
            </Button>
          </div>
          <RevealPart round={round} say={say} units={units} title={exercise.title} />
        </>
      )}
    </section>
  );
}

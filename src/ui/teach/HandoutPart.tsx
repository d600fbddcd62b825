import { useMemo, useState } from 'react';
import { Button } from 'react-aria-components';
import type { SceneDocument } from '../../scene/schema';
import { EXERCISES } from '../../sim/teach/exercises';
import type { Exercise, LessonChart, Round } from '../../sim/teach/lesson';
import { sayOf, type Say } from '../../sim/teach/say';
import { useDocument } from '../app';
import { SwitchField } from '../fields/SwitchField';
import { unitsOf, type Units } from '../words/format';
import { stageFor } from './bases';
import { chartPicture } from './lessonChart';
import { Plot } from './LessonChartView';
import { together } from './together';

const LOCAL_CODE = 'Follow local code. A licensed electrician, a qualified rigger or a competent person decides.';
const LETTERS = 'ABCDEFGH';
const LOG_ROWS = 8;

interface Sheet {
  readonly exercise: Exercise;
  readonly rounds: readonly Round[];
  readonly say: Say;
}
/** The exercises as they stand with their sliders at rest. */
const sheetsOf = (open: SceneDocument): Sheet[] =>
  EXERCISES.map((exercise) => {
    const { document } = stageFor(exercise, open);
    const say = sayOf(document);
    return { exercise, rounds: exercise.rounds({ document, value: exercise.slider.first, say }), say };
  });

function Choices({ round }: { readonly round: Round }) {
  if (round.ask.kind === 'number') return <p className="blank-line">{round.ask.label}:</p>;
  return (
    <ol className="paper-choices">
      {round.ask.choices.map(({ id, words }, i) => (
        <li key={id}>
          <span className="box">{LETTERS[i]}</span> {together(words)}
        </li>
      ))}
    </ol>
  );
}

/** The sheet that the crew fills in: questions, room to guess, room for what the meter said. */
function Worksheet({ sheets, units }: { readonly sheets: readonly Sheet[]; readonly units: Units }) {
  return (
    <article className="paper" aria-labelledby="paper-worksheet">
      <h4 id="paper-worksheet">How light falls off: worksheet</h4>
      <p className="paper-blanks">
        <span>Name:</span>
        <span>Date:</span>
        <span>Lamp:</span>
      </p>
      {sheets.map(({ exercise, rounds }, i) => (
        <section key={exercise.id} className="paper-exercise">
          <h5>
            {i + 1}. {exercise.title}
          </h5>
          <p>{exercise.look}</p>
          {rounds.map((round) => (
            <div key={round.id}>
              <p>
                <b>{together(round.question)}</b>
              </p>
              <Choices round={round} />
              <p className="blank-line">What it was, and why:</p>
            </div>
          ))}
        </section>
      ))}
      <p className="paper-foot">{LOCAL_CODE}</p>
      <LogForm units={units} />
    </article>
  );
}

/** Empty log-log paper for levels over four decades and distances over three doublings. */
const PAPER: LessonChart = {
  along: 'length',
  alongWords: 'Distance from the lens',
  series: [
    {
      id: 'paper',
      name: 'paper',
      kind: 'dots',
      points: [
        [1, 10_000],
        [8, 10],
      ],
    },
  ],
};
function LogForm({ units }: { readonly units: Units }) {
  const picture = chartPicture(PAPER, 'logLog', units, 640, 420);
  return (
    <section className="paper-exercise paper-log">
      <h5>Reading log</h5>
      <p>
        Meter on the axis, facing the lamp; tape from the lens. Plot each reading; the law is a straight line that falls
        two stops a doubling.
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">Distance</th>
            <th scope="col">Reading</th>
            <th scope="col">Reading x distance²</th>
            <th scope="col">Stops from the first</th>
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: LOG_ROWS }, (_, i) => (
            <tr key={i}>
              <td />
              <td />
              <td />
              <td />
            </tr>
          ))}
        </tbody>
      </table>
      <Plot picture={{ ...picture, traces: [] }} label="Empty log-log paper for the readings" />
      <p className="blank-line paper-blanks">
        <span>Candela:</span>
        <span>Origin behind the lens:</span>
        <span>Reading that is off:</span>
      </p>
    </section>
  );
}

const answerOf = (round: Round, say: Say): string => {
  if (round.ask.kind === 'number') return `${round.ask.label}: ${say.quantity(round.ask.quantity, round.ask.right)}`;
  const index = round.ask.choices.findIndex(({ isRight }) => isRight);
  const right = round.ask.choices[index];
  return right ? `${LETTERS[index]}, ${right.words}. ${right.reason}` : '';
};

function AnswerPage({ sheets }: { readonly sheets: readonly Sheet[] }) {
  return (
    <article className="paper" aria-labelledby="paper-answers">
      <h4 id="paper-answers">How light falls off: answers</h4>
      {sheets.map(({ exercise, rounds, say }, i) => (
        <section key={exercise.id} className="paper-exercise">
          <h5>
            {i + 1}. {exercise.title}
          </h5>
          {rounds.map((round) => (
            <div key={round.id}>
              <p>
                <b>{together(answerOf(round, say))}</b>
              </p>
              <p>{together(round.reveal().words.join(' '))}</p>
            </div>
          ))}
          <p>Take away: {exercise.takeAway}</p>
        </section>
      ))}
    </article>
  );
}

/** For whoever runs it: what each wrong answer gives away, what to bring, what to watch for. */
function LeaderPage({ sheets }: { readonly sheets: readonly Sheet[] }) {
  return (
    <article className="paper" aria-labelledby="paper-leader">
      <h4 id="paper-leader">How light falls off: leader’s page</h4>
      <p>
        Nine exercises, one to two minutes each. Let everybody write a guess before anything is shown, then ask one who
        was wrong to say how the guess came about: the reason below fits that mistake. Then walk the meter.
      </p>
      <p>
        Bring: a small bright lamp, a soft mat, a lensed lantern, a projection spot, two stands and bags, a tape, a
        meter with a flat disc, a card, a double and two singles, a half scrim, tape for marks at 1, 1.4, 2, 2.8, 4, 5.6
        and 8.
      </p>
      {sheets.map(({ exercise, rounds, say }, i) => (
        <section key={exercise.id} className="paper-exercise">
          <h5>
            {i + 1}. {exercise.title}
          </h5>
          {rounds.map(({ id, ask }) =>
            ask.kind === 'choice' ? (
              <ul key={id}>
                {ask.choices
                  .filter(({ isRight }) => !isRight)
                  .map((choice) => (
                    <li key={choice.id}>
                      <b>{together(choice.words)}</b>: {together(choice.reason)}
                    </li>
                  ))}
              </ul>
            ) : (
              <ul key={id}>
                {ask.slips.map((slip) => (
                  <li key={slip}>
                    <b>
                      {ask.label}, {together(say.quantity(ask.quantity, slip))}
                    </b>
                    : {together(ask.judge(slip).reason)}
                  </li>
                ))}
              </ul>
            ),
          )}
          <p className="paper-caution">Caution: {exercise.caution}</p>
        </section>
      ))}
      <p className="paper-foot">{LOCAL_CODE}</p>
    </article>
  );
}

/** The lessons on paper: worksheet with blanks, answers, a page for the leader. */
export function HandoutPart() {
  const open = useDocument((state) => state.shown);
  const sheets = useMemo(() => sheetsOf(open), [open]);
  const [shown, setShown] = useState({ worksheet: true, answers: false, leader: false });
  const units = unitsOf(open);
  return (
    <section className="bench-part handout" aria-labelledby="handout-title">
      <div className="handout-head">
        <h3 id="handout-title">Handout</h3>
        <SwitchField isOn={shown.worksheet} onChange={(worksheet) => setShown({ ...shown, worksheet })}>
          Worksheet with blanks
        </SwitchField>
        <SwitchField isOn={shown.answers} onChange={(answers) => setShown({ ...shown, answers })}>
          Answers
        </SwitchField>
        <SwitchField isOn={shown.leader} onChange={(leader) => setShown({ ...shown, leader })}>
          Leader’s page
        </SwitchField>
        <Button className="button main" isDisabled={!Object.values(shown).some(Boolean)} onPress={() => window.print()}>
          Print
        </Button>
      </div>
      {shown.worksheet && <Worksheet sheets={sheets} units={units} />}
      {shown.answers && <AnswerPage sheets={sheets} />}
      {shown.leader && <LeaderPage sheets={sheets} />}
    </section>
  );
}

import { useState } from 'react';
import { Button, Tab, TabList, TabPanel, Tabs } from 'react-aria-components';
import { useStore } from 'zustand';
import { EXERCISES } from '../../sim/teach/exercises';
import { useApp, useDocument } from '../app';
import { PickField } from '../fields/PickField';
import { Glyph } from '../parts/Glyphs';
import { useMedia } from '../parts/useMedia';
import { BenchPart } from './BenchPart';
import { ExercisePart } from './ExercisePart';
import { createProgress, dropGuesses, type Progress, type Shelf } from './progress';

function shelfOf(): Shelf {
  try {
    return window.localStorage;
  } catch {
    return null; // storage may be forbidden
  }
}

type Standing = 'new' | 'begun' | 'right' | 'learned';
const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  new: 'not tried',
  begun: 'begun',
  right: 'done, all right',
  learned: 'done, with something learned',
};
/** Rounds of an exercise are known by the guesses kept of it: the page shows them in order, so the last one ends it. */
function standingOf({ guesses }: Progress, exerciseId: string, roundCount: number): Standing {
  const kept = Object.entries(guesses).filter(([key]) => key.startsWith(`${exerciseId}/`));
  if (kept.length === 0) return 'new';
  if (kept.length < roundCount) return 'begun';
  return kept.every(([, { isRight }]) => isRight) ? 'right' : 'learned';
}

function ExerciseList({
  shown,
  standings,
  onShow,
}: {
  readonly shown: string;
  readonly standings: readonly Standing[];
  readonly onShow: (id: string) => void;
}) {
  const isNarrow = useMedia('(width < 900px)');
  const names = EXERCISES.map(({ id, title }, i) => ({
    value: id,
    name: `${i + 1}. ${title}, ${STANDING_WORDS[standings[i]!]}`,
  }));
  if (isNarrow) return <PickField label="Exercise" value={shown} choices={names} onPick={onShow} wide />;
  return (
    <nav className="exercise-list" aria-label="Exercises">
      <ol>
        {EXERCISES.map(({ id, title }, i) => {
          const standing = standings[i]!;
          return (
            <li key={id}>
              <Button
                className="exercise-pick"
                aria-current={id === shown ? 'step' : 'false'}
                onPress={() => onShow(id)}
              >
                <span className="place">{i + 1}</span>
                <span className="name">{title}</span>
                <span className="standing" data-standing={standing}>
                  {(standing === 'right' || standing === 'learned') && <Glyph name="done" size={18} />}
                  <span className={standing === 'begun' ? '' : 'hidden-word'}>{STANDING_WORDS[standing]}</span>
                </span>
              </Button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

const PROGRESS = createProgress(shelfOf());

function ExercisesPart() {
  const open = useDocument((state) => state.shown);
  const progress = useStore(PROGRESS);
  const [shown, setShown] = useState(EXERCISES[0]!.id);
  const [values, setValues] = useState<Readonly<Record<string, number>>>({});
  const index = EXERCISES.findIndex(({ id }) => id === shown);
  const exercise = EXERCISES[index]!;
  const standings = EXERCISES.map(({ id, roundCount }) => standingOf(progress, id, roundCount));
  const doneCount = standings.filter((standing) => standing === 'right' || standing === 'learned').length;
  const next = EXERCISES[index + 1];
  const show = (id: string): void => {
    setShown(id);
    document.querySelector('.lessons')?.scrollTo({ top: 0 });
  };
  return (
    <div className="exercises">
      <div className="exercise-side">
        <ExerciseList shown={shown} standings={standings} onShow={show} />
        <p className="kept-words">
          {doneCount} of {EXERCISES.length} done. Kept on this device alone.
        </p>
        <Button
          className="button"
          isDisabled={Object.keys(progress.guesses).length === 0}
          onPress={() => dropGuesses(PROGRESS, () => true)}
        >
          Start over
        </Button>
      </div>
      <ExercisePart
        key={exercise.id}
        exercise={exercise}
        open={open}
        value={values[exercise.id] ?? exercise.slider.first}
        onValue={(value) => setValues({ ...values, [exercise.id]: value })}
        progress={PROGRESS}
        onNext={next ? () => show(next.id) : null}
      />
    </div>
  );
}

const PARTS = [
  { id: 'exercises', name: 'Exercises', Part: ExercisesPart },
  { id: 'bench', name: 'Free bench', Part: BenchPart },
] as const;

/** The page that teaches: guided exercises, a bench to walk a meter on, a log of readings, a handout. */
export function LessonsPage() {
  const { session } = useApp();
  return (
    <div className="lessons" role="region" aria-labelledby="lessons-title">
      <Tabs>
        <header className="lessons-head">
          <h2 id="lessons-title">Lessons</h2>
          <TabList aria-label="Parts of the lessons" className="cover-tablist">
            {PARTS.map(({ id, name }) => (
              <Tab key={id} id={id} className="cover-tab">
                {name}
              </Tab>
            ))}
          </TabList>
          <Button className="button" onPress={() => session.setState({ page: 'sheets' })}>
            Back to the sheets
          </Button>
        </header>
        {PARTS.map(({ id, Part }) => (
          <TabPanel key={id} id={id}>
            <Part />
          </TabPanel>
        ))}
      </Tabs>
    </div>
  );
}

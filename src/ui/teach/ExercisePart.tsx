import { useDeferredValue, useMemo } from 'react';
import { Button, Label, Slider, SliderThumb, SliderTrack } from 'react-aria-components';
import { useStore } from 'zustand';
import type { SceneDocument } from '../../scene/schema';
import type { Exercise, SliderSpec } from '../../sim/teach/lesson';
import { sayOf } from '../../sim/teach/say';
import { useApp } from '../app';
import { ANGLE, lengthKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';
import { Glyph } from '../parts/Glyphs';
import { unitsOf, type Units } from '../words/format';
import { fileNameOf, stageFor } from './bases';
import { BenchPicture } from './BenchPicture';
import { dropGuesses, guessKey, keepGuess, type ProgressStore } from './progress';
import { RoundCard } from './RoundCard';

interface SliderProps {
  readonly spec: SliderSpec;
  readonly value: number;
  readonly units: Units;
  readonly onChange: (value: number) => void;
}
function LessonSlider({ spec, value, units, onChange }: SliderProps) {
  const { words, quantity, least, most, step } = spec;
  const share = (value - least) / (most - least);
  const rest = (next: number): number =>
    spec.rests?.reduce((best, each) => (Math.abs(each - next) < Math.abs(best - next) ? each : best)) ?? next;
  const change = (next: number): void => onChange(rest(next));
  return (
    <div className="lesson-slider">
      <Slider
        className="slider field"
        minValue={least}
        maxValue={most}
        step={step}
        value={value}
        onChange={(next) => change(next as number)}
      >
        <Label className="field-label">{words}</Label>
        <SliderTrack className="track">
          <span className="filled" style={{ width: `${share * 100}%` }} />
          <SliderThumb className="handle" aria-label={words} />
        </SliderTrack>
      </Slider>
      <QuantityField
        label={words}
        value={value}
        kind={quantity === 'angle' ? ANGLE : lengthKind(units)}
        onCommit={(typed) => {
          if (!(typed >= least && typed <= most)) {
            const kind = quantity === 'angle' ? ANGLE : lengthKind(units);
            return `It goes from ${kind.print(least)} to ${kind.print(most)}.`;
          }
          change(typed);
          return null;
        }}
      />
    </div>
  );
}

interface Props {
  readonly exercise: Exercise;
  readonly open: SceneDocument;
  readonly value: number;
  readonly onValue: (value: number) => void;
  readonly progress: ProgressStore;
  readonly onNext: (() => void) | null;
}
/** One exercise: what to look for, a slider, its questions one after another, and what to take away. */
export function ExercisePart({ exercise, open, value, onValue, progress, onNext }: Props) {
  const { actions } = useApp();
  const guesses = useStore(progress, (state) => state.guesses);
  const calm = useDeferredValue(value);
  const stage = useMemo(() => stageFor(exercise, open), [exercise, open]);
  const units = unitsOf(stage.document);
  const bench = useMemo(() => ({ document: stage.document, value: calm, say: sayOf(stage.document) }), [stage, calm]);
  const rounds = useMemo(() => exercise.rounds(bench), [exercise, bench]);
  const built = useMemo(() => exercise.build(stage.document, calm), [exercise, stage, calm]);
  const keptOf = (roundId: string) => guesses[guessKey(exercise.id, roundId)] ?? null;
  const answered = rounds.filter(({ id }) => keptOf(id) !== null).length;
  const isDone = answered === rounds.length;
  return (
    <article className="exercise" aria-labelledby="exercise-title">
      <header className="exercise-head">
        <div>
          <h3 id="exercise-title">{exercise.title}</h3>
          <p className="look">{exercise.look}</p>
        </div>
      </header>
      <div className="bench">
        <BenchPicture
          document={built.document}
          setupId={built.setupId}
          view={exercise.view}
          marks={exercise.marks(bench)}
        />
        <div className="bench-side">
          <LessonSlider spec={exercise.slider} value={value} units={units} onChange={onValue} />
          <p className="bench-scene">
            {stage.isOpenScene
              ? 'Played on the open scene: change its lamps, and question and answer change with them.'
              : 'Played on its own demo scene. Open it to move and change things on the sheets.'}
          </p>
          <Button
            className="button"
            onPress={() => actions.openLesson(built.document, built.setupId, fileNameOf(exercise))}
          >
            Open this on the sheets
          </Button>
        </div>
      </div>
      {rounds.slice(0, answered + 1).map((round, i) => (
        <RoundCard
          key={`${exercise.id} ${round.id}`}
          exercise={exercise}
          round={round}
          number={i + 1}
          say={bench.say}
          units={units}
          kept={keptOf(round.id)}
          onCommit={(kept) => keepGuess(progress, guessKey(exercise.id, round.id), kept)}
          onAgain={() => dropGuesses(progress, (key) => key === guessKey(exercise.id, round.id))}
        />
      ))}
      {isDone && (
        <div className="take-away">
          <p>
            <b>Take away</b> {exercise.takeAway}
          </p>
          {onNext && (
            <Button className="button main" onPress={onNext}>
              Next exercise
            </Button>
          )}
        </div>
      )}
      <p className="lesson-caution">
        <Glyph name="caution" size={20} />
        <span>
          With real lamps: {exercise.caution} Follow local code. A licensed electrician, a qualified rigger or a
          competent person decides.
        </span>
      </p>
    </article>
  );
}

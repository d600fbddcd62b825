import { useState } from 'react';
import { Label, Slider, SliderThumb, SliderTrack } from 'react-aria-components';
import { isLamp, type Lamp, type Point3, type SceneDocument, type Source } from '../../scene/schema';
import { formatIlluminance, formatStops, formatTStop } from '../../scene/units/format';
import { stopsFromCamera, tStopForIlluminance } from '../../sim/exposure/exposure';
import type { LessonChart } from '../../sim/teach/lesson';
import { sayOf, type Say } from '../../sim/teach/say';
import {
  axisLine,
  FACINGS,
  gapWords,
  wholeGap,
  type Facing,
  type Walk,
  type WalkPoint,
  type WalkTask,
} from '../../sim/teach/walk';
import { useDocument, useSession } from '../app';
import { JobState } from '../coverage/parts';
import { useJob, useWhenRested } from '../coverage/useJob';
import { lengthKind } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import { Fractions } from '../parts/Fractions';
import { Glyph } from '../parts/Glyphs';
import { bandOf, unitsOf, type Units } from '../words/format';
import { LessonChartView } from './LessonChartView';
import { together } from './together';

const COUNT = 41;
const FACING_NAMES: Readonly<Record<Facing, string>> = {
  lamp: 'Facing the lamp',
  back: 'Back along the line',
  up: 'Facing up',
};
const AXES = ['x', 'y', 'h'] as const;

interface Line {
  readonly fromM: Point3;
  readonly toM: Point3;
}
interface LineProps {
  readonly line: Line;
  readonly units: Units;
  readonly onChange: (line: Line) => void;
}
function LineFields({ line, units, onChange }: LineProps) {
  const moved = (end: keyof Line, axis: number, value: number): null => {
    onChange({ ...line, [end]: line[end].map((old, i) => (i === axis ? value : old)) as unknown as Point3 });
    return null;
  };
  return (
    <>
      {(['fromM', 'toM'] as const).map((end) => (
        <fieldset key={end} className="line-end">
          <legend>{end === 'fromM' ? 'Walk from' : 'Walk to'}</legend>
          {AXES.map((axis, i) => (
            <QuantityField
              key={axis}
              label={axis}
              value={line[end][i] ?? 0}
              kind={lengthKind(units)}
              onCommit={(value) => moved(end, i, value)}
            />
          ))}
        </fieldset>
      ))}
    </>
  );
}

function chartOf({ points }: Walk, isFromLamp: boolean): LessonChart {
  const at = (point: WalkPoint): number => (isFromLamp ? point.distanceM : point.alongM);
  return {
    along: isFromLamp ? 'length' : 'place',
    alongWords: isFromLamp ? 'Distance from the lamp' : 'Along the line',
    series: [
      {
        id: 'curve',
        name: 'the meter',
        kind: 'curve',
        points: points.map((point) => [at(point), point.illuminanceLx] as const),
      },
      {
        id: 'law',
        name: 'the pure law',
        kind: 'law',
        points: points.map((point) => [at(point), point.lawLx] as const),
      },
    ],
  };
}

interface ReadingProps {
  readonly point: WalkPoint;
  readonly document: SceneDocument;
  readonly lamp: Lamp;
  readonly say: Say;
  readonly band: string;
}
/** What the meter reads here, and why it is not what the law says. */
function Reading({ point, document, lamp, say, band }: ReadingProps) {
  const { illuminanceLx, lawLx, gap } = point;
  const parts = gap ? gapWords(gap) : [];
  const whole = gap ? wholeGap(gap) : 0;
  const isLux = unitsOf(document).illuminance === 'lux';
  const stops = stopsFromCamera(illuminanceLx, document.camera);
  return (
    <div className="walk-reading" data-testid="walk-reading" role="status">
      <p className="walk-level">
        <b>{say.lux(illuminanceLx)}</b> {band}
        <span>{formatIlluminance(illuminanceLx, isLux ? 'footcandles' : 'lux')}</span>
        {stops !== null && (
          <span>
            <Fractions text={formatStops(stops)} /> stops off
          </span>
        )}
        {illuminanceLx > 0 && (
          <span>
            <Fractions text={formatTStop(tStopForIlluminance(illuminanceLx, document.camera))} />
          </span>
        )}
      </p>
      <p>
        {together(say.length(point.distanceM))} from {lamp.name}. The pure law says {together(say.lux(lawLx))}
        {gap === null ? '; no light of this lamp comes here.' : ''}
        {gap !== null && parts.length === 0 ? ', and so it is.' : ''}
        {gap !== null && parts.length > 0
          ? together(`: the meter reads ${say.stops(whole)} ${whole > 0 ? 'more' : 'less'}.`)
          : ''}
      </p>
      {parts.length > 0 && (
        <ul className="gap-parts">
          {parts.map(({ stops, words }) => (
            <li key={words}>
              <b>
                {stops > 0 ? '+' : '\u2212'}
                {together(say.stops(stops))}
              </b>{' '}
              {words}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** The line that was typed, else down the lamp's axis; null without a lamp. */
function lineOf(
  scene: SceneDocument,
  setupId: string,
  lampId: string,
  lamp: Source | undefined,
  typed: Line | null,
): Line | null {
  if (lamp?.type !== 'lamp') return null;
  if (typed) return typed;
  const [fromM, toM] = axisLine(scene, setupId, lampId);
  return { fromM, toM };
}

/** Walk a meter along any line of the open scene: what it reads, what the law says, and what makes the gap. */
export function BenchPart() {
  const scene = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  const [lampChoice, setLampChoice] = useState<string | null>(null);
  const [facing, setFacing] = useState<Facing>('lamp');
  const [typed, setTyped] = useState<{ readonly key: string; readonly line: Line } | null>(null);
  const [index, setIndex] = useState(10);
  const setup = scene.setups.find(({ id }) => id === setupId);
  const lamps = Object.entries(setup?.sources ?? {}).filter(([, source]) => isLamp(source));
  const lampId = lamps.find(([id]) => id === lampChoice)?.[0] ?? lamps[0]?.[0] ?? '';
  const lamp = setup?.sources[lampId];
  const key = `${setupId} ${lampId}`;
  const line = lineOf(scene, setupId, lampId, lamp, typed?.key === key ? typed.line : null);
  const job = useJob<WalkTask>('walk');
  useWhenRested([scene, setupId, lampId, JSON.stringify(line), facing], () => {
    if (line) job.start({ kind: 'walk', document: scene, setupId, lampId, ...line, facing, count: COUNT });
  });
  if (!line || lamp?.type !== 'lamp') return <p className="bench-part">Place a lamp in this setup first.</p>;
  const units = unitsOf(scene);
  const say = sayOf(scene);
  const walked = job.answer?.result ?? null;
  const point = walked?.points[Math.min(index, walked.points.length - 1)];
  const distances = walked?.points.map(({ distanceM }) => distanceM) ?? [];
  const isFromLamp = distances.every((each, i) => i === 0 || each > distances[i - 1]!);
  return (
    <section className="bench-part" aria-labelledby="bench-title">
      <h3 id="bench-title">Free bench</h3>
      <p className="look">
        Walk a meter along a line of the open scene, {scene.name}, {setup?.name}. The law beside it knows the candela
        and the tape, and nothing else.
      </p>
      <div className="walk-fields">
        <PickField
          label="Lamp that the law is for"
          value={lampId}
          choices={lamps.map(([value, { name }]) => ({ value, name }))}
          onPick={setLampChoice}
        />
        <PickField
          label="Meter"
          value={facing}
          choices={FACINGS.map((value) => ({ value, name: FACING_NAMES[value] }))}
          onPick={setFacing}
        />
        <LineFields line={line} units={units} onChange={(next) => setTyped({ key, line: next })} />
      </div>
      <JobState job={job} scene={scene} what="Walking" />
      {walked && point && (
        <div className="walk" data-old={job.answer?.document === scene ? 'no' : 'yes'}>
          <div>
            <Slider
              className="slider field"
              minValue={0}
              maxValue={walked.points.length - 1}
              step={1}
              value={Math.min(index, walked.points.length - 1)}
              onChange={(next) => setIndex(next as number)}
            >
              <Label className="field-label">Where the meter is: {say.length(point.alongM)} along the line</Label>
              <SliderTrack className="track">
                <span
                  className="filled"
                  style={{
                    width: `${(100 * Math.min(index, walked.points.length - 1)) / (walked.points.length - 1)}%`,
                  }}
                />
                <SliderThumb className="handle" aria-label="Where the meter is" />
              </SliderTrack>
            </Slider>
            <Reading
              point={point}
              document={scene}
              lamp={lamp}
              say={say}
              band={bandOf(Object.values(setup?.sources ?? {}))}
            />
          </div>
          <LessonChartView
            chart={chartOf(walked, isFromLamp)}
            units={units}
            first="logLog"
            label="What the meter reads along the line beside the pure law"
            markAt={isFromLamp ? point.distanceM : point.alongM}
          />
        </div>
      )}
      <p className="lesson-caution">
        <Glyph name="caution" size={20} />
        <span>
          With real lamps: no staring into them as you walk, cables taped where you step. Follow local code. A licensed
          electrician, a qualified rigger or a competent person decides.
        </span>
      </p>
    </section>
  );
}

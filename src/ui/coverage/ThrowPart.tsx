import { useLayoutEffect, useRef, useState } from 'react';
import { Button } from 'react-aria-components';
import { formatIlluminance, formatLength } from '../../scene/units/format';
import { distancesCsv } from '../../files/tables/distancesCsv';
import type { ThrowRow, ThrowTask } from '../../sim/coverage/coverageTasks';
import { useApp } from '../app';
import { fixed, levelBandOf, unitsOf } from '../words/format';
import { chartModel, chartSvg, LIMITS } from './chartModel';
import { throwCommand } from './commands';
import { CoverPart, JobState, keepFile, rangeWords, type Chosen } from './parts';
import { ThrowChart } from './ThrowChart';
import { useJob, useWhenRested } from './useJob';

const ROWS = 36;
const TABLE_STRIDE = 3;

/** Width of an element in CSS pixels, kept up to date. */
function useWidth(): [React.RefObject<HTMLDivElement | null>, number] {
  const ref = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(800);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return undefined;
    const watch = new ResizeObserver(() => setWidth(Math.max(320, Math.round(element.clientWidth))));
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return [ref, width];
}

function footprintWords(row: ThrowRow, length: (m: number) => string): string {
  const [first] = row.footprints;
  if (!first?.beam) return 'none';
  if (first.beam.runsOff) return 'runs off along the wall';
  return `${length(first.beam.nearM + (first.beam.farM ?? 0))} x ${length(first.beam.widthM ?? 0)}`;
}

function DistanceTable({
  rows,
  chosen,
  onGo,
}: {
  rows: readonly ThrowRow[];
  chosen: Chosen;
  onGo: (m: number) => void;
}) {
  const units = unitsOf(chosen.scene);
  const length = (m: number): string => formatLength(m, units.length);
  return (
    <div className="table-scroll" tabIndex={0} role="region" aria-label="Distances as a table">
      <table className="table">
        <thead>
          <tr>
            <th scope="col">Distance</th>
            <th scope="col">Mean, {levelBandOf(chosen.scene, chosen.setupId)}</th>
            <th scope="col">Range</th>
            <th scope="col">Min/mean</th>
            <th scope="col">Min/max</th>
            <th scope="col">Fan</th>
            <th scope="col">Beam on it</th>
            {chosen.targetLx > 0 && <th scope="col">Class needed</th>}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.distanceM}>
              <td>
                <Button
                  className="button flat"
                  aria-label={`Go to ${length(row.distanceM)}`}
                  onPress={() => onGo(row.distanceM)}
                >
                  {length(row.distanceM)}
                </Button>
                {row.inSpace ? '' : ' outside the space'}
              </td>
              <td>{formatIlluminance(row.meanLx, units.illuminance)}</td>
              <td>{rangeWords(row.rangeStops, row.reason)}</td>
              <td>{row.minOverMean === null ? 'none' : fixed(row.minOverMean, 2)}</td>
              <td>{row.minOverMax === null ? 'none' : fixed(row.minOverMax, 2)}</td>
              <td>{fixed(row.fanDeg, 0)}°</td>
              <td>{footprintWords(row, length)}</td>
              {chosen.targetLx > 0 && (
                <td>
                  {row.need === null
                    ? 'none'
                    : `${Math.round(row.need.neededCandela)} cd: ${row.need.kitName ?? 'none in the kit'}`}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Level and evenness against distance for a lamp or group, and where to go for a wanted range. */
export function ThrowPart({ chosen }: { readonly chosen: Chosen }) {
  const { actions } = useApp();
  const { scene, setupId, sourceId, surfaceId, targetLx } = chosen;
  const [box, width] = useWidth();
  const [span, setSpan] = useState({ fromM: 1, toM: 12 });
  const job = useJob<ThrowTask>('throw');
  const task: ThrowTask = {
    kind: 'throw',
    document: scene,
    setupId,
    sourceId,
    surfaceId,
    ...span,
    count: ROWS,
    targetLx,
  };
  useWhenRested([scene, setupId, sourceId, surfaceId, targetLx, span], () => job.start(task));
  const units = unitsOf(scene);
  const distance = (m: number): string => formatLength(m, units.length);
  // Ticks are whole metres; feet keep their inches.
  const tick = (m: number): string => (units.length === 'metres' ? `${String(m)} m` : distance(m));
  const level = (lx: number): string => formatIlluminance(lx, units.illuminance);
  const go = (m: number): void => actions.runLoud(throwCommand(scene, setupId, sourceId, surfaceId, m, distance(m)));
  const result = job.answer?.result;
  const isOld = job.answer !== null && job.answer.document !== scene;
  const height = Math.max(300, Math.min(440, Math.round(width * 0.42)));
  const model = result && chartModel(result, width, height, { level, distance: tick });
  const say = (row: ThrowRow): string =>
    `${distance(row.distanceM)}: mean ${level(row.meanLx)}, range ${rangeWords(row.rangeStops, row.reason)}, fan ${fixed(row.fanDeg, 0)}°`;
  const markWords = (stops: number, name: string): string => {
    const mark = result?.marks.find((each) => each.stops === stops);
    if (!mark) return '';
    if (mark.distanceM !== null) return `${name}: ${distance(mark.distanceM)}`;
    return `${name}: not reached${mark.bestStops === null ? '' : `, best ${fixed(mark.bestStops, 2)} at ${distance(mark.bestAtM ?? 0)}`}`;
  };
  return (
    <CoverPart
      id="throw"
      title="Throw"
      buttons={
        <>
          <Button className="button" onPress={() => setSpan({ ...span, toM: span.toM === 12 ? 24 : 12 })}>
            {span.toM === 12 ? `Look out to ${tick(24)}` : `Look out to ${tick(12)}`}
          </Button>
          <Button
            className="button"
            isDisabled={!model}
            onPress={() => model && keepFile(chartSvg(model, `${scene.name}: throw`), 'throw.svg', 'image/svg+xml')}
          >
            Keep SVG
          </Button>
          <Button
            className="button"
            isDisabled={!result}
            onPress={() => result && keepFile(distancesCsv(result.rows), 'distances.csv', 'text/csv')}
          >
            Keep CSV
          </Button>
        </>
      }
    >
      <div ref={box}>
        {model && result && <ThrowChart model={model} result={result} isOld={isOld} say={say} onGo={go} />}
      </div>
      <JobState job={job} scene={scene} what="Moving the lamp through its distances" />
      {result && (
        <>
          <ul className="marks" aria-label="Distances from which on the range stays within">
            {LIMITS.map(({ stops, words }) => (
              <li key={words}>{markWords(stops, stops === 1 ? words : `${words} stop`)}</li>
            ))}
          </ul>
          <p className="hint">
            Every row is simulated with grip and walls on {result.present.cells} cells, this rig’s own light at its
            level. Click or press Enter to go there; Undo takes it back.
          </p>
          <DistanceTable rows={result.rows.filter((_, i) => i % TABLE_STRIDE === 0)} chosen={chosen} onGo={go} />
        </>
      )}
    </CoverPart>
  );
}

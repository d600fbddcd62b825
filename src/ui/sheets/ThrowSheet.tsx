import type { ReactNode } from 'react';
import { Button } from 'react-aria-components';
import { formatIlluminance, formatLength } from '../../scene/units/format';
import type { ThrowRow, ThrowTask } from '../../sim/coverage/coverageTasks';
import type { SunThrowResult, SunThrowTask } from '../../sim/coverage/sunThrow';
import { limitText } from '../../sim/judgement/figureWords';
import { useApp, useDocument, useSession } from '../app';
import { Shape, ThrowChart } from '../coverage/ThrowChart';
import { chartModel } from '../coverage/chartModel';
import { throwCommand } from '../coverage/commands';
import { rangeWords } from '../coverage/parts';
import { useJob, useWhenRested, type Answer } from '../coverage/useJob';
import { useBox } from '../parts/useBox';
import { elevationSurfaceId, sectionSourceId } from '../stores/shownPlaces';
import { sourceOf } from '../tools/things';
import { fixed, unitsOf, type Units } from '../words/format';
import { SHEET_WORDS } from './SheetView';
import { sunThrowModel } from './sunThrowModel';

const ROWS = 18;
/** Charts follow the drawings when the hand has rested; they must not slow it. */
const REST_MS = 1200;

interface Shown {
  readonly setupId: string;
  readonly sourceId: string;
  readonly surfaceId: string;
  /** True where the lamp plays the sun there: then the patch is judged, not the whole surface. */
  readonly isSun: boolean;
}

/** Lamp and surface of the sheet: the section's lamp on the elevation's surface. */
function useShown(): Shown | null {
  const scene = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  const selection = useSession((state) => state.selection);
  const surfaceChoice = useSession((state) => state.surfaceId);
  const surfaceId = elevationSurfaceId(scene, { surfaceId: surfaceChoice });
  const sourceId = sectionSourceId(scene, setupId, selection);
  if (surfaceId === null || sourceId === null) return null;
  const isSun = (scene.story?.playsSun ?? []).some(
    (pair) => pair.sourceId === sourceId && pair.surfaceId === surfaceId,
  );
  // A lamp of a group is moved with it: the light on a cloth is that of all of them.
  const group = Object.entries(scene.groups ?? {}).find(([, { memberIds }]) => memberIds.includes(sourceId));
  return { setupId, sourceId: isSun || !group ? sourceId : group[0], surfaceId, isSun };
}

interface ChartBox {
  readonly width: number;
  readonly height: number;
}

function SunChart({
  result,
  units,
  box,
}: {
  readonly result: SunThrowResult;
  readonly units: Units;
  readonly box: ChartBox;
}) {
  const model = sunThrowModel(result, box.width, box.height, {
    distance: (m) => (units.length === 'metres' ? `${Number(m.toFixed(1))} m` : formatLength(m, units.length)),
    stops: (stops) => `${fixed(stops, 1)} stops`,
    limit: (stops) => `${limitText(stops)} stop`,
  });
  const { bands, left, right, shapes, present } = model;
  const marks = result.marks.map(({ stops, distanceM }) =>
    distanceM === null ? '' : `${limitText(stops)} stop at ${formatLength(distanceM, units.length)}`,
  );
  return (
    <svg
      viewBox={`0 0 ${box.width} ${box.height}`}
      role="img"
      aria-label={`Fall-off against distance: ${present.words}; ${marks.filter((words) => words !== '').join(', ')}`}
    >
      {bands.map(({ verdict, top, bottom }) => (
        <rect
          key={verdict}
          className={`band ${verdict}`}
          x={left}
          y={top}
          width={right - left}
          height={Math.max(0, bottom - top)}
        />
      ))}
      {shapes.map((shape, i) => (
        <Shape key={i} shape={shape} />
      ))}
      {bands.map(({ verdict, top, words }) => (
        <text key={verdict} className={`band-name ${verdict}`} x={left + 8} y={top + 14} textAnchor="start">
          {words}
        </text>
      ))}
      <path className="now-mark" d={`M${present.at[0]} ${present.at[1] - 6}l6 6l-6 6l-6 -6z`} />
      <text
        className="ink-present"
        x={present.at[0] + (present.at[0] > right - 140 ? -10 : 10)}
        y={present.at[1] - 6}
        textAnchor={present.at[0] > right - 140 ? 'end' : 'start'}
      >
        {present.words}
      </text>
    </svg>
  );
}

/** The lamp's patch from distance to distance. */
function SunThrow({ shown, box }: { readonly shown: Shown; readonly box: ChartBox }) {
  const scene = useDocument((state) => state.shown);
  const job = useJob<SunThrowTask>('sunThrow');
  const { isSun: _isSun, ...ids } = shown;
  useWhenRested(
    [scene, ids.setupId, ids.sourceId, ids.surfaceId],
    () => job.start({ kind: 'sunThrow', document: scene, ...ids, count: ROWS }),
    REST_MS,
  );
  return (
    <Waiting answer={job.answer} fault={job.fault}>
      {(result) =>
        result.reason === null ? (
          <SunChart result={result} units={unitsOf(scene)} box={box} />
        ) : (
          <p className="sheet-words">{result.reason}</p>
        )
      }
    </Waiting>
  );
}

/** A lamp's level and evenness over the whole surface from distance to distance. */
function PlainThrow({ shown, box }: { readonly shown: Shown; readonly box: ChartBox }) {
  const { actions } = useApp();
  const scene = useDocument((state) => state.shown);
  const job = useJob<ThrowTask>('throw');
  const { isSun: _isSun, ...ids } = shown;
  useWhenRested(
    [scene, ids.setupId, ids.sourceId, ids.surfaceId],
    () => job.start({ kind: 'throw', document: scene, ...ids, fromM: 1, toM: 12, count: ROWS, targetLx: 0 }),
    REST_MS,
  );
  const units = unitsOf(scene);
  const distance = (m: number): string => formatLength(m, units.length);
  const level = (lx: number): string => formatIlluminance(lx, units.illuminance);
  const say = (row: ThrowRow): string =>
    `${distance(row.distanceM)}: mean ${level(row.meanLx)}, range ${rangeWords(row.rangeStops, row.reason)}, fan ${fixed(row.fanDeg, 0)}°`;
  const tick = (m: number): string => (units.length === 'metres' ? `${String(m)} m` : distance(m));
  return (
    <Waiting answer={job.answer} fault={job.fault}>
      {(result) => (
        <ThrowChart
          model={chartModel(result, box.width, Math.max(200, box.height - 24), { level, distance: tick })}
          result={result}
          isOld={job.answer?.document !== scene}
          say={say}
          onGo={(m) => actions.runLoud(throwCommand(scene, ids.setupId, ids.sourceId, ids.surfaceId, m, distance(m)))}
        />
      )}
    </Waiting>
  );
}

function Waiting<R>({
  answer,
  fault,
  children,
}: {
  readonly answer: Answer<R> | null;
  readonly fault: string | null;
  readonly children: (result: R) => ReactNode;
}) {
  if (fault !== null) return <p className="sheet-words">Nothing to draw: {fault}.</p>;
  return answer === null ? (
    <p className="sheet-words">Moving the lamp through its distances.</p>
  ) : (
    children(answer.result)
  );
}

/**
 * Throw: what distance does, for the lamp of the section on the surface of the elevation. Beside the drawings where there
 * is room for four, else in the place of the one in front.
 */
export function ThrowSheet({ isInFront }: { readonly isInFront: boolean }) {
  const { actions, session } = useApp();
  const front = useSession((state) => state.frontSheet);
  const shown = useShown();
  const scene = useDocument((state) => state.shown);
  const [ref, box] = useBox();
  const lamp =
    shown &&
    (sourceOf(scene, shown.setupId, shown.sourceId)?.name ?? scene.groups?.[shown.sourceId]?.name ?? shown.sourceId);
  const surface = shown && (scene.surfaces[shown.surfaceId]?.name ?? shown.surfaceId);
  return (
    <section
      className="sheet throw-sheet"
      data-kind="throw"
      {...(isInFront && { 'data-place': 'front' })}
      aria-label="Throw"
    >
      <header>
        <h2>
          <span>Throw</span>
        </h2>
        <span className="quiet">{shown && `${lamp} on ${surface?.toLowerCase()}, by distance`}</span>
        <span className="grow" />
        {isInFront && (
          <Button className="button flat" onPress={() => actions.toFront(front)}>
            Back to the {SHEET_WORDS[front].toLowerCase()}
          </Button>
        )}
        <Button className="button flat" onPress={() => session.setState({ page: 'coverage' })}>
          More distances
        </Button>
      </header>
      <div className="drawing-box" ref={ref}>
        {shown === null && <p className="sheet-words">Place a lamp and a wall first.</p>}
        {shown !== null && box !== null && shown.isSun && <SunThrow shown={shown} box={box} />}
        {shown !== null && box !== null && !shown.isSun && <PlainThrow shown={shown} box={box} />}
      </div>
    </section>
  );
}

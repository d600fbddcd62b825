import { useMemo, useState } from 'react';
import { Button } from 'react-aria-components';
import { formatIlluminance, formatLength, formatPercent } from '../../scene/units/format';
import type { Lamp, SceneDocument } from '../../scene/schema';
import type { EvenOutTask } from '../../sim/coverage/coverageTasks';
import { defaultBounds, type EvenBounds, type EvenChoice } from '../../sim/coverage/evenOut';
import { keyIlluminanceLx } from '../../sim/exposure/exposure';
import { USES } from '../../sim/coverage/uses';
import type { GridResult } from '../../sim/results';
import { useApp } from '../app';
import { PickField } from '../fields/PickField';
import { freshId } from '../newThings';
import { bandOf, fixed, unitsOf } from '../words/format';
import { layoutSetup } from './commands';
import { StopsMap, StopsWedge } from './EvenMap';
import { SearchBounds } from './SearchBounds';
import { stopsOffMean } from './stopsContours';
import { CoverPart, JobState, rangeWords, type Chosen } from './parts';
import { useJob } from './useJob';

const COUNTS = ['2', '3', '4', '5', '6', '7', '8'] as const;

function aimWords(across: number): string {
  if (across < 0.1) return 'square on';
  if (across < 0.9) return 'a little inwards';
  return across <= 1.1 ? 'at the middle' : 'across to the far side';
}

function ChoiceTable({ choice, chosen }: { readonly choice: EvenChoice; readonly chosen: Chosen }) {
  const units = unitsOf(chosen.scene);
  const length = (m: number): string => formatLength(m, units.length);
  return (
    <div className="table-scroll" tabIndex={0} role="region" aria-label="Where the lamps go">
      <table className="table">
        <thead>
          <tr>
            <th scope="col">Lamp</th>
            <th scope="col">x</th>
            <th scope="col">y</th>
            <th scope="col">Height</th>
            <th scope="col">Level</th>
          </tr>
        </thead>
        <tbody>
          {choice.lampsAt.map(({ id, lamp }) => (
            <tr key={id}>
              <td>{lamp.name}</td>
              {lamp.pose.positionM.map((value, axis) => (
                <td key={axis}>{length(value)}</td>
              ))}
              <td>{formatPercent(choice.level)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const MAP_STOPS = 1;

/** The layout's light over the area, in stops off its own mean. */
function EvennessMap({
  map,
  meanLx,
  scene,
}: {
  readonly map: GridResult;
  readonly meanLx: number;
  readonly scene: SceneDocument;
}) {
  const stops = useMemo(() => stopsOffMean(map, meanLx), [map, meanLx]);
  return (
    <figure className="even-map">
      <StopsMap
        grid={map}
        stops={stops}
        mostStops={MAP_STOPS}
        label="Map of the layout that was found, stops off its mean"
      />
      <figcaption>
        Stops off the mean, {formatIlluminance(meanLx, unitsOf(scene).illuminance)}; contours a third of a stop apart.
      </figcaption>
      <StopsWedge mostStops={MAP_STOPS} ends={['darker', 'brighter']} />
    </figure>
  );
}

/** Where two to eight lamps like the chosen one light the surface most evenly. */
export function EvenPart({ chosen }: { readonly chosen: Chosen }) {
  const { actions, session } = useApp();
  const { scene, setupId, sourceId, surfaceId, targetLx } = chosen;
  const [count, setCount] = useState<(typeof COUNTS)[number]>('2');
  const [useId, setUseId] = useState(USES[2]!.id);
  const [ownBounds, setOwnBounds] = useState<{ surfaceId: string; bounds: EvenBounds } | null>(null);
  const isOwn = ownBounds?.surfaceId === surfaceId;
  const bounds = isOwn ? ownBounds.bounds : defaultBounds(scene, surfaceId);
  const job = useJob<EvenOutTask>('even');
  const setup = scene.setups.find(({ id }) => id === setupId);
  const firstId = setup?.sources[sourceId]
    ? sourceId
    : scene.groups?.[sourceId]?.memberIds.find((id) => setup?.sources[id]);
  const source = firstId === undefined ? undefined : setup?.sources[firstId];
  const lamp: Lamp | null = source?.type === 'lamp' ? source : null;
  const use = USES.find(({ id }) => id === useId)!;
  const units = unitsOf(scene);
  const cameraLx = keyIlluminanceLx(scene.camera) ?? 0;
  const find = (): void => {
    if (!lamp) return;
    const enough = { rangeStops: use.rangeStops, meanLx: cameraLx };
    const task = { document: scene, setupId, surfaceId, lamp, lamps: Number(count), bounds, targetLx };
    job.start({ kind: 'even', ...task, ...(cameraLx > 0 && { enough }) });
  };
  const best = job.answer?.result.best ?? null;
  const map = job.answer?.result.map ?? null;
  const tryIt = (): void => {
    if (!best || !setup) return;
    const made = layoutSetup(setup, freshId(scene, 'setup'), best);
    actions.runLoud({ type: 'addSetup', setup: made });
    session.setState({ setupId: made.id });
  };
  const range = best?.evenness.rangeStops ?? null;
  const inKit = lamp?.kitId === undefined ? undefined : scene.kit?.[lamp.kitId]?.count;
  return (
    <CoverPart id="even" title="Light it evenly">
      <div className="fields four">
        <PickField
          label="Lamps"
          value={count}
          choices={COUNTS.map((value) => ({ value, name: value }))}
          onPick={setCount}
        />
        <PickField
          label="It is for"
          value={useId}
          choices={USES.map(({ id, name }) => ({ value: id, name }))}
          onPick={setUseId}
        />
        <Button className="button main" isDisabled={lamp === null || job.fraction !== null} onPress={find}>
          Find places
        </Button>
      </div>
      <SearchBounds
        bounds={bounds}
        scene={scene}
        onChange={(change) => setOwnBounds({ surfaceId, bounds: { ...bounds, ...change } })}
        onReset={isOwn ? () => setOwnBounds(null) : null}
      />
      <p className="hint">
        {use.name}: up to {fixed(use.rangeStops, 2)} stops from brightest to darkest ({use.basis}).{' '}
        {lamp ? `Lamps like ${lamp.name}` : 'Choose a lamp first'}; throw, spacing, height and aim are searched within
        the space drawn for lamps
        {targetLx > 0
          ? `, mean at least ${formatIlluminance(targetLx, units.illuminance)}`
          : `. No level to hold: of places that are even enough the brightest, and a stop under the camera’s ${formatIlluminance(cameraLx, units.illuminance)} counts as a stop uneven`}
        .
      </p>
      <JobState job={job} scene={scene} what="Trying places" />
      {job.answer?.result.reason && <p>No places: {job.answer.result.reason}.</p>}
      {best && (
        <div data-old={job.answer?.document === scene ? 'no' : 'yes'} data-testid="even-best">
          <p>
            <b>{rangeWords(range, null)}</b>,{' '}
            {range !== null && range <= use.rangeStops ? 'even enough' : 'not even enough'} for {use.name.toLowerCase()}
            : {best.layout.lamps} lamps in {best.layout.rows === 1 ? 'one row' : 'two rows'}, throw{' '}
            {formatLength(best.layout.throwM, units.length)}, {formatLength(best.layout.spacingM, units.length)} between
            the outer ones, aimed {aimWords(best.layout.across)}; mean{' '}
            {formatIlluminance(best.evenness.meanLx, units.illuminance)} {lamp ? bandOf([lamp]) : ''}.{' '}
            {job.answer!.result.tried} places were simulated.
            {inKit !== undefined && inKit < best.layout.lamps ? ` The kit has ${inKit} of them.` : ''}
          </p>
          {map && <EvennessMap map={map} meanLx={best.evenness.meanLx} scene={scene} />}
          <ChoiceTable choice={best} chosen={chosen} />
          <Button className="button" onPress={tryIt}>
            Put it in a new setup
          </Button>
        </div>
      )}
    </CoverPart>
  );
}

import { useMemo, useState } from 'react';
import { formatIlluminance, formatStops } from '../../scene/units/format';
import { differenceStops, type ComparedSetup, type GearCount } from '../../sim/coverage/compareSetups';
import type { CompareTask } from '../../sim/coverage/coverageTasks';
import { VERDICT_WORDS } from '../words/figures';
import { fixed, levelBandOf, listed, unitsOf } from '../words/format';
import { PickField } from '../fields/PickField';
import { StopsMap, StopsWedge } from './EvenMap';
import { stopsOffMean } from './stopsContours';
import { CoverPart, JobState, rangeWords, type Chosen } from './parts';
import { useJob, useWhenRested } from './useJob';

const MOST_SETUPS = 4;
const MAP_STOPS = 2;
const gearWords = (gear: readonly GearCount[]): string =>
  gear.length === 0 ? 'none' : gear.map(({ name, count }) => `${count} x ${name}`).join(', ');

function Differences({ setups, chosen }: { readonly setups: readonly ComparedSetup[]; readonly chosen: Chosen }) {
  const units = unitsOf(chosen.scene);
  const nameOf = (id: string): string =>
    chosen.scene.surfaces[id]?.name ??
    setups.flatMap(
      ({ setupId }) => chosen.scene.setups.find((each) => each.id === setupId)?.sources[id]?.name ?? [],
    )[0] ??
    id;
  const level = (lx: number): string => formatIlluminance(lx, units.illuminance);
  const rows: readonly (readonly [string, (setup: ComparedSetup) => string])[] = [
    ['Lamps', (setup) => gearWords(setup.lamps)],
    ['Grip', (setup) => gearWords(setup.grip)],
    ['Power at full', (setup) => `${setup.mainsW} W${setup.unknownPower > 0 ? `, ${setup.unknownPower} unknown` : ''}`],
    ['Mean level', (setup) => level(setup.solved.evenness.meanLx)],
    ['Range', ({ solved: { evenness } }) => rangeWords(evenness.rangeStops, evenness.reason)],
    [
      'Min/mean',
      ({ solved: { evenness } }) => (evenness.minOverMean === null ? 'none' : fixed(evenness.minOverMean, 2)),
    ],
    ['Unlit', ({ solved: { evenness } }) => `${Math.round(evenness.unlitShare * 100)} %`],
    [
      'Hot end',
      ({ tells: { hotEnd } }) =>
        hotEnd ? `${hotEnd.where}, ${formatStops(hotEnd.overMeanStops)} over the mean` : 'none',
    ],
    [
      'Double shadows',
      ({ tells }) =>
        tells.shadows.length === 0 ? 'none' : listed(tells.shadows.map(({ sourceId }) => nameOf(sourceId))),
    ],
    [
      'Spill',
      ({ tells }) =>
        tells.spill.length === 0
          ? 'none'
          : tells.spill.map(({ surfaceId, offStops }) => `${nameOf(surfaceId)} ${formatStops(offStops)}`).join(', '),
    ],
    ['Reads as sun?', ({ verdict }) => (verdict === null ? 'nothing plays the sun' : VERDICT_WORDS[verdict])],
  ];
  return (
    <div className="table-scroll" tabIndex={0} role="region" aria-label="What differs between the setups">
      <table className="table words">
        <thead>
          <tr>
            <th scope="col">Setup</th>
            {setups.map(({ setupId, name }) => (
              <th scope="col" key={setupId}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, words]) => (
            <tr key={name} data-differs={new Set(setups.map(words)).size > 1 ? 'yes' : 'no'}>
              <th scope="row">{name}</th>
              {setups.map((setup) => (
                <td key={setup.setupId}>{words(setup)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Two to four setups on one scale, one against another, and a table of what differs. */
export function SetupsPart({ chosen }: { readonly chosen: Chosen }) {
  const { scene, surfaceId } = chosen;
  const ids = useMemo(() => scene.setups.map(({ id }) => id), [scene]);
  const [picked, setPicked] = useState<readonly string[]>(() => ids.slice(0, MOST_SETUPS));
  const [against, setAgainst] = useState<readonly [string, string] | null>(null);
  const setupIds = picked.filter((id) => ids.includes(id));
  const job = useJob<CompareTask>('compare');
  useWhenRested([scene, surfaceId, setupIds.join(' ')], () =>
    job.start({ kind: 'compare', document: scene, setupIds, surfaceId }),
  );
  const setups = job.answer?.result ?? [];
  const isOld = job.answer !== null && job.answer.document !== scene;
  const reference = setups.reduce((sum, { solved }) => sum + Math.log(Math.max(1e-9, solved.evenness.meanLx)), 0);
  const meanLx = setups.length > 0 ? Math.exp(reference / setups.length) : 1;
  const choices = setups.map(({ setupId, name }) => ({ value: setupId, name }));
  const [aId, bId] = against ?? [setups[0]?.setupId ?? '', setups[1]?.setupId ?? ''];
  const [a, b] = [aId, bId].map((id) => setups.find(({ setupId }) => setupId === id));
  return (
    <CoverPart id="setups" title="Setups side by side">
      {ids.length < 2 && (
        <p>This scene has one setup. Copy it, change the copy, and the two stand here side by side.</p>
      )}
      <fieldset className="picks">
        <legend>Show (two to four)</legend>
        {scene.setups.map(({ id, name }) => (
          <label key={id}>
            <input
              type="checkbox"
              checked={setupIds.includes(id)}
              disabled={!setupIds.includes(id) && setupIds.length >= MOST_SETUPS}
              onChange={({ target }) =>
                setPicked(target.checked ? [...setupIds, id] : setupIds.filter((each) => each !== id))
              }
            />
            {name}
          </label>
        ))}
      </fieldset>
      <JobState job={job} scene={scene} what="Solving the setups" />
      <div className="maps" data-old={isOld ? 'yes' : 'no'}>
        {setups.map((setup) => (
          <figure key={setup.setupId}>
            <figcaption>
              {setup.name}: {formatIlluminance(setup.solved.evenness.meanLx, unitsOf(scene).illuminance)}{' '}
              {levelBandOf(scene, setup.setupId)},{' '}
              {rangeWords(setup.solved.evenness.rangeStops, setup.solved.evenness.reason)}
            </figcaption>
            <StopsMap
              grid={setup.solved.grid}
              stops={stopsOffMean(setup.solved.grid, meanLx)}
              mostStops={MAP_STOPS}
              label={`Map of ${setup.name}, stops off the common mean`}
            />
          </figure>
        ))}
      </div>
      {setups.length > 0 && (
        <>
          <p className="hint">
            One scale: stops off {formatIlluminance(meanLx, unitsOf(scene).illuminance)}, the common mean; contours a
            third of a stop apart.
          </p>
          <StopsWedge mostStops={MAP_STOPS} ends={['darker', 'brighter']} />
        </>
      )}
      {a && b && a !== b && (
        <figure className="difference" data-old={isOld ? 'yes' : 'no'}>
          <div className="fields">
            <PickField label="Difference: this" value={aId} choices={choices} onPick={(id) => setAgainst([id, bId])} />
            <PickField label="over this" value={bId} choices={choices} onPick={(id) => setAgainst([aId, id])} />
          </div>
          <StopsMap
            grid={a.solved.grid}
            stops={differenceStops(a.solved, b.solved)}
            mostStops={MAP_STOPS}
            label={`Difference map, ${a.name} over ${b.name}, stops`}
          />
          <StopsWedge mostStops={MAP_STOPS} ends={[b.name, a.name]} />
        </figure>
      )}
      {setups.length > 0 && <Differences setups={setups} chosen={chosen} />}
    </CoverPart>
  );
}

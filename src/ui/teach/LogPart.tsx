import { Button } from 'react-aria-components';
import { useStore } from 'zustand';
import { entryFromReadings } from '../../scene/kit/own';
import { isLamp } from '../../scene/schema';
import { FIT_METHOD } from '../../sim/photometry/fitReadings';
import { fitLog, LEAST_TO_NAME, type LoggedFit } from '../../sim/photometry/readingOutliers';
import { axisReader } from '../../sim/teach/bench';
import { MARKS_M } from '../../sim/teach/exercises/fNumbers';
import type { LessonChart } from '../../sim/teach/lesson';
import { decimal, sayOf, type Say } from '../../sim/teach/say';
import { useApp, useDocument, useSession } from '../app';
import { ANGLE, fineLengthKind, illuminanceKind, lengthKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';
import { WordsField } from '../fields/WordsField';
import { keepInKit } from '../kitCommands';
import { Glyph } from '../parts/Glyphs';
import { notify } from '../stores/session';
import { signedFixed, unitsOf, type Units } from '../words/format';
import { LIMIT_WORDS, NO_FIT_WORDS } from '../words/readings';
import { LessonChartView } from './LessonChartView';
import { blankLog, createReadingLog, fullRows, MOST_ROWS, withBlankRow, type FullRow, type LogRow } from './readingLog';
import { shelfOf } from './shelf';
import { together } from './together';

const LOG = createReadingLog(shelfOf());
const CURVE_POINTS = 32;
const LEAST_FOR_A_CHART = 2;

function chartOf(rows: readonly FullRow[], { outliers, kept }: LoggedFit): LessonChart {
  const dots = (isOutlier: boolean) =>
    rows
      .filter((_, i) => outliers.includes(i) === isOutlier)
      .map(({ distanceM, illuminanceLx }) => [distanceM, illuminanceLx] as const)
      .toSorted(([a], [b]) => a - b);
  const at = rows.map(({ distanceM }) => distanceM);
  const [least, most] = [0.9 * Math.min(...at), 1.1 * Math.max(...at)];
  const law = !kept.ok
    ? []
    : Array.from({ length: CURVE_POINTS }, (_, i) => {
        const distanceM = least * (most / least) ** (i / (CURVE_POINTS - 1));
        return [distanceM, kept.candela.value / (distanceM + kept.originM.value) ** 2] as const;
      });
  return {
    along: 'length',
    alongWords: 'Distance from the lens',
    series: [
      ...(kept.ok ? [{ id: 'curve', name: 'the law, fitted', kind: 'law' as const, points: law }] : []),
      { id: 'dots', name: 'your readings', kind: 'dots' as const, points: dots(false) },
      ...(outliers.length > 0
        ? [{ id: 'outliers', name: 'off the law', kind: 'dots' as const, points: dots(true) }]
        : []),
    ],
  };
}

interface FitProps {
  readonly rows: readonly FullRow[];
  readonly logged: LoggedFit;
  readonly say: Say;
}
/** What the readings say of the lamp, with and without those that are named. */
function FitWords({ rows, logged, say }: FitProps) {
  const { all, outliers, kept, offStops } = logged;
  if (!kept.ok) return <p>{NO_FIT_WORDS[kept.reason]}</p>;
  const { candela, originM, limit, scatter, isScatterAssumed } = kept;
  const whole = (value: number): string => decimal(value, 0);
  return (
    <div className="fit-words" role="status" aria-label="Fit of the log" data-testid="log-fit">
      <p className="fit-figure">
        <b>{whole(candela.value)} cd</b> ± {whole(candela.standardError)}
      </p>
      {limit === null && (
        <p className="fit-figure">
          <b>{decimal(originM.value, 4)} m</b> ± {decimal(originM.standardError, 4)}, origin behind the lens
        </p>
      )}
      {limit !== null && <p>{LIMIT_WORDS[limit]}</p>}
      {outliers.map((i) => (
        <p key={i} className="named">
          <Glyph name="caution" size={20} />
          <span>
            The reading at {together(say.length(rows[i]!.distanceM))} is {signedFixed(offStops[i] ?? 0, 2)} stops off
            the others. Read it again; it is left out here.
            {all.ok &&
              ` With it, the fit would say ${whole(all.candela.value)} cd and ${decimal(all.originM.value, 2)} m, and this reading ${signedFixed(all.residualStops[i] ?? 0, 2)}.`}
          </span>
        </p>
      ))}
      <p className="fit-method">
        By {FIT_METHOD}, one standard error after the ±, 95 % between {whole(candela.low)} and {whole(candela.high)} cd.{' '}
        {isScatterAssumed
          ? `A reading is taken as good to ${decimal(100 * scatter, 0)} %.`
          : `Readings scatter by ${decimal(100 * scatter, 1)} % about the law.`}
        {rows.length < LEAST_TO_NAME && ` From ${LEAST_TO_NAME} readings on, one that is off is named.`}
      </p>
    </div>
  );
}

interface RowsProps {
  readonly logged: LoggedFit | null;
  readonly full: readonly FullRow[];
  readonly units: Units;
}
function LogRows({ logged, full, units }: RowsProps) {
  const rows = useStore(LOG, (state) => state.rows);
  const set = (index: number, change: Partial<LogRow>): null => {
    LOG.setState({ rows: rows.map((row, i) => (i === index ? { ...row, ...change } : row)) });
    return null;
  };
  const cell = (index: number, key: keyof LogRow, words: string) => (
    <QuantityField
      label={`${words} ${index + 1}`}
      value={rows[index]![key]}
      kind={key === 'distanceM' ? lengthKind(units) : illuminanceKind(units)}
      optional={{ word: '', onClear: () => set(index, { [key]: null }) }}
      onCommit={(value) => (value > 0 ? set(index, { [key]: value }) : 'It is above 0.')}
    />
  );
  const offOf = (index: number): string => {
    const place = full.findIndex((row) => row.index === index);
    const off = place < 0 ? null : (logged?.offStops[place] ?? null);
    return off === null ? '' : signedFixed(off, 2);
  };
  const isNamed = (index: number): boolean => logged?.outliers.some((place) => full[place]?.index === index) ?? false;
  return (
    <table className="table log-table">
      <thead>
        <tr>
          <th scope="col">Distance</th>
          <th scope="col">Reading</th>
          <th scope="col">Stops off the law</th>
          <th scope="col">
            <span className="hidden-word">Remove</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((_, index) => (
          <tr key={index} data-named={isNamed(index) ? 'yes' : 'no'}>
            <td>{cell(index, 'distanceM', 'Distance')}</td>
            <td>{cell(index, 'illuminanceLx', 'Reading')}</td>
            <td>
              {offOf(index)} {isNamed(index) && <b>off</b>}
            </td>
            <td>
              {rows.length > 1 && (
                <Button
                  className="button square"
                  aria-label={`Remove reading ${index + 1}`}
                  onPress={() => LOG.setState({ rows: rows.filter((_row, i) => i !== index) })}
                >
                  <Glyph name="close" />
                </Button>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The lamp that the readings were taken of, and the way into the kit. */
function SaveFields({ kept, units }: { readonly kept: readonly FullRow[]; readonly units: Units }) {
  const { actions, session, document } = useApp();
  const { name, beamAngleDeg, lensDiameterM } = useStore(LOG);
  const save = (): void => {
    const readings = kept.map(({ distanceM, illuminanceLx }) => ({ distanceM, illuminanceLx }));
    const entry = entryFromReadings({ name, readings, beamAngleDeg, lensDiameterM });
    const fault = actions.run(keepInKit(document.getState().history.present, entry));
    notify(
      session,
      fault === null ? { kind: 'done', lines: [`Kept in the kit: ${name}`] } : { kind: 'caution', lines: [fault] },
    );
  };
  return (
    <div className="log-save fields">
      <WordsField
        label="Name of the lamp"
        value={name}
        onCommit={(next) => LOG.setState({ name: next || 'Metered lamp' })}
      />
      <QuantityField
        label="Beam angle"
        value={beamAngleDeg}
        kind={ANGLE}
        hint="full angle at 50 % of peak"
        onCommit={(value) => {
          if (!(value > 0 && value < 180)) return 'Beam angle must be above 0° and below 180°.';
          LOG.setState({ beamAngleDeg: value });
          return null;
        }}
      />
      <QuantityField
        label="Lens diameter"
        value={lensDiameterM}
        kind={fineLengthKind(units)}
        onCommit={(value) => {
          if (!(value > 0)) return 'A length above 0 is needed.';
          LOG.setState({ lensDiameterM: value });
          return null;
        }}
      />
      <Button className="button main" isDisabled={kept.length === 0} onPress={save}>
        Keep in the kit
      </Button>
    </div>
  );
}

/** Type what the meter read, see it against the law, keep the lamp in the kit. */
export function LogPart() {
  const scene = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  const log = useStore(LOG);
  const units = unitsOf(scene);
  const full = fullRows(log);
  const logged = full.length > 0 ? fitLog(full) : null;
  const kept = full.filter((_, i) => !(logged?.outliers.includes(i) ?? false));
  const lamps = Object.entries(scene.setups.find(({ id }) => id === setupId)?.sources ?? {}).filter(([, one]) =>
    isLamp(one),
  );
  const [practice] = lamps;
  const practise = (): void => {
    if (!practice) return;
    const level = axisReader(scene, setupId, practice[0]);
    const rows = MARKS_M.slice(0, 7).map((distanceM) => ({
      distanceM,
      illuminanceLx: Number(level(distanceM).toPrecision(3)) || null,
    }));
    LOG.setState({ rows, name: `${practice[1].name}, as computed` });
  };
  return (
    <section className="bench-part" aria-labelledby="log-title">
      <h3 id="log-title">Reading log</h3>
      <p className="look">
        Meter on the lamp’s axis, flat disc, facing it, tape from the lens. Type what it reads at 1, 1.4, 2, 2.8, 4, 5.6
        and 8.
      </p>
      <div className="log">
        <div>
          <LogRows logged={logged} full={full} units={units} />
          <div className="log-buttons">
            {log.rows.length < MOST_ROWS && (
              <Button className="button" onPress={() => LOG.setState(withBlankRow(log))}>
                Add a reading
              </Button>
            )}
            {practice && (
              <Button className="button" onPress={practise}>
                Practise on {practice[1].name} of the scene
              </Button>
            )}
            <Button className="button" isDisabled={full.length === 0} onPress={() => LOG.setState(blankLog())}>
              Empty the log
            </Button>
          </div>
        </div>
        <div>
          {logged ? (
            <FitWords rows={full} logged={logged} say={sayOf(scene)} />
          ) : (
            <p>The fit comes with the first reading.</p>
          )}
          {logged && full.length >= LEAST_FOR_A_CHART && (
            <LessonChartView
              chart={chartOf(full, logged)}
              units={units}
              first="logLog"
              label="Your readings against the law fitted to them"
            />
          )}
          <SaveFields kept={kept} units={units} />
        </div>
      </div>
      <p className="lesson-caution">
        <Glyph name="caution" size={20} />
        <span>
          Eyes on the meter, not on the lamp; let hot lamps burn in before you read and cool before you touch. Follow
          local code. A licensed electrician, a qualified rigger or a competent person decides.
        </span>
      </p>
    </section>
  );
}

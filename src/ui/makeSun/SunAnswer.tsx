import { formatLength } from '../../scene/units/format';
import type { PlaceAnswer, Placement } from '../../sim/place/placeAnswer';
import type { PlaceRequest } from '../../sim/place/placeRequest';
import { useDocument } from '../app';
import { Fractions } from '../parts/Fractions';
import { Glyph, VerdictGlyph } from '../parts/Glyphs';
import { VERDICT_WORDS } from '../words/figures';
import { fixed, listed, unitsOf } from '../words/format';
import { sharedChanges } from './sunWanted';

const beside = (value: number, more: string, less: string): string =>
  Math.abs(value) < 0.5 ? 'on its line' : `${fixed(Math.abs(value), 0)}° ${value > 0 ? more : less}`;

/** Lamp, place, height, nets and level in rows, as the crew sets them up. */
function PlacementTable({ placement }: { readonly placement: Placement }) {
  const { length } = unitsOf(useDocument((state) => state.shown));
  const { lampName, distanceM, lensHeightM, turnDeg, riseDeg, nets, level, positionM, check } = placement;
  const rows: readonly (readonly [string, string])[] = [
    ['Lamp', lampName],
    ['From the window', formatLength(distanceM, length)],
    ['Lens over the ground', formatLength(lensHeightM, length)],
    ['Lens at', `${positionM.map((value) => fixed(value, 2)).join(', ')} m`],
    ['On the plan, off the sun', beside(turnDeg, 'clockwise', 'anticlockwise')],
    ['In height, off the sun', beside(check.altitudeOffDeg ?? riseDeg, 'too high', 'too low')],
    ['Nets', nets.length === 0 ? 'none' : nets.join(', ')],
    ['Dimmer', `${fixed(100 * level, 0)} %`],
    ['Fall-off', check.falloffStops === null ? '-' : `${fixed(check.falloffStops, 1)} stops`],
    ['Lines fan', check.lineFanDeg === null ? '-' : `${fixed(check.lineFanDeg, 0)}°`],
    ['Edges', check.edgeRatio === null ? '-' : `${fixed(check.edgeRatio, 1)} times the sun’s`],
  ];
  return (
    <table className="sun-table">
      <caption className="hidden-word">What to put up, and how it reads</caption>
      <tbody>
        {rows.map(([name, value]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{value}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Cannot({ sentences }: { readonly sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <div className="refusals" data-testid="cannot">
      <h3>Cannot be had</h3>
      <ul>
        {sentences.map((sentence) => (
          <li key={sentence}>
            <Fractions text={sentence} />
          </li>
        ))}
      </ul>
    </div>
  );
}

interface Props {
  readonly answer: PlaceAnswer;
  readonly request: PlaceRequest;
  /** The scene or the form has changed since: what was found may not hold. */
  readonly isOld: boolean;
}

/** What was found: verdict, what to put up, what cannot be had. */
export function SunAnswer({ answer, request, isOld }: Props) {
  const scene = useDocument((state) => state.shown);
  const { placement } = answer;
  if (placement === null) {
    return (
      <div className="sun-answer" data-testid="sun-answer">
        <p className="sun-none">
          <Glyph name="caution" size={18} /> Cannot be had
        </p>
        <p>{answer.sentence}</p>
      </div>
    );
  }
  const { check } = placement;
  const shared = sharedChanges(scene, request);
  return (
    <div className={isOld ? 'sun-answer old' : 'sun-answer'} data-testid="sun-answer">
      <div className="verdict-head">
        <VerdictGlyph verdict={check.verdict} />
        <div>
          <strong className={check.verdict}>{VERDICT_WORDS[check.verdict]}</strong>
          <span>{answer.possible ? 'at the level that is asked for' : 'but short of the level'}</span>
        </div>
      </div>
      <p>
        <Fractions text={check.sentence} />
      </p>
      <PlacementTable placement={placement} />
      <Cannot sentences={answer.cannot} />
      <p className="small">
        {answer.tried} places simulated; a finer search may find a little better.{' '}
        {shared.length > 0 && `Try it also sets ${listed(shared)} for every setup. `}
        Stands, lamps and nets high up: safety first, then light.
      </p>
      {isOld && <p className="small">The scene or the form has changed: look again.</p>}
    </div>
  );
}

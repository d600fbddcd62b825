import { Button } from 'react-aria-components';
import { maskedShape, sidesOf, type EdgeSide } from '../../../scene/blackEdges';
import type { Emitter, Lamp, SceneDocument } from '../../../scene/schema';
import { compileWeb } from '../../../sim/solve/compileWeb';
import { fineLengthKind } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';
import type { Units } from '../../words/format';

type BlackEdges = Extract<NonNullable<Lamp['accessories']>[number], { kind: 'blackEdges' }>;

const SIDE_WORDS: Readonly<Record<EdgeSide, string>> = {
  leftM: 'Left',
  rightM: 'Right',
  topM: 'Top',
  bottomM: 'Bottom',
  ringM: 'All round',
};
/** Black foil to begin with: this share of the face's smaller size at each of its sides. */
const FIRST_SHARE = 0.1;

/** The face that black can lie on: a point with a photometric file shines by the opening that the file names. */
function faceOf(lamp: Lamp, webs: SceneDocument['webs']): Emitter {
  const { distribution, emitter } = lamp;
  if (distribution.kind === 'lensed') return { shape: 'disc', diameterM: distribution.lensDiameterM };
  return distribution.kind === 'web' && emitter.shape === 'point'
    ? compileWeb(webs, distribution.webId).opening
    : emitter;
}
const widthOf = (face: Emitter): number => {
  switch (face.shape) {
    case 'rectangle':
      return Math.min(face.widthM, face.heightM);
    case 'tube':
      return face.lengthM;
    case 'point':
      return 0;
    default:
      return face.diameterM;
  }
};

/** Sides that the lamp's face can be masked at; none for points and globes. */
export const maskableSides = (lamp: Lamp, webs: SceneDocument['webs']): readonly EdgeSide[] =>
  maskedShape(lamp) === 'lens' ? sidesOf('lens') : sidesOf(faceOf(lamp, webs).shape);

/** Black edges as they are put on; null for a lamp without a face. */
export function firstBlackEdges(lamp: Lamp, webs: SceneDocument['webs']): BlackEdges | null {
  const sides = maskableSides(lamp, webs);
  if (sides.length === 0) return null;
  const wideM = Number((FIRST_SHARE * widthOf(faceOf(lamp, webs))).toPrecision(2));
  return { kind: 'blackEdges', ...Object.fromEntries(sides.map((side) => [side, wideM])) };
}

/** Black foil or tape over the rim of the lit face, by side. */
export function BlackEdgeFields({
  edges,
  sides,
  units,
  onChange,
}: {
  readonly edges: BlackEdges;
  readonly sides: readonly EdgeSide[];
  readonly units: Units;
  readonly onChange: (next: BlackEdges | null) => string | null;
}) {
  const isTube = sides.includes('leftM') && !sides.includes('topM');
  return (
    <div className="wide fields in-slot" role="group" aria-label="Black edges">
      <strong className="wide">Black edges</strong>
      {sides.map((side, index) => (
        <QuantityField
          key={side}
          label={isTube ? `${SIDE_WORDS[side]} end` : SIDE_WORDS[side]}
          value={edges[side] ?? 0}
          kind={fineLengthKind(units)}
          {...(index === 0 && {
            hint: side === 'ringM' ? 'in from the rim' : 'black from the rim in, seen from behind',
          })}
          onCommit={(blackM) => onChange({ ...edges, [side]: blackM })}
        />
      ))}
      {sides.length === 0 && <p className="wide quiet">This lamp has no flat face for them to lie on.</p>}
      <div className="buttons">
        <Button className="button" onPress={() => onChange(null)} aria-label="Take off: black edges">
          Take off
        </Button>
      </div>
    </div>
  );
}

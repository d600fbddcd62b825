import { useState } from 'react';
import { Button } from 'react-aria-components';
import { formatLength } from '../../scene/units/format';
import { useApp, useDocument, useSession } from '../app';
import { lengthKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';
import { stretchOf } from '../tools/draw/drawing';
import type { Units } from '../words/format';
import { pickPicture, pictureInHand, scaleByPoints } from './bringIn';

function hintFor(count: number, hasPicture: boolean): string {
  if (!hasPicture) return 'Choose a picture of a plan in the list, or bring one in.';
  if (count === 0) return 'Press two points on the picture whose true distance you know. A long one scales it best.';
  return count === 1 ? 'Press the second point.' : 'Type their true distance.';
}

/** Scale of a picture from two pressed points and the distance between them. */
export function ScaleFields({ units }: { readonly units: Units }) {
  const app = useApp();
  const corners = useSession((state) => state.drawing.corners);
  useSession((state) => state.selection); // which picture is in hand
  const hasPictures = useDocument((state) => Object.keys(state.history.present.pictures ?? {}).length > 0);
  const [trueM, setTrueM] = useState<number | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [from, to] = corners;
  const nowM = from && to ? stretchOf(from, to).lengthM : null;
  const doIt = (): void => setFault(scaleByPoints(app, trueM ?? nowM ?? 0));
  return (
    <>
      <p className="quiet" role="status">
        {hintFor(corners.length, hasPictures && pictureInHand(app) !== null)}
        {nowM !== null && ` At the present scale ${formatLength(nowM, units.length)}.`}
      </p>
      {nowM !== null && (
        <>
          <QuantityField
            label="True distance"
            value={trueM ?? nowM}
            kind={lengthKind(units)}
            onCommit={(metres) => {
              if (metres <= 0) return 'A length above 0 is needed.';
              setTrueM(metres);
              return null;
            }}
          />
          <Button className="button main" onPress={doIt}>
            Set scale
          </Button>
        </>
      )}
      {fault !== null && (
        <p className="hint bad" role="alert">
          {fault}
        </p>
      )}
      <Button className="button wide" onPress={() => pickPicture(app)}>
        Bring in a picture
      </Button>
    </>
  );
}

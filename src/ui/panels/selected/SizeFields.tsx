import { lengthKind } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';
import type { Units } from '../../words/format';

interface Rectangle {
  readonly widthM: number;
  readonly heightM: number;
}

/** Width and height of a rectangle; `of` says whose height it is, since a thing has a height above the floor too. */
export function SizeFields<Shape extends Rectangle>({
  shape,
  of,
  units,
  onChange,
}: {
  readonly shape: Shape;
  readonly of: string;
  readonly units: Units;
  readonly onChange: (shape: Shape) => string | null;
}) {
  const length = lengthKind(units);
  return (
    <>
      <QuantityField
        label="Width"
        value={shape.widthM}
        kind={length}
        onCommit={(widthM) => onChange({ ...shape, widthM })}
      />
      <QuantityField
        label={`Height of ${of}`}
        value={shape.heightM}
        kind={length}
        onCommit={(heightM) => onChange({ ...shape, heightM })}
      />
    </>
  );
}

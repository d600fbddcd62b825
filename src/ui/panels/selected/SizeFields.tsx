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
  hasWidth = true,
}: {
  readonly shape: Shape;
  readonly of: string;
  readonly units: Units;
  readonly onChange: (shape: Shape) => string | null;
  /** False where the width is told by another figure. */
  readonly hasWidth?: boolean;
}) {
  const length = lengthKind(units);
  return (
    <>
      {hasWidth && (
        <QuantityField
          label="Width"
          value={shape.widthM}
          kind={length}
          onCommit={(widthM) => onChange({ ...shape, widthM })}
        />
      )}
      <QuantityField
        label={`Height of ${of}`}
        value={shape.heightM}
        kind={length}
        onCommit={(heightM) => onChange({ ...shape, heightM })}
      />
    </>
  );
}

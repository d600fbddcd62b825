import { stopsFromTransmittance, transmittanceFromStops } from '../../../sim/photometry/filters';
import { numberKind, PERCENT } from '../../fields/kinds';
import { QuantityField } from '../../fields/QuantityField';

interface GelFigures {
  readonly transmittance: number;
  readonly miredShift?: number | undefined;
  readonly greenShift?: number | undefined;
}
const STOPS = numberKind('stops', 2, 0.1);
const MIRED = numberKind('mired', 0, 1);
const DUV = numberKind('', 3);

/** What a gel takes (as a share or in stops, one figure typed either way) and what it does to the colour. */
export function GelFields<Gel extends GelFigures>({
  gel,
  onChange,
}: {
  readonly gel: Gel;
  readonly onChange: (next: Gel) => string | null;
}) {
  const { transmittance, miredShift = 0, greenShift = 0 } = gel;
  return (
    <>
      <QuantityField
        label="Passes"
        value={transmittance}
        kind={PERCENT}
        hint="as the eye sees it"
        onCommit={(share) => onChange({ ...gel, transmittance: share })}
      />
      {transmittance > 0 && (
        <QuantityField
          label="Takes"
          value={Math.max(0, stopsFromTransmittance(transmittance))}
          kind={STOPS}
          onCommit={(stops) => onChange({ ...gel, transmittance: transmittanceFromStops(stops) })}
        />
      )}
      <QuantityField
        label="Mired shift"
        value={miredShift}
        kind={MIRED}
        hint="positive warms; shifts of a stack add"
        onCommit={(shift) => onChange({ ...gel, miredShift: shift })}
      />
      <QuantityField
        label="Green shift"
        value={greenShift}
        kind={DUV}
        hint="Duv; plus is green, minus magenta"
        onCommit={(shift) => onChange({ ...gel, greenShift: shift })}
      />
    </>
  );
}

import type { Quantity } from '../../render/contract';
import { Fractions } from '../parts/Fractions';
import type { LevelTableData } from '../words/levels';

const QUANTITY_WORDS: Readonly<Record<Quantity, string>> = {
  illuminance: 'Levels',
  stopsOff: 'Stops off the camera’s setting',
  lampOverSun: 'Lamp over sun, stops',
};

/** The numbers behind a heat map. */
export function LevelTable({
  id,
  surfaceName,
  quantity,
  table,
  band,
}: {
  readonly id: string;
  readonly surfaceName: string;
  readonly quantity: Quantity;
  readonly table: LevelTableData;
  /** How well the levels are known, in words. */
  readonly band: string;
}) {
  return (
    <div className="levels" id={id} tabIndex={0} role="region" aria-label={`Table for ${surfaceName}`}>
      <table className="table">
        <caption>
          {QUANTITY_WORDS[quantity]}, {band}, {surfaceName}; across from the left edge, up from the foot
        </caption>
        <thead>
          <tr>
            <th scope="col">Up</th>
            {table.columnHeads.map((head) => (
              <th scope="col" key={head}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row) => (
            <tr key={row.head}>
              <th scope="row">{row.head}</th>
              {row.cells.map((cell, index) => (
                <td key={table.columnHeads[index] ?? index}>
                  <Fractions text={cell} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

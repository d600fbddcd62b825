import { memo, useMemo } from 'react';
import { cartesianPlot, polarPlot, webTable, type PlotInks } from '../../../files/picture/webPlots';
import type { PlaneFigures, PlaneSide, Spread, WebFigures } from '../../../sim/photometry/web/figures';
import type { WebGrid } from '../../../sim/photometry/web/grid';
import { fixed, formatNumber } from '../../words/format';

const SIDE_WORDS: Readonly<Record<PlaneSide, string>> = { across: 'across', upright: 'upright' };
const PLOT_WIDTH = 300;
const INKS: PlotInks = { grid: 'var(--line)', label: 'var(--ink-2)', across: 'var(--lamp)', upright: 'var(--accent)' };

const fullAngle = (spread: Spread | null): string =>
  spread === null ? 'none' : `${fixed(spread.toDeg - spread.fromDeg, 1)}°`;

/** One angle where both planes agree, else both by name. */
function anglesText(planes: readonly PlaneFigures[], of: (plane: PlaneFigures) => Spread | null): string {
  const texts = planes.map((plane) => fullAngle(of(plane)));
  if (texts.every((text) => text === texts[0])) return texts[0] ?? 'none';
  return planes.map(({ side }, i) => `${texts[i]} ${SIDE_WORDS[side]}`).join(', ');
}

/** Flux, peak, beam and field angle, in words. */
export function figureRows({ fluxLm, peakCd, peakOffDeg, planes }: WebFigures): [string, string][] {
  return [
    ['Flux', `${formatNumber(fluxLm)} lm`],
    [
      'Peak',
      `${formatNumber(peakCd)} cd, ${peakOffDeg < 0.05 ? 'on the axis' : `${fixed(peakOffDeg, 1)}° off the axis`}`,
    ],
    ['Beam, full angle at 50 %', anglesText(planes, (plane) => plane.beam)],
    ['Field, full angle at 10 %', anglesText(planes, (plane) => plane.field)],
  ];
}

export function FigureList({ rows }: { readonly rows: readonly (readonly [string, string])[] }) {
  return (
    <dl className="web-figures">
      {rows.map(([term, value]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

export const CandelaTable = memo(function CandelaTable({ grid }: { readonly grid: WebGrid }) {
  const { sides, rows } = webTable(grid);
  return (
    <details className="web-table">
      <summary>Candela by angle</summary>
      <div tabIndex={0} role="region" aria-label="Candela by angle from the axis">
        <table className="table">
          <thead>
            <tr>
              <th scope="col">From the axis</th>
              {sides.map((side) => (
                <th scope="col" key={side}>
                  {sides.length === 1 ? 'All round' : side === 'across' ? 'Across, right +' : 'Upright, up +'}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ angleDeg, candela }) => (
              <tr key={angleDeg}>
                <th scope="row">{fixed(angleDeg, angleDeg % 1 === 0 ? 0 : 1)}°</th>
                {candela.map((value, i) => (
                  <td key={sides[i]}>{formatNumber(value)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
});

export const Plots = memo(function Plots({ grid }: { readonly grid: WebGrid }) {
  const svgs = useMemo(() => [polarPlot, cartesianPlot].map((plot) => plot(grid, INKS, PLOT_WIDTH).svg), [grid]);
  const isOval = webTable(grid).sides.length > 1;
  return (
    <figure className="web-plots">
      {/* Our own drawing, made of numbers and fixed words: nothing in it comes from a file as text. */}
      {svgs.map((svg) => (
        <div key={svg.slice(0, 200)} dangerouslySetInnerHTML={{ __html: svg }} />
      ))}
      <figcaption>
        Candela; the axis points down in the round one.{' '}
        {isOval && (
          <>
            <span className="web-across">Solid</span>: across, the lamp’s right on the right.{' '}
            <span className="web-upright">Dashed</span>: upright, its top on the right.
          </>
        )}
      </figcaption>
    </figure>
  );
});

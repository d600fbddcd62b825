import { useId, useMemo } from 'react';
import { Button } from 'react-aria-components';
import { cartesianPlot, polarPlot, webTable, type PlotInks } from '../../../files/picture/webPlots';
import type { Lamp, SceneDocument } from '../../../scene/schema';
import { keywordText, type PhotometricFile } from '../../../scene/webs/photometricFile';
import { readStored } from '../../../scene/webs/readPhotometricText';
import {
  webFigures,
  type PlaneFigures,
  type PlaneSide,
  type Spread,
  type WebFigures,
} from '../../../sim/photometry/web/figures';
import { gridOf, type WebGrid } from '../../../sim/photometry/web/grid';
import { fixed, formatNumber } from '../../words/format';

const SIDE_WORDS: Readonly<Record<PlaneSide, string>> = { across: 'across', upright: 'upright' };
const PLOT_WIDTH = 300;
const INKS: PlotInks = { grid: 'var(--line)', label: 'var(--ink-2)', across: 'var(--lamp)', upright: 'var(--accent)' };

interface Web {
  readonly name: string;
  readonly file: PhotometricFile;
  readonly grid: WebGrid;
  readonly figures: WebFigures;
}

function useWeb(lamp: Lamp, webs: SceneDocument['webs']): Web | null {
  const stored = lamp.distribution.kind === 'web' ? webs?.[lamp.distribution.webId] : undefined;
  return useMemo(() => {
    const read = stored && readStored(stored);
    if (!read?.ok) return null;
    const grid = gridOf(read.file);
    return { name: stored!.fileName ?? stored!.name, file: read.file, grid, figures: webFigures(grid) };
  }, [stored]);
}

const fullAngle = (spread: Spread | null): string =>
  spread === null ? 'none' : `${fixed(spread.toDeg - spread.fromDeg, 1)}°`;

/** One angle where both planes agree, else both by name. */
function anglesText(planes: readonly PlaneFigures[], of: (plane: PlaneFigures) => Spread | null): string {
  const texts = planes.map((plane) => fullAngle(of(plane)));
  if (texts.every((text) => text === texts[0])) return texts[0] ?? 'none';
  return planes.map(({ side }, i) => `${texts[i]} ${SIDE_WORDS[side]}`).join(', ');
}

function FigureList({ web }: { readonly web: Web }) {
  const { file, figures, name } = web;
  const { fluxLm, peakCd, peakOffDeg, planes } = figures;
  const format = file.edition === null ? 'EULUMDAT' : `LM-63 of ${file.edition}`;
  const rows: [string, string][] = [
    ['File', name],
    ['Format', `${format}, type ${file.system}`],
    ['Lamp', keywordText(file, 'LUMINAIRE', 'LUMCAT') ?? 'not named'],
    ['Flux', `${formatNumber(fluxLm)} lm`],
    [
      'Peak',
      `${formatNumber(peakCd)} cd, ${peakOffDeg < 0.05 ? 'on the axis' : `${fixed(peakOffDeg, 1)}° off the axis`}`,
    ],
    ['Beam, full angle at 50 %', anglesText(planes, (plane) => plane.beam)],
    ['Field, full angle at 10 %', anglesText(planes, (plane) => plane.field)],
  ];
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

function CandelaTable({ grid }: { readonly grid: WebGrid }) {
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
}

function Plots({ web }: { readonly web: Web }) {
  const svgs = useMemo(() => [polarPlot, cartesianPlot].map((plot) => plot(web.grid, INKS, PLOT_WIDTH).svg), [web]);
  const isOval = webTable(web.grid).sides.length > 1;
  return (
    <figure className="web-plots">
      {/* Our own drawing, made of numbers and fixed words: nothing in it comes from the file as text. */}
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
}

/** What the lamp's photometric file says, drawn and in figures; and the way to give the lamp one. */
export function WebFields({
  lamp,
  webs,
  onFile,
}: {
  readonly lamp: Lamp;
  readonly webs: SceneDocument['webs'];
  readonly onFile: () => void;
}) {
  const web = useWeb(lamp, webs);
  const titleId = useId();
  return (
    <section className="web" aria-labelledby={web ? titleId : undefined}>
      {web && (
        <>
          <h4 id={titleId}>Photometric file</h4>
          <FigureList web={web} />
          <Plots web={web} />
          <CandelaTable grid={web.grid} />
        </>
      )}
      <Button className="button" onPress={onFile}>
        {web ? 'Open another photometric file' : 'Open a photometric file'}
      </Button>
    </section>
  );
}

import { useState } from 'react';
import { ToggleButton, ToggleButtonGroup } from 'react-aria-components';
import type { LessonChart } from '../../sim/teach/lesson';
import { pathOf } from '../coverage/chartModel';
import type { Units } from '../words/format';
import { chartPicture, VIEW_NAMES, viewsOf, type ChartPicture, type Trace, type View } from './lessonChart';

const WIDTH = 640;
const HEIGHT = 360;

/** Readings are dots, what a fit names an outlier is a cross; curves are told apart by ink and dash. */
function TraceShape({ trace, order }: { readonly trace: Trace; readonly order: number }) {
  if (trace.kind !== 'dots') {
    return <path className={`trace ${trace.kind} n${order}`} d={trace.pieces.map(pathOf).join('')} />;
  }
  return trace.pieces
    .flat()
    .map(([x, y], i) =>
      trace.id === 'outliers' ? (
        <path
          key={i}
          className="outlier"
          d={`M${x - 7} ${y - 7}L${x + 7} ${y + 7}M${x + 7} ${y - 7}L${x - 7} ${y + 7}`}
        />
      ) : (
        <circle key={i} className="dot" cx={x} cy={y} r={5} />
      ),
    );
}

/** Order of each line among its own kind: the first law is dashed otherwise than the second. */
const ordersOf = (traces: readonly Trace[]): number[] =>
  traces.map(({ kind }, i) => traces.slice(0, i).filter((other) => other.kind === kind).length);

function Legend({ picture }: { readonly picture: ChartPicture }) {
  const orders = ordersOf(picture.traces);
  return (
    <ul className="chart-legend">
      {picture.traces.map((trace, i) => (
        <li key={trace.id}>
          <svg viewBox="0 0 36 16" width="36" height="16" aria-hidden="true">
            <TraceShape
              trace={{
                ...trace,
                pieces: [
                  trace.kind === 'dots'
                    ? [[18, 8]]
                    : [
                        [0, 8],
                        [36, 8],
                      ],
                ],
              }}
              order={orders[i]!}
            />
          </svg>
          {trace.name}
        </li>
      ))}
    </ul>
  );
}

export function Plot({
  picture,
  label,
  markAt,
}: {
  readonly picture: ChartPicture;
  readonly label: string;
  readonly markAt?: number;
}) {
  const { width, height, plot, across, up } = picture;
  const orders = ordersOf(picture.traces);
  const markX = markAt === undefined ? null : picture.xOf(markAt);
  return (
    <svg className="lesson-plot" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
      {up.map(({ at, words }) => (
        <g key={words}>
          <path className="grid-line" d={`M${plot.left} ${at}H${plot.right}`} />
          <text x={plot.left - 8} y={at + 5} textAnchor="end">
            {words}
          </text>
        </g>
      ))}
      {across.map(({ at, words }) => (
        <g key={words}>
          <path className="grid-line" d={`M${at} ${plot.top}V${plot.bottom}`} />
          <text x={at} y={plot.bottom + 18} textAnchor="middle">
            {words}
          </text>
        </g>
      ))}
      <path className="axis-line" d={`M${plot.left} ${plot.top}V${plot.bottom}H${plot.right}`} />
      <text className="axis-words" x={4} y={plot.top - 16}>
        {picture.upWords}
      </text>
      <text className="axis-words" x={plot.right} y={height - 6} textAnchor="end">
        {picture.acrossWords}
      </text>
      {markX !== null && <path className="mark-line" d={`M${markX} ${plot.top}V${plot.bottom}`} />}
      {picture.traces.map((trace, i) => (
        <TraceShape key={trace.id} trace={trace} order={orders[i]!} />
      ))}
    </svg>
  );
}

interface Props {
  readonly chart: LessonChart;
  readonly units: Units;
  readonly label: string;
  readonly first?: View;
  /** Where along the axis a meter stands that is walked. */
  readonly markAt?: number;
}
/** One set of readings three ways: as they are, on log-log axes, in stops. */
export function LessonChartView({ chart, units, label, first = 'linear', markAt }: Props) {
  const views = viewsOf(chart);
  const [chosen, setChosen] = useState<View>(first);
  const view = views.includes(chosen) ? chosen : views[0]!;
  const picture = chartPicture(chart, view, units, WIDTH, HEIGHT);
  return (
    <figure className="lesson-chart">
      <div className="chart-head">
        <Legend picture={picture} />
        {views.length > 1 && (
          <ToggleButtonGroup
            className="segments"
            aria-label="Axes of the chart"
            selectionMode="single"
            disallowEmptySelection
            selectedKeys={[view]}
            onSelectionChange={(keys) => {
              const [key] = keys;
              if (key !== undefined) setChosen(key as View);
            }}
          >
            {views.map((id) => (
              <ToggleButton key={id} id={id}>
                {VIEW_NAMES[id]}
              </ToggleButton>
            ))}
          </ToggleButtonGroup>
        )}
      </div>
      <Plot picture={picture} label={`${label}. ${VIEW_NAMES[view]}.`} {...(markAt !== undefined && { markAt })} />
    </figure>
  );
}

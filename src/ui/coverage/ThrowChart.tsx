import { useState, type KeyboardEvent, type PointerEvent } from 'react';
import type { ThrowResult, ThrowRow } from '../../sim/coverage/coverageTasks';
import { pathOf, type ChartModel, type ChartShape } from './chartModel';

export function Shape({ shape }: { readonly shape: ChartShape }) {
  const className = `ink-${shape.ink}`;
  switch (shape.kind) {
    case 'path':
      return <path className={className} d={pathOf(shape.points)} strokeDasharray={shape.dash} />;
    case 'dot':
      return <circle className={className} cx={shape.at[0]} cy={shape.at[1]} r={4} />;
    case 'text':
      return (
        <text className={className} x={shape.at[0]} y={shape.at[1]} textAnchor={shape.anchor}>
          {shape.words}
        </text>
      );
  }
}

interface Props {
  readonly model: ChartModel;
  readonly result: ThrowResult;
  readonly isOld: boolean;
  /** One line about a row: distance, level, range. */
  readonly say: (row: ThrowRow) => string;
  readonly onGo: (distanceM: number) => void;
}

/** Level and range against distance: the pointer or the arrow keys read a row, a click or Enter takes the lamp there. */
export function ThrowChart({ model, result, isOld, say, onGo }: Props) {
  const { rows, present } = result;
  const nearest = (distanceM: number): number =>
    rows.reduce(
      (best, row, i) => (Math.abs(row.distanceM - distanceM) < Math.abs(rows[best]!.distanceM - distanceM) ? i : best),
      0,
    );
  const [read, setRead] = useState<number | null>(null);
  const index = read ?? nearest(present.distanceM);
  const row = rows[Math.min(index, rows.length - 1)];
  if (!row) return null;
  const rowUnder = (event: PointerEvent<SVGSVGElement>): number => {
    const box = event.currentTarget.getBoundingClientRect();
    return nearest(model.distanceAt(((event.clientX - box.left) * model.width) / box.width));
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 5, PageDown: -5 }[event.key];
    if (step !== undefined) setRead(Math.min(rows.length - 1, Math.max(0, index + step)));
    else if (event.key === 'Home') setRead(0);
    else if (event.key === 'End') setRead(rows.length - 1);
    else if (event.key === 'Enter') onGo(row.distanceM);
    else return;
    event.preventDefault();
  };
  const x = model.xOf(row.distanceM);
  return (
    <figure className="throw-chart" data-old={isOld ? 'yes' : 'no'}>
      <svg
        viewBox={`0 0 ${model.width} ${model.height}`}
        role="slider"
        tabIndex={0}
        aria-label="Distance to read; Enter moves the lamp there"
        aria-valuemin={rows[0]!.distanceM}
        aria-valuemax={rows.at(-1)!.distanceM}
        aria-valuenow={row.distanceM}
        aria-valuetext={say(row)}
        onKeyDown={onKeyDown}
        onPointerMove={(event) => setRead(rowUnder(event))}
        onPointerLeave={() => setRead(null)}
        onClick={() => onGo(row.distanceM)}
      >
        {model.shapes.map((shape, i) => (
          <Shape key={i} shape={shape} />
        ))}
        {read !== null && (
          <g className="chart-cross">
            <line x1={x} x2={x} y1={model.plot.top} y2={model.plot.bottom} />
            {row.meanLx > 0 && <circle cx={x} cy={model.levelY(row.meanLx)} r={4} />}
            {row.rangeStops !== null && <circle cx={x} cy={model.rangeY(row.rangeStops)} r={4} />}
          </g>
        )}
      </svg>
      <figcaption data-testid="throw-reading">{say(row)}</figcaption>
    </figure>
  );
}

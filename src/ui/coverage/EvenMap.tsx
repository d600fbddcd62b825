import { useEffect, useMemo, useRef } from 'react';
import type { GridResult } from '../../sim/results';
import { stopsContours } from './stopsContours';
import { BALANCE, colourAt } from '../../sim/colour/colourMaps';

interface Props {
  readonly grid: GridResult;
  /** Stops at each cell; NaN is left empty. */
  readonly stops: ArrayLike<number>;
  readonly mostStops: number;
  readonly label: string;
}
/** A map of stops about a neutral middle, one pixel a cell drawn large, with contours a third of a stop apart. */
export function StopsMap({ grid, stops, mostStops, label }: Props) {
  const ref = useRef<HTMLCanvasElement>(null);
  const { columns, rows } = grid;
  useEffect(() => {
    const context = ref.current?.getContext('2d');
    if (!context) return;
    const image = context.createImageData(columns, rows);
    for (let row = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++) {
        const value = stops[row * columns + column] ?? NaN;
        const at = 4 * ((rows - 1 - row) * columns + column);
        if (Number.isNaN(value)) continue;
        image.data.set([...colourAt(BALANCE, 0.5 + value / (2 * mostStops)), 255], at);
      }
    }
    context.putImageData(image, 0, 0);
  }, [columns, rows, stops, mostStops]);
  const { lines, names } = useMemo(() => stopsContours(stops, columns, rows), [stops, columns, rows]);
  return (
    <div
      className="stops-map onmap"
      style={{ aspectRatio: `${grid.widthM} / ${grid.heightM}` }}
      role="img"
      aria-label={label}
    >
      <canvas ref={ref} width={columns} height={rows} />
      <svg viewBox={`0 0 ${columns} ${rows}`} preserveAspectRatio="none" aria-hidden="true">
        {lines.map(({ stops: level, path, isWhole }) => (
          <g key={level} className={isWhole ? 'contour whole' : 'contour'}>
            <path className="casing" d={path} />
            <path d={path} />
          </g>
        ))}
      </svg>
      {names.map(({ words, left, top }) => (
        <span key={words} className="contour-name" style={{ left: `${left}%`, top: `${top}%` }} aria-hidden="true">
          {words}
        </span>
      ))}
    </div>
  );
}

/** The wedge of a map of stops, with its ends and middle named. */
export function StopsWedge({
  mostStops,
  ends,
}: {
  readonly mostStops: number;
  readonly ends: readonly [string, string];
}) {
  return (
    <p className="stops-wedge">
      <span>
        {ends[0]} −{mostStops}
      </span>
      <span
        className="wedge"
        style={{ background: `linear-gradient(to right, ${BALANCE.join(',')})` }}
        aria-hidden="true"
      />
      <span>
        +{mostStops} {ends[1]}
      </span>
    </p>
  );
}

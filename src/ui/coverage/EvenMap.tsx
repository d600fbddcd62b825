import { useEffect, useRef } from 'react';
import type { GridResult } from '../../sim/results';
import { BALANCE, colourAt } from '../../sim/colour/colourMaps';

interface Props {
  readonly grid: GridResult;
  /** Stops at each cell; NaN is left empty. */
  readonly stops: ArrayLike<number>;
  readonly mostStops: number;
  readonly label: string;
}
/** A map of stops about a neutral middle, one pixel a cell, drawn large without smoothing. */
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
  return (
    <canvas
      ref={ref}
      className="stops-map"
      width={columns}
      height={rows}
      style={{ aspectRatio: `${grid.widthM} / ${grid.heightM}` }}
      role="img"
      aria-label={label}
    />
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

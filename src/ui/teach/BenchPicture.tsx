import type { Modifier, SceneDocument, Source } from '../../scene/schema';
import { frameFromPose, worldFromLocal } from '../../scene/geometry/frames';
import { add, addScaled, cross, dot, normalise, scale, type Vec3 } from '../../scene/geometry/vector';
import type { Exercise, Mark } from '../../sim/teach/lesson';

/** Axes of the picture in the world: to its right and up. */
const AXES: Readonly<Record<Exercise['view'], readonly [right: Vec3, up: Vec3]>> = {
  side: [
    [0, 1, 0],
    [0, 0, 1],
  ],
  plan: [
    [1, 0, 0],
    [0, 1, 0],
  ],
  planFromNorth: [
    [0, -1, 0],
    [1, 0, 0],
  ],
};
const VIEW_WORDS: Readonly<Record<Exercise['view'], string>> = {
  side: 'from the side',
  plan: 'from above',
  planFromNorth: 'from above',
};
type Spot = readonly [number, number];

interface Line {
  readonly from: Spot;
  readonly to: Spot;
}
/** A lamp's name stands so far behind it, pixels. */
const NAME_PX = 18;
const WIDTH = 640;
const MOST_HEIGHT = 220;
const PAD_M = 0.7;
/** A lamp without a face is drawn this wide, m. */
const LEAST_FACE_M = 0.18;
/** Half of the bar that stands for a meter's disc, m. */
const DISC_M = 0.22;

function faceWidthM(source: Source): number {
  if (source.type === 'sun') return 0;
  const { emitter } = source;
  const size =
    emitter.shape === 'rectangle'
      ? emitter.widthM
      : emitter.shape === 'tube'
        ? emitter.lengthM
        : emitter.shape === 'point'
          ? 0
          : emitter.diameterM;
  return Math.max(LEAST_FACE_M, size);
}

/** A line in the picture's plane at right angles to a direction, about a point. */
function acrossAt(
  project: (point: Vec3) => Spot,
  view: Exercise['view'],
  atM: Vec3,
  normal: Vec3,
  halfM: number,
): Line {
  const [right, up] = AXES[view];
  const along = normalise(cross(cross(right, up), normal));
  return { from: project(addScaled(atM, along, -halfM)), to: project(addScaled(atM, along, halfM)) };
}

function modifierLine(project: (point: Vec3) => Spot, view: Exercise['view'], { pose, shape }: Modifier): Line {
  const frame = frameFromPose(pose);
  const half = shape.kind === 'rectangle' ? shape.widthM / 2 : 0.2;
  const halfUp = shape.kind === 'rectangle' ? shape.heightM / 2 : 0.2;
  const [a, b]: [readonly [number, number], readonly [number, number]] =
    view === 'side'
      ? [
          [0, -halfUp],
          [0, halfUp],
        ]
      : [
          [-half, 0],
          [half, 0],
        ];
  return { from: project(worldFromLocal(frame, a)), to: project(worldFromLocal(frame, b)) };
}

interface Props {
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly view: Exercise['view'];
  readonly marks: readonly Mark[];
}
/** A name grows away from its lamp, to the side that it stands on. */
const anchorOf = (dx: number): 'start' | 'middle' | 'end' => (dx < -8 ? 'end' : dx > 8 ? 'start' : 'middle');

/** Where lamp, grip and meter stand, to scale. */
export function BenchPicture({ document, setupId, view, marks }: Props) {
  const setup = document.setups.find(({ id }) => id === setupId);
  if (!setup) return null;
  const [right, up] = AXES[view];
  const flat = (point: Vec3): Spot => [dot(point, right), dot(point, up)];
  const lamps = Object.values(setup.sources).flatMap((source) => (source.type === 'lamp' ? [source] : []));
  const grip = Object.values(setup.modifiers);
  const things = [
    ...lamps.map(({ pose }) => flat(pose.positionM)),
    ...marks.map(({ atM }) => flat(atM)),
    ...grip.map(({ pose }) => flat(pose.positionM)),
    ...lamps.flatMap(({ pose }) => ('atM' in pose.aim ? [flat(pose.aim.atM)] : [])),
    ...(view === 'side' ? [[0, 0] as Spot] : []),
    ...(view === 'planFromNorth' ? [[0, 0] as Spot] : []),
  ];
  const [xs, ys] = [things.map(([x]) => x), things.map(([, y]) => y)];
  const [left, rightEnd] = [Math.min(...xs) - PAD_M, Math.max(...xs) + PAD_M];
  const [bottom, top] = [Math.min(...ys) - (view === 'side' ? 0.35 : PAD_M), Math.max(...ys) + PAD_M];
  const perM = Math.min(WIDTH / (rightEnd - left), MOST_HEIGHT / (top - bottom));
  const [width, height] = [(rightEnd - left) * perM, (top - bottom) * perM];
  const project = (point: Vec3): Spot => {
    const [x, y] = flat(point);
    return [(x - left) * perM, (top - y) * perM];
  };
  const lineProps = ({ from, to }: Line) => ({ x1: from[0], y1: from[1], x2: to[0], y2: to[1] });
  // Lamps one above the other share their place from above, and their name.
  const spots = lamps.map(({ pose }) => project(pose.positionM).map(Math.round).join());
  const isNamed = (i: number): boolean => spots.indexOf(spots[i]!) < i;
  const namesAt = (i: number): string =>
    lamps
      .filter((_, other) => spots[other] === spots[i])
      .map(({ name }) => name)
      .join(', ');
  const walls = Object.values(document.surfaces).flatMap((surface): Line[] => {
    if (surface.shape.kind !== 'rectangle' || surface.kind === 'ceiling') return [];
    const frame = frameFromPose(surface.pose);
    if (view !== 'side' && (surface.kind === 'floor' || surface.kind === 'top')) return [];
    if (view === 'side' && surface.kind !== 'floor') return [];
    const { widthM, heightM } = surface.shape;
    const end: readonly [number, number] = view === 'side' ? [0, heightM] : [widthM, 0];
    return [{ from: project(frame.origin), to: project(worldFromLocal(frame, end)) }];
  });
  return (
    <svg
      className="bench-picture"
      viewBox={`0 0 ${width.toFixed(0)} ${height.toFixed(0)}`}
      role="img"
      aria-label={`The bench ${VIEW_WORDS[view]}, to scale: ${lamps.map(({ name }) => name).join(', ')}; meter at ${marks.map(({ words }) => words).join(', ')}`}
    >
      {walls.map((line, i) => (
        <line key={i} className="bench-wall" {...lineProps(line)} />
      ))}
      {lamps.map((lamp, i) => {
        const { forward } = frameFromPose(lamp.pose);
        const at = lamp.pose.positionM;
        const ahead = 'atM' in lamp.pose.aim ? lamp.pose.aim.atM : add(at, scale(forward, 1));
        const rays = marks.length > 0 ? marks.map(({ atM }) => project(atM)) : [project(ahead)];
        const [x, y] = project(at);
        const behind = project(addScaled(at, forward, -NAME_PX / perM));
        return (
          <g key={i} className="bench-lamp">
            {rays.map(([toX, toY], ray) => (
              <line key={ray} className="bench-ray" x1={x} y1={y} x2={toX} y2={toY} />
            ))}
            {view === 'side' && (
              <line className="bench-stand" x1={x} y1={y} x2={x} y2={project([at[0], at[1], 0])[1]} />
            )}
            <circle cx={x} cy={y} r={5} />
            <line className="bench-face" {...lineProps(acrossAt(project, view, at, forward, faceWidthM(lamp) / 2))} />
            {!isNamed(i) && (
              <text x={behind[0]} y={behind[1] + 5} textAnchor={anchorOf(behind[0] - x)}>
                {namesAt(i)}
              </text>
            )}
          </g>
        );
      })}
      {grip.map((modifier, i) => (
        <line
          key={i}
          className={`bench-grip ${modifier.material.kind}`}
          {...lineProps(modifierLine(project, view, modifier))}
        />
      ))}
      {marks.map(({ words, atM, normal }, i) => {
        const [x, y] = project(atM);
        const below = view === 'side' ? 34 : 22;
        return (
          <g key={i} className="bench-mark">
            <line {...lineProps(acrossAt(project, view, atM, normal, DISC_M))} />
            <text x={x} y={Math.min(height - 4, y + below)} textAnchor="middle">
              {words}
            </text>
          </g>
        );
      })}
    </svg>
  );
}

const CELL = 20;
/** The same light on one square, then four, then nine. */
export function SpreadPicture() {
  return (
    <svg
      className="spread-picture"
      viewBox="0 0 250 96"
      role="img"
      aria-label="The same light on one square at the first distance, on four at twice, on nine at three times"
    >
      {[1, 2, 3].map((times) => {
        const x0 = { 1: 10, 2: 74, 3: 160 }[times as 1 | 2 | 3];
        return (
          <g key={times}>
            {Array.from({ length: times * times }, (_, i) => (
              <rect
                key={i}
                className={`spread n${times}`}
                x={x0 + (i % times) * CELL}
                y={70 - CELL * times + Math.floor(i / times) * CELL}
                width={CELL - 1}
                height={CELL - 1}
              />
            ))}
            <text x={x0 + (times * CELL) / 2} y={90} textAnchor="middle">
              {times === 1 ? 'all of it' : times === 2 ? '1/4 each' : '1/9 each'}
            </text>
          </g>
        );
      })}
    </svg>
  );
}

/** Random scenes whose lamps are patterned projection spots, strips of cells and tubes lit over a part of their round. */
import { sceneSchema, type Distribution, type Lamp } from '../../src/scene/schema';
import { chooseReceivers, randomScene, type RandomScene } from './randomScene';
import { drawFrom, type Draw } from './randomThings';

type Pattern = NonNullable<Extract<Distribution, { kind: 'projection' }>['pattern']>;
export const PATTERN_KINDS = ['panes', 'slats', 'shapes'] as const;

/** Convex holes in their own squares of a grid over the field, corners on an ellipse; a part of them left shut. */
function shapes(draw: Draw): [number, number][][] {
  const across = draw.whole(2, 4);
  return Array.from({ length: across * across }, (_, cell): [number, number][] => {
    const corners = draw.whole(3, 7);
    const x = (2 * ((cell % across) + 0.5)) / across - 1;
    const y = (2 * (Math.floor(cell / across) + 0.5)) / across - 1;
    const [wide, high, start] = [draw.between(0.3, 0.8), draw.between(0.3, 0.8), draw.between(0, 6)];
    return Array.from({ length: corners }, (_unused, i) => {
      const turn = start + (2 * Math.PI * (i + 0.4 * draw.between(0, 1))) / corners;
      return [x + (wide * Math.cos(turn)) / across, y + (high * Math.sin(turn)) / across];
    });
  }).filter((_, cell) => cell === 0 || draw.chance(0.8));
}

/** Edges at most as soft as the metal between two holes is wide: then none is narrowed. */
function pattern(draw: Draw, fieldAngleDeg: number): Pattern {
  const turnDeg = draw.between(-180, 180);
  const kind = draw.one(PATTERN_KINDS);
  const edgeWidthDeg = draw.between(0.1, 0.02 * fieldAngleDeg);
  const common = { turnDeg, edgeWidthDeg };
  if (kind === 'slats') return { kind, slats: draw.whole(2, 7), openShare: draw.between(0.3, 0.7), ...common };
  if (kind === 'shapes') return { kind, outlines: shapes(draw), ...common };
  const columns = draw.whole(1, 4);
  const rows = draw.whole(1, 4);
  return { kind, columns, rows, barShare: draw.between(0.2, 0.6), heightOverWidth: draw.between(0.6, 1.6), ...common };
}

function projection(draw: Draw): Distribution {
  const fieldAngleDeg = draw.between(18, 50);
  const shutters = Array.from({ length: draw.whole(0, 4) }, (_, i) => ({
    offsetDeg: draw.between(0.1, 0.45) * fieldAngleDeg,
    turnDeg: 90 * i + draw.between(-20, 20),
    edgeWidthDeg: draw.between(0.3, 3),
  }));
  return {
    kind: 'projection',
    fieldAngleDeg,
    edgeWidthDeg: draw.between(0.4, 4),
    peaking: draw.between(0, 1.5),
    ...(draw.chance(0.6) ? { focusM: draw.between(2, 9) } : {}),
    ...(shutters.length > 0 ? { shutters } : {}),
    pattern: pattern(draw, fieldAngleDeg),
  };
}

function reshape(draw: Draw, lamp: Lamp): Lamp {
  const { emitter } = lamp;
  switch (emitter.shape) {
    case 'tube':
      return { ...lamp, emitter: { ...emitter, litSectorDeg: draw.one([60, 120, 180, 240, draw.between(20, 350)]) } };
    case 'rectangle': {
      const count = draw.whole(2, 8);
      const levels = Array.from({ length: count }, () => draw.one([1, 1, 0, draw.between(0.1, 0.9)]));
      const cells = { count, glowShare: draw.one([1, draw.between(0.4, 0.95)]), levels: [1, ...levels.slice(1)] };
      return { ...lamp, emitter: { ...emitter, cells } };
    }
    default: {
      const output: Lamp['output'] = draw.one([
        { kind: 'candela', candela: draw.between(2000, 60000) },
        { kind: 'lumens', lumens: draw.between(500, 9000) },
      ]);
      const lens: Lamp['emitter'] = draw.chance(0.2)
        ? { shape: 'point' }
        : { shape: 'disc', diameterM: draw.between(0.04, 0.25) };
      return { ...lamp, emitter: lens, distribution: projection(draw), output };
    }
  }
}

/** The random scene of a seed with its lamps reshaped; the same seed always gives the same scene. */
export function shapedScene(seed: number): RandomScene {
  const { document, setupId } = randomScene(seed);
  const draw = drawFrom(seed + 90_000);
  const [setup] = document.setups;
  const sources = Object.fromEntries(
    Object.entries(setup!.sources).map(([id, source]) => [id, source.type === 'lamp' ? reshape(draw, source) : source]),
  );
  const reshaped = sceneSchema.parse({ ...document, setups: [{ ...setup, sources }] });
  return { document: reshaped, setupId, ...chooseReceivers(draw, reshaped) };
}

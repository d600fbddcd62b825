/** Random scenes whose lamps carry everything that a lamp can: lenses, half scrims, doors, snoots, egg crates, gels;
 *  and one sheet cut full of holes. */
import { sceneSchema, type Lamp, type Modifier } from '../../src/scene/schema';
import { chooseReceivers, randomScene, type RandomScene } from './randomScene';
import { drawFrom, type Draw } from './randomThings';

type Accessory = NonNullable<Lamp['accessories']>[number];
export const DRESSINGS = ['doors', 'snoot', 'crate', 'half', 'gel', 'bare'] as const;

function lensed(draw: Draw): Lamp['distribution'] {
  const focalLengthM = draw.between(0.15, 0.4);
  return {
    kind: 'lensed',
    lensDiameterM: draw.between(0.12, 0.35),
    focalLengthM,
    // Up to 24 times magnified: as far behind the lens as a wall of the room may stand.
    lampToLensM: focalLengthM * draw.between(0.4, 0.96),
    sourceDiameterM: draw.between(0.005, 0.04),
    beamAngleDeg: draw.between(15, 60),
  };
}

function doors(draw: Draw, frontM: number): Accessory {
  const turnDeg = draw.one([0, 0, draw.between(0, 90)]);
  const leaves = Array.from({ length: draw.whole(1, 4) }, (_, i) => ({
    turnDeg: turnDeg + 90 * i,
    openDeg: draw.between(50, 150),
    lengthM: frontM * draw.between(0.6, 1.6),
  }));
  return { kind: 'barnDoors', leaves };
}

/** @param frontM the lamp's front across */
function accessory(draw: Draw, kind: (typeof DRESSINGS)[number], frontM: number): Accessory[] {
  switch (kind) {
    case 'doors':
      return [doors(draw, frontM)];
    case 'snoot':
      return [{ kind, lengthM: frontM * draw.between(0.8, 2), diameterM: frontM * draw.between(0.6, 1.2) }];
    case 'crate': {
      const cellM = draw.between(0.02, 0.06);
      return [{ kind: 'eggCrate', cellM, depthM: cellM * draw.between(0.4, 1.2), wallM: draw.between(0, 0.002) }];
    }
    case 'half':
      return [{ kind: 'wireScrim', stops: draw.one([0.5, 1]), half: { clockDeg: draw.between(0, 360) } }];
    case 'gel':
      return [{ kind, transmittance: draw.between(0.3, 0.9), miredShift: draw.between(-100, 100) }];
    case 'bare':
      return [];
  }
}

function dress(draw: Draw, lamp: Lamp): Lamp {
  const { accessories: _plain, ...bare } = lamp;
  const { emitter } = bare;
  const gelOnly = accessory(draw, 'gel', 1);
  if (emitter.shape === 'tube' || emitter.shape === 'sphere') return { ...bare, accessories: gelOnly };
  const isLensed = emitter.shape !== 'rectangle' && draw.chance(0.6);
  const distribution = isLensed ? lensed(draw) : bare.distribution;
  const output: Lamp['output'] = isLensed
    ? draw.one([
        { kind: 'candela', candela: draw.between(2000, 60000) },
        { kind: 'luxAt', illuminanceLx: draw.between(200, 3000), distanceM: draw.between(2, 6) },
      ])
    : bare.output;
  if (emitter.shape === 'point' && distribution.kind === 'uniform') return { ...bare, accessories: gelOnly };
  const crates = distribution.kind !== 'projection';
  const kinds = [...new Set([draw.one(DRESSINGS), draw.one(['half', 'gel', 'crate', 'bare'] as const)])];
  const frontM =
    distribution.kind === 'lensed'
      ? distribution.lensDiameterM
      : emitter.shape === 'disc'
        ? emitter.diameterM
        : emitter.shape === 'rectangle'
          ? emitter.widthM
          : 0.2;
  const accessories = kinds
    .filter((kind) => crates || kind !== 'crate')
    .flatMap((kind) => accessory(draw, kind, frontM));
  return { ...bare, distribution, output, accessories };
}

/** The same sheet as a cucoloris, its holes in the document: one to a cell of a grid, corners on an ellipse. */
function cut(draw: Draw, { frame: _frame, ...sheet }: Modifier): Modifier {
  if (sheet.shape.kind !== 'rectangle') return sheet;
  const { widthM, heightM } = sheet.shape;
  const [columns, rows] = [draw.whole(2, 7), draw.whole(2, 6)];
  const holesM = Array.from({ length: columns * rows }, (_, cell) => {
    const x = ((cell % columns) + 0.5) / columns - 0.5;
    const y = (Math.floor(cell / columns) + 0.5) / rows - 0.5;
    const [wide, high] = [draw.between(0.2, 0.45), draw.between(0.2, 0.45)];
    const corners = draw.whole(3, 8);
    return Array.from({ length: corners }, (_unused, i): [number, number] => {
      const turn = (2 * Math.PI * (i + draw.between(0, 0.6))) / corners;
      return [(x + (wide * Math.cos(turn)) / columns) * widthM, (y + (high * Math.sin(turn)) / rows) * heightM];
    });
  });
  const [w, h] = [widthM / 2, heightM / 2];
  const outlineM: [number, number][] = [
    [-w, -h],
    [w, -h],
    [w, h],
    [-w, h],
  ];
  const shape: Modifier['shape'] = { kind: 'polygon', outlineM, holesM };
  return { ...sheet, shape, material: { kind: 'opaque' } };
}

/** The random scene of a seed with its lamps dressed; the same seed always gives the same scene. */
export function dressedScene(seed: number): RandomScene {
  const { document, setupId } = randomScene(seed);
  const draw = drawFrom(seed + 50_000);
  const [setup] = document.setups;
  const sources = Object.fromEntries(
    Object.entries(setup!.sources).map(([id, source]) => [id, source.type === 'lamp' ? dress(draw, source) : source]),
  );
  const grip = Object.entries(setup!.modifiers);
  const flat = grip.find(([, { shape }]) => shape.kind === 'rectangle');
  const modifiers = Object.fromEntries(grip.map(([id, one]) => [id, id === flat?.[0] ? cut(draw, one) : one]));
  const dressed = sceneSchema.parse({ ...document, setups: [{ ...setup, sources, modifiers }] });
  return { document: dressed, setupId, ...chooseReceivers(draw, dressed) };
}

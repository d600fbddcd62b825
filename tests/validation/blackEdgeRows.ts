/** Rows for black foil at a face's rim: a larger face masked down to that of a published view factor. */
import type { Emitter, Lamp } from '../../src/scene/schema';
import { checkValue, input, makeRow, rowOf, type Row } from './row';
import { facing, glowing, lamp, reading, type Probe } from './scenes';

type Edges = Omit<Extract<NonNullable<Lamp['accessories']>[number], { kind: 'blackEdges' }>, 'kind'>;
type Point = [number, number, number];
const TOPIC = '2 Faces with blackened edges';
const REL = { type: 'rel', value: 1e-6 } as const;
const METER = { type: 'rel', value: 0.005 } as const;

/** A matt face that looks along +x: from behind, right is -y and up is z. `middle` is that of the whole face. */
const masked = (middle: Point, emitter: Emitter, luminanceCdM2: number, edges: Edges): Lamp => ({
  ...glowing(facing(middle, 90, 0), emitter, luminanceCdM2),
  accessories: [{ kind: 'blackEdges', ...edges }],
});
const facingBack = (at: Point): Probe => ({ at, normal: [-1, 0, 0] });

/** The panel of a check value, cut out of one that is larger on every side. */
function panelRow(id: string, aside: number): Row {
  const v = (name: string) => input(checkValue(id).inputs, name);
  const [left, right, top, bottom] = [0.1, 0.25, 0.3, 0.05];
  const [w, h] = [v('w_m'), v('h_m')];
  const emitter: Emitter = { shape: 'rectangle', widthM: w + left + right, heightM: h + top + bottom };
  // The whole face's middle lies so that the rest's middle is the origin.
  const middle: Point = [0, (left - right) / 2, (top - bottom) / 2];
  const edges = { leftM: left, rightM: right, topM: top, bottomM: bottom };
  const lit = reading(masked(middle, emitter, v('L_cd_m2'), edges), facingBack([v('d_m'), aside, 0]));
  return { ...rowOf(id, lit, 'kernel', METER), id: `${id} masked`, topic: TOPIC };
}

function discRow(id: string): Row {
  const v = (name: string) => input(checkValue(id).inputs, name);
  const ringM = 0.2;
  const emitter: Emitter = { shape: 'disc', diameterM: 2 * (v('R_m') + ringM) };
  const { inputs } = checkValue(id);
  const probe = facingBack('h_m' in inputs ? [v('h_m'), v('r_m'), 0] : [v('d_m'), 0, 0]);
  const lit = reading(masked([0, 0, 0], emitter, v('L_cd_m2'), { ringM }), probe);
  return { ...rowOf(id, lit, 'kernel', METER), id: `${id} masked`, topic: TOPIC };
}

/** A tube whose lit part ends opposite the receiver, the rest of it under foil. */
function tubeRow(id: string, hidden: 'leftM' | 'rightM'): Row {
  const v = (name: string) => input(checkValue(id).inputs, name);
  const [lengthM, blackM] = [v('l_m'), 0.35];
  // The receiver looks at one end of what is lit, which lies to its other side than the foil.
  const sign = hidden === 'leftM' ? -1 : 1;
  const middleY = sign * (lengthM / 2 - blackM / 2);
  const emitter: Emitter = { shape: 'tube', lengthM: lengthM + blackM, diameterM: 2 * v('r_m') };
  const lit = reading(
    masked([0, middleY, 0], emitter, v('L_cd_m2'), { [hidden]: blackM }),
    facingBack([v('h_from_axis_m'), 0, 0]),
  );
  return {
    ...rowOf(id, lit, 'kernel', METER),
    id: `${id} ${hidden === 'leftM' ? 'left' : 'right'} end masked`,
    topic: TOPIC,
  };
}

/** Candela on the axis, far away, by the share of the face that is left; and a lens that is masked smaller. */
function candelaRows(): Row[] {
  const source = 'candela falls with the area hidden; an evenly bright face (closed form)';
  const ratio = (id: string, expected: number, emitter: Emitter, edges: Edges): Row => {
    const bare = glowing(facing([0, 0, 0], 90, 0), emitter, 5000);
    const probe = facingBack([4000, 0, 0]);
    const measured = reading(masked([0, 0, 0], emitter, 5000, edges), probe) / reading(bare, probe);
    return makeRow({ id, topic: TOPIC, source, unit: '1', expected, measured, tolerance: REL, tests: 'kernel' });
  };
  const lensRadii = (ringM: number): Lamp => ({
    ...lamp(facing([0, 0, 0], 90, 0), { shape: 'disc', diameterM: 0.3 }, LENS, { kind: 'candela', candela: 50_000 }),
    accessories: [{ kind: 'blackEdges', ringM }],
  });
  // u = 0.25 m, F = 0.3 m: a disc of radius 0.27 m at 1.5 m behind the lens. At 6 m the axis sees the part of it within
  // R (6 + 1.5)/6, so E ∝ 1 - (1 + (R/6)²)^-1/2 for an even candela per area.
  const seen = (radiusM: number): number => 1 - 1 / Math.sqrt(1 + (radiusM / 6) ** 2);
  const onAxis = facingBack([6, 0, 0]);
  return [
    ratio(
      'B1 panel',
      0.7 * 0.5,
      { shape: 'rectangle', widthM: 1, heightM: 0.4 },
      { leftM: 0.3, topM: 0.1, bottomM: 0.1 },
    ),
    ratio('B2 disc', 0.36, { shape: 'disc', diameterM: 0.5 }, { ringM: 0.1 }),
    ratio('B3 tube', 0.75, { shape: 'tube', lengthM: 1.2, diameterM: 0.04 }, { leftM: 0.1, rightM: 0.2 }),
    makeRow({
      id: 'B4 lens',
      topic: TOPIC,
      source: 'the lens is a smaller hole before the disc that it shows (similar triangles, closed form)',
      unit: '1',
      expected: seen(0.1) / seen(0.15),
      measured: reading(lensRadii(0.05), onAxis) / reading(lensRadii(0), onAxis),
      tolerance: METER,
      tests: 'kernel',
    }),
  ];
}
const LENS = {
  kind: 'lensed',
  lensDiameterM: 0.3,
  focalLengthM: 0.3,
  sourceDiameterM: 0.09,
  lampToLensM: 0.25,
  beamAngleDeg: 170,
} as const;

export const blackEdgeRows = (): Row[] => [
  panelRow('2.3d', 0),
  panelRow('2.3e', 1.5),
  ...['2.1b', '2.1c', '2.2a', '2.2b'].map(discRow),
  tubeRow('2.8a', 'leftM'),
  tubeRow('2.8b', 'rightM'),
  ...candelaRows(),
];

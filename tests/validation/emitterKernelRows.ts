/** Rows 1, 2 and 5: emitters of the document, solved by the kernel and read at a point. */
import type { Lamp } from '../../src/scene/schema';
import { footcandlesFromLux } from '../../src/scene/units/convert';
import { cosDeg, panTiltFromDirection, sinDeg } from '../../src/scene/geometry/frames';
import { cross, length, normalise, scale, subtract, type Vec3 } from '../../src/scene/geometry/vector';
import { checkValue, input, rowOf, type Inputs, type Row, type Tolerance } from './row';
import { facing, glowing, lamp, pointLamp, reading, sunTowardsX, type Probe } from './scenes';

/** Integrated emitters within 0.5 % at meters; points follow a closed form. */
const METER: Tolerance = { type: 'rel', value: 0.005 };
const CLOSED: Tolerance = { type: 'rel', value: 1e-6 };
const UP: Vec3 = [0, 0, 1];
const TOWARDS_X: Vec3 = [1, 0, 0];
const origin: Probe = { at: [0, 0, 0], normal: TOWARDS_X };

type Solve = (value: (name: string) => number, inputs: Inputs) => number;
const solve = (ids: readonly string[], tolerance: Tolerance, of: Solve): Row[] =>
  ids.map((id) => {
    const { inputs } = checkValue(id);
    return rowOf(
      id,
      of((name) => input(inputs, name), inputs),
      'kernel',
      tolerance,
    );
  });

function pointRows(): Row[] {
  return [
    ...solve(['1.1a', '1.1b'], CLOSED, (v) =>
      reading(pointLamp([v('d_m'), 0, 0], v('I_cd')), {
        at: [0, 0, 0],
        normal: [cosDeg(v('incidence_deg')), sinDeg(v('incidence_deg')), 0],
      }),
    ),
    ...solve(['1.1c'], CLOSED, (v) =>
      footcandlesFromLux(reading(pointLamp([v('d_ft') * 0.3048, 0, 0], v('I_cd')), origin)),
    ),
    ...solve(['1.2a'], CLOSED, (v) =>
      reading(pointLamp([0, 0, v('h_m')], v('I_cd')), { at: [v('r_m'), 0, 0], normal: UP }),
    ),
    ...solve(['1.2b'], CLOSED, (v) =>
      reading(pointLamp([0, 0, v('h_m')], v('I_cd')), { at: [v('r_m'), 0, 0], normal: [-1, 0, 0] }),
    ),
    ...solve(['1.2c'], METER, (v) => {
      const rings = 200;
      const width = v('R_m') / rings;
      let flux = 0;
      for (let ring = 0; ring < rings; ring++) {
        const radius = (ring + 0.5) * width;
        const lux = reading(pointLamp([0, 0, v('h_m')], v('I_cd')), { at: [radius, 0, 0], normal: UP });
        flux += lux * 2 * Math.PI * radius * width;
      }
      return flux;
    }),
  ];
}

/** Peak candela of a point lamp on its axis, as the kernel reads it from 10 m. */
const peakCandela = (source: Lamp): number => 100 * reading(source, { at: [0, 0, 0], normal: TOWARDS_X });
const axisLamp = (distribution: Lamp['distribution'], output: Lamp['output']): Lamp =>
  lamp(facing([10, 0, 0], 270, 0), { shape: 'point' }, distribution, output);

function beamRows(): Row[] {
  return [
    // Given the flux that the source states, the lamp must come out at its peak: the row compares the flux.
    ...['1.3a', '1.3b', '1.3c'].flatMap((id) =>
      solve([id], CLOSED, (v) => {
        const lumens = checkValue(id).expected;
        const peak = peakCandela(axisLamp({ kind: 'cosinePower', exponent: v('n') }, { kind: 'lumens', lumens }));
        return (lumens * v('I0_cd')) / peak;
      }),
    ),
    ...solve(['1.3f'], CLOSED, (v) => {
      const exponent = checkValue('1.3d').expected;
      return peakCandela(axisLamp({ kind: 'cosinePower', exponent }, { kind: 'lumens', lumens: v('flux_lm') }));
    }),
    ...solve(['1.4a'], METER, (v) => {
      const gate = { kind: 'projection', fieldAngleDeg: v('cone_full_angle_deg'), edgeWidthDeg: 0.02 } as const;
      return peakCandela(axisLamp(gate, { kind: 'lumens', lumens: v('flux_lm') }));
    }),
    ...solve(['1.4c'], METER, (v) => {
      const gate = { kind: 'projection', fieldAngleDeg: v('full_angle_deg'), edgeWidthDeg: 0.5 } as const;
      const source = lamp(facing([v('d_m'), 0, 0], 270, 0), { shape: 'point' }, gate, {
        kind: 'candela',
        candela: 1e6,
      });
      // Intensity at the wall's point against the peak: half of it marks the field's edge.
      const share = (aside: number) => {
        const squared = v('d_m') ** 2 + aside ** 2;
        return (reading(source, { at: [0, aside, 0], normal: TOWARDS_X }) * squared ** 1.5) / (v('d_m') * 1e6);
      };
      let [inside, outside] = [0, v('d_m')];
      for (let step = 0; step < 40; step++) {
        const middle = (inside + outside) / 2;
        if (share(middle) > 0.5) inside = middle;
        else outside = middle;
      }
      return inside + outside;
    }),
  ];
}

const disc = (luminance: number, radiusM: number, at: [number, number, number]): Lamp =>
  glowing(facing(at, 270, 0), { shape: 'disc', diameterM: 2 * radiusM }, luminance);

function discRows(): Row[] {
  return [
    ...solve(['2.1a', '2.1b', '2.1c', '2.1d'], METER, (v) =>
      reading(disc(v('L_cd_m2'), v('R_m'), [v('d_m'), 0, 0]), origin),
    ),
    ...solve(['2.1e'], METER, (v) =>
      reading(disc(v('L_cd_m2'), v('R_m'), [v('d_m'), 0, 0]), {
        at: [0, 0, 0],
        normal: [cosDeg(v('tilt_deg')), 0, sinDeg(v('tilt_deg'))],
      }),
    ),
    ...solve(['2.2a', '2.2b', '2.2c'], METER, (v) =>
      reading(disc(v('L_cd_m2'), v('R_m'), [v('h_m'), v('r_m'), 0]), origin),
    ),
    ...solve(['2.2d', '2.2e'], METER, (v) =>
      reading(disc(v('L_cd_m2'), v('R_m'), [v('h_m'), 0, 0]), { at: [0, v('r_m'), 0], normal: [0, -1, 0] }),
    ),
  ];
}

/** A panel that looks along -x, `width` along y and `height` along z. */
const panel = (luminance: number, width: number, height: number, at: [number, number, number]): Lamp =>
  glowing(facing(at, 270, 0), { shape: 'rectangle', widthM: width, heightM: height }, luminance);

/** The rectangle through four corners as a lamp that looks at the origin's side. */
function panelFromCorners(corners: readonly Vec3[], luminance: number): Lamp {
  const [first, second, third, fourth] = corners as [Vec3, Vec3, Vec3, Vec3];
  const centre = scale([first[0] + third[0], first[1] + third[1], first[2] + third[2]], 0.5);
  const across = cross(subtract(second, first), subtract(fourth, first));
  const outward = normalise(
    scale(across, across[0] * centre[0] + across[1] * centre[1] + across[2] * centre[2] > 0 ? -1 : 1),
  );
  const { panDeg, tiltDeg } = panTiltFromDirection(outward);
  // Both panels of the check values have a pair of level sides (along y), which is where roll 0 puts `right`.
  const [levelM, leaningM] = [length(subtract(third, second)), length(subtract(second, first))];
  const level = Math.abs(subtract(third, second)[2]) < 1e-9 ? [levelM, leaningM] : [leaningM, levelM];
  const emitter = { shape: 'rectangle', widthM: level[0]!, heightM: level[1]! } as const;
  return glowing(facing([centre[0], centre[1], centre[2]], panDeg, tiltDeg), emitter, luminance);
}

function panelRows(): Row[] {
  return [
    // A corner faces the receiver: E / (pi L) is the factor.
    ...solve(['2.3a', '2.3b', '2.3c'], METER, (v) => {
      const source = panel(1000, v('a_m'), v('b_m'), [v('c_m'), v('a_m') / 2, v('b_m') / 2]);
      return reading(source, origin) / (Math.PI * 1000);
    }),
    ...solve(['2.3d'], METER, (v) => reading(panel(v('L_cd_m2'), v('w_m'), v('h_m'), [v('d_m'), 0, 0]), origin)),
    ...solve(['2.3e'], METER, (v) =>
      reading(panel(v('L_cd_m2'), v('w_m'), v('h_m'), [v('d_m'), v('offset_x_m'), 0]), origin),
    ),
    ...solve(['2.4a', '2.4b', '2.4c'], METER, (v) => {
      const at: [number, number, number] = [v('c_dist_m'), v('b_width_m') / 2, v('a_height_m') / 2];
      const source = panel(1000, v('b_width_m'), v('a_height_m'), at);
      return reading(source, { at: [0, 0, 0], normal: UP }) / (Math.PI * 1000);
    }),
    ...solve(['2.5c', '2.5d'], METER, (v, inputs) =>
      reading(panelFromCorners(inputs.vertices_m as Vec3[], v('L_cd_m2')), { at: [0, 0, 0], normal: UP }),
    ),
  ];
}

/** A tube along y; its near end (or its middle) opposite the origin. */
const tube = (luminance: number, radiusM: number, lengthM: number, axisM: number, middle = false): Lamp =>
  glowing(
    facing([axisM, middle ? 0 : lengthM / 2, 0], 270, 0),
    { shape: 'tube', lengthM, diameterM: 2 * radiusM },
    luminance,
  );

function roundRows(): Row[] {
  const thinM = 0.0005;
  const thin = (perMetre: number, lengthM: number, distanceM: number, middle: boolean) =>
    tube(perMetre / (2 * thinM), thinM, lengthM, distanceM, middle);
  return [
    ...solve(['2.6a', '2.6b', '2.6c', '2.6d', '2.6e', '2.6f'], METER, (v) =>
      reading(
        glowing(facing([v('d_center_m'), 0, 0], 0, 0), { shape: 'sphere', diameterM: 2 * v('R_m') }, v('L_cd_m2')),
        {
          at: [0, 0, 0],
          normal: [cosDeg(v('theta_deg')), sinDeg(v('theta_deg')), 0],
        },
      ),
    ),
    ...solve(['2.7a'], METER, (v) => reading(thin(v('Iprime_cd_per_m'), v('l_m'), v('d_m'), false), origin)),
    ...solve(['2.7b'], METER, (v) => reading(thin(v('Iprime_cd_per_m'), v('l_m'), v('d_m'), true), origin)),
    ...solve(['2.7c'], METER, (v) =>
      reading(thin(v('Iprime_cd_per_m'), v('l_m'), v('d_m'), false), { at: [0, 0, 0], normal: [0, 1, 0] }),
    ),
    // 80 times its distance stands for endless: the rest is 1e-5 of it.
    ...solve(['2.7d'], METER, (v) => reading(thin(v('Iprime_cd_per_m'), 80 * v('d_m'), v('d_m'), true), origin)),
    ...solve(['2.8a', '2.8b', '2.8c'], METER, (v) =>
      reading(tube(v('L_cd_m2'), v('r_m'), v('l_m'), v('h_from_axis_m')), origin),
    ),
    ...solve(['2.8d'], METER, (v) => reading(tube(v('L_cd_m2'), v('r_m'), v('l_m'), v('h_from_axis_m'), true), origin)),
  ];
}

/** Five-times rule: over-reading in percent. Within 0.5 % of the illuminance is half a point of it (times 1 + it). */
function fiveTimesRows(): Row[] {
  const rows: Row[] = [];
  const add = (id: string, source: Lamp, intensityCd: number, distanceM: number) => {
    const { expected } = checkValue(id);
    const over = 100 * (intensityCd / distanceM ** 2 / reading(source, origin) - 1);
    rows.push(rowOf(id, over, 'kernel', { type: 'abs', value: 0.5 * (1 + expected / 100) }));
  };
  for (const times of [1, 2, 3, 5, 10]) {
    add(`2.9-disc-${times}`, disc(1000, 0.5, [times, 0, 0]), 1000 * Math.PI * 0.25, times);
    add(`2.9-square-${times}`, panel(1000, 1, 1, [times, 0, 0]), 1000, times);
    const diagonal = times * Math.SQRT2;
    add(`2.9-squarediag-${times}`, panel(1000, 1, 1, [diagonal, 0, 0]), 1000, diagonal);
    add(`2.9-line-${times}`, tube(1000, 0.0005, 1, times, true), 1, times);
  }
  return rows;
}

/** A dome reads half of a pure side light. The sun's disc reaches a quarter of a degree round it. */
function domeRow(): Row[] {
  return solve(['5.5e'], METER, (v) => {
    const sun = sunTowardsX(0.533, 1000);
    const normal: Vec3 = [cosDeg(v('angle_deg')), sinDeg(v('angle_deg')), 0];
    return reading(sun, { at: [0, 0, 0], normal, receptor: 'dome' }) / 1000;
  });
}

export const emitterKernelRows = (): Row[] => [
  ...pointRows(),
  ...beamRows(),
  ...discRows(),
  ...panelRows(),
  ...roundRows(),
  ...fiveTimesRows(),
  ...domeRow(),
];

/** Rows for window glass by its refraction: a pane in a window, read square on and at a slant. */
import type { Glass, Pane } from '../../src/scene/glass';
import type { Surface } from '../../src/scene/schema';
import type { Vec3 } from '../../src/scene/geometry/vector';
import { makeRow, type Row, type Tolerance } from './row';
import { facing, meterOf, pointLamp } from './scenes';

const TOPIC = '8 Window glass';
const RADIAN = Math.PI / 180;
const EXACT: Tolerance = { type: 'abs', value: 1e-9 };
const THREE_FIGURES: Tolerance = { type: 'abs', value: 0.0006 };
const FLOAT: Pane = { refractiveIndex: 1.52, absorptionPerM: 0, thicknessM: 0.004 };
/** The glass of the handbook's examples: index 1.526, extinction 32 per metre, 2.3 mm. */
const COVER: Pane = { refractiveIndex: 1.526, absorptionPerM: 32, thicknessM: 0.0023 };

/** Share of a point lamp's light that a window's glass leaves at a slant; the glass stands at x = 1, the receiver at 0. */
export function throughWindow(glass: Glass, slantDeg: number): number {
  const reading = (window: NonNullable<NonNullable<Surface['openings']>[string]['window']>): number => {
    const opening = {
      leftM: 0.2,
      sillM: 0.2,
      shape: { kind: 'rectangle', widthM: 9.6, heightM: 1.6 } as const,
      window,
    };
    const wall: Surface = {
      name: 'Window wall',
      kind: 'wall',
      pose: facing([1, 5, -1], 270, 0),
      shape: { kind: 'rectangle', widthM: 10, heightM: 2 },
      openings: { one: opening },
    };
    const lamp: [number, number, number] = [2, 2 * Math.tan(slantDeg * RADIAN), 0];
    const receiver = { at: [0, 0, 0] as Vec3, normal: [1, 0, 0] as Vec3 };
    return meterOf({ sources: { lamp: pointLamp(lamp, 1000) }, surfaces: { wall } })(receiver);
  };
  const bare = { columns: 1, rows: 1, barWidthM: 0 };
  return reading({ ...bare, glass }) / reading(bare);
}

const FRESNEL = 'Fresnel (textbook optics), both surfaces and all passes: (1 - r)/(1 + r), r = ((n - 1)/(n + 1))²';
const HANDBOOK = 'Duffie & Beckman, Solar Engineering of Thermal Processes, examples of chapter 5 (from memory)';

export function paneRows(): Row[] {
  const row = (id: string, measured: number, expected: number, source: string, tolerance = EXACT): Row =>
    makeRow({ id, topic: TOPIC, source, unit: '1', measured, expected, tolerance, tests: 'kernel' });
  const surface = (0.52 / 2.52) ** 2;
  const squareOn = (1 - surface) / (1 + surface);
  // At Brewster's angle one polarisation passes whole; of the other a surface reflects ((n² - 1)/(n² + 1))².
  const brewsterDeg = Math.atan(1.52) / RADIAN;
  const back = ((1.52 ** 2 - 1) / (1.52 ** 2 + 1)) ** 2;
  const brewster = (1 + (1 - back) / (1 + back)) / 2;
  const atBrewster = "Brewster's law: tan θ = n, one polarisation passes whole";
  return [
    row('float square on', throughWindow(FLOAT, 0), squareOn, FRESNEL),
    row('float at Brewster’s angle', throughWindow(FLOAT, brewsterDeg), brewster, atBrewster),
    row('cover at 60 degrees', throughWindow(COVER, 60), 0.768, HANDBOOK, THREE_FIGURES),
  ];
}

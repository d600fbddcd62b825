/**
 * What a lamp's own front does to single rays, in the lamp's own metres: right and up seen from behind, out along its
 * axis. Every thing is tested as the body that it is: a snoot as a cylinder, a leaf as a plate.
 */
import type { Lamp } from '../../src/scene/schema';
import { lensFoilM } from './blackEdges';
import { inner, outer, plus, RADIAN, type Triple } from './vectors';

export interface Front {
  /** Share let through of the ray that leaves the face at (a, b) and goes `to` metres on. */
  readonly passes: (a: number, b: number, to: Triple) => number;
  /** Share of that ray, seen from its far end, that lies outside the lamp. */
  readonly outsideOf: (depthM: number) => number;
}
type Accessory = NonNullable<Lamp['accessories']>[number];
/** A test of the ray from `start` along `to`, in metres before the front. */
type Test = (start: Triple, to: Triple) => number;

/** Where the ray passes the plane `z` before the front: right and up. */
const at = (start: Triple, to: Triple, z: number): [number, number] => {
  const t = (z - start[2]) / to[2];
  return [start[0] + t * to[0], start[1] + t * to[1]];
};

/** Half sizes of the opening: of a lens, a disc, a panel; a bare point has a ring of 20 cm. */
function openingOf({ emitter, distribution }: Lamp): { round: boolean; x: number; y: number } {
  if (distribution.kind === 'lensed')
    return { round: true, x: distribution.lensDiameterM / 2, y: distribution.lensDiameterM / 2 };
  if (emitter.shape === 'rectangle') return { round: false, x: emitter.widthM / 2, y: emitter.heightM / 2 };
  const radius = emitter.shape === 'disc' ? emitter.diameterM / 2 : 0.1;
  return { round: true, x: radius, y: radius };
}

/** A plate hinged at the ring: turn picks the side, open 0 lies over the front, 90 ahead, 180 outwards. */
function plate(lamp: Lamp, turnDeg: number, openDeg: number, lengthM: number, mountM: number): Test {
  const { round, x, y } = openingOf(lamp);
  const side: Triple = [Math.cos(turnDeg * RADIAN), Math.sin(turnDeg * RADIAN), 0];
  const along: Triple = [-side[1], side[0], 0];
  const extent = (direction: Triple) =>
    round ? x + mountM : Math.abs(direction[0]) * (x + mountM) + Math.abs(direction[1]) * (y + mountM);
  const hinge: Triple = plus([0, 0, mountM], side, extent(side));
  const out = plus(plus([0, 0, 0], side, -Math.cos(openDeg * RADIAN)), [0, 0, 1], Math.sin(openDeg * RADIAN));
  const normal = outer(along, out);
  return (start, to) => {
    const rate = inner(normal, to);
    const t = inner(normal, plus(hinge, start, -1)) / rate;
    if (!(t > 0 && t < 1)) return 1;
    const on = plus(plus(start, to, t), hinge, -1);
    const up = inner(on, out);
    return up >= 0 && up <= lengthM && Math.abs(inner(on, along)) <= extent(along) ? 0 : 1;
  };
}

/** A tube of black metal: the ray dies where it meets the wall, or comes in beside the near end. */
function cylinder(radiusM: number, fromM: number, toM: number): Test {
  return (start, to) => {
    const [x, y] = at(start, to, fromM);
    if (x * x + y * y > radiusM * radiusM) return 0;
    const a = to[0] * to[0] + to[1] * to[1];
    if (a === 0) return 1;
    const half = start[0] * to[0] + start[1] * to[1];
    const c = start[0] * start[0] + start[1] * start[1] - radiusM * radiusM;
    const t = (-half + Math.sqrt(half * half - a * c)) / a; // where it leaves the endless cylinder
    const depth = start[2] + t * to[2];
    return t < 1 && depth > fromM && depth < toM ? 0 : 1;
  };
}

/** The ring that doors hang from, as far outside the opening as it stands before it. */
function doorRing(lamp: Lamp, mountM: number): Test {
  const { round, x, y } = openingOf(lamp);
  return (start, to) => {
    const [px, py] = at(start, to, mountM);
    if (round) return Math.hypot(px, py) <= x + mountM ? 1 : 0;
    return Math.abs(px) <= x + mountM && Math.abs(py) <= y + mountM ? 1 : 0;
  };
}

/** A stack of small square tubes: of a lean tan, (d/c) tan of every cell is lost in its wall. */
const crate =
  ({ cellM, depthM, wallM = 0 }: Extract<Accessory, { kind: 'eggCrate' }>): Test =>
  (_start, to) => {
    const left = (lean: number) => Math.max(0, cellM - depthM * Math.abs(lean / to[2]));
    return (left(to[0]) * left(to[1])) / (cellM + wallM) ** 2;
  };

export function frontOf(lamp: Lamp, behindM: number): Front {
  const { accessories = [], distribution } = lamp;
  const scrims = accessories.filter((one) => one.kind === 'wireScrim');
  const slots = scrims.map((scrim, i) => scrim.slotM ?? 0.03 + 0.015 * i);
  const mountM = 0.01 + Math.max(0, ...slots);
  const tests: Test[] = [];
  let bodyM = 0;
  if (distribution.kind === 'lensed') {
    tests.push((start, to) =>
      Math.hypot(...at(start, to, 0)) <= distribution.lensDiameterM / 2 - lensFoilM(lamp) ? 1 : 0,
    );
  }
  scrims.forEach(({ half, stops }, i) => {
    if (!half) return;
    bodyM = Math.max(bodyM, slots[i]!);
    const [c, s] = [Math.cos(half.clockDeg * RADIAN), Math.sin(half.clockDeg * RADIAN)];
    tests.push((start, to) => {
      const [x, y] = at(start, to, slots[i]!);
      return x * c + y * s > 0 ? Math.pow(0.5, stops) : 1;
    });
  });
  for (const accessory of accessories) {
    if (accessory.kind === 'eggCrate') tests.push(crate(accessory));
    if (accessory.kind !== 'barnDoors' && accessory.kind !== 'snoot') continue;
    const endM = mountM + (accessory.kind === 'snoot' ? accessory.lengthM : 0);
    bodyM = Math.max(bodyM, endM);
    if (accessory.kind === 'snoot') tests.push(cylinder(accessory.diameterM / 2, mountM, endM));
    else {
      tests.push(doorRing(lamp, mountM));
      for (const { turnDeg, openDeg, lengthM } of accessory.leaves)
        tests.push(plate(lamp, turnDeg, openDeg, lengthM, mountM));
    }
  }
  return {
    outsideOf: (depthM) => 1 - (behindM + bodyM) / depthM,
    passes: (a, b, to) => {
      if (to[2] <= behindM + bodyM) return behindM + bodyM === 0 && tests.length === 0 ? 1 : 0;
      const start: Triple = [a, b, -behindM];
      return tests.reduce((share, test) => (share === 0 ? 0 : share * test(start, to)), 1);
    },
  };
}

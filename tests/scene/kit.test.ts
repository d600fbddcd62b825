/** The kit's typical classes against the ranges they stand for, and own lamps made from a lamp or a data sheet. */
import { describe, expect, test } from 'vitest';
import { KIT_CLASSES } from '../../src/scene/kit/classes';
import { entryFromLamp, entryFromReadings, entryFromSheet, lightFromEntry, nameMatches } from '../../src/scene/kit/own';
import { kitEntryProblems } from '../../src/scene/invariants';
import { kitEntrySchema, type Lamp } from '../../src/scene/schema';
import hall from '../reference/drill-hall-falloff.json';
import reference from '../reference/lamp-classes.json';
import { facing, reading } from '../validation/scenes';

const ranges = reference.ranges as unknown as Readonly<Record<string, readonly [number, number]>>;
const standing = (lamp: ReturnType<typeof lightFromEntry>): Lamp => ({
  type: 'lamp',
  name: 'L1',
  pose: facing([0, 0, 0], 90, 0),
  ...lamp,
});
/** Class levels are candela over 9: what the lamp would give at 3 m without its size. Read from afar for that. */
const FAR_M = 300;
const at3m = (lamp: Lamp): number => (reading(lamp, { at: [FAR_M, 0, 0], normal: [-1, 0, 0] }) * FAR_M ** 2) / 9;

describe('typical classes', () => {
  test('every class has a range and every range a class; ids and names are told apart', () => {
    expect(KIT_CLASSES.map(({ id }) => id).sort()).toEqual(Object.keys(ranges).sort());
    expect(new Set(KIT_CLASSES.map(({ entry }) => entry.name)).size).toBe(KIT_CLASSES.length);
  });

  test.each(KIT_CLASSES.map((one) => [one.id, one] as const))('%s', (id, { entry }) => {
    expect(kitEntrySchema.safeParse(entry).success).toBe(true);
    expect(kitEntryProblems(entry, [])).toEqual([]);
    expect(entry).toMatchObject({ typical: true, lamp: { basis: 'typical' } });
    expect(entry.name).toContain('(typical)');
    const [low, high] = ranges[id]!;
    const lux = at3m(standing(lightFromEntry(entry)));
    expect(lux).toBeGreaterThanOrEqual(low);
    expect(lux).toBeLessThanOrEqual(high);
  });
});

describe('own lamps', () => {
  const lamp: Lamp = {
    ...standing(lightFromEntry(KIT_CLASSES[0]!.entry)),
    output: { kind: 'readings', readings: [{ distanceM: 2, illuminanceLx: 60 }] },
    basis: 'metered',
    power: { mainsW: 12, circuitId: 'k1' },
  };
  test('from a lamp that stands: its light and its readings, not its place or its socket', () => {
    const entry = entryFromLamp(lamp, 'Our pocket light');
    expect(kitEntrySchema.parse(entry)).toEqual(entry);
    expect(entry).toMatchObject({
      name: 'Our pocket light',
      count: 1,
      lamp: { basis: 'metered', output: lamp.output },
    });
    expect(entry.typical).toBeUndefined();
    expect(entry.lamp?.power).toEqual({ mainsW: 12 });
    expect(entryFromLamp({ ...lamp, basis: 'typical' }, 'x').typical).toBe(true);
  });

  test('from a data sheet: a level at a distance and the beam angle', () => {
    const entry = entryFromSheet({
      name: 'Sheet spot',
      illuminanceLx: 4500,
      distanceM: 5,
      beamAngleDeg: 24,
      lensDiameterM: 0.2,
    });
    expect(kitEntrySchema.parse(entry)).toEqual(entry);
    // By hand: 4500 * 25 = 112 500 cd, 12 500 lx at 3 m.
    const lux = at3m(standing(lightFromEntry({ ...entry, lamp: entry.lamp! })));
    expect(Math.abs(lux / 12_500 - 1)).toBeLessThan(1e-4);
  });

  test('from meter readings: the lamp has the output and the origin that are fitted to them', () => {
    const { distancesM, setups } = hall.scene;
    const typed = setups['focused-beam'].readingsTyped;
    const entry = entryFromReadings({
      name: 'Metered lantern',
      readings: distancesM.map((distanceM, i) => ({ distanceM, illuminanceLx: typed[i]! })),
      beamAngleDeg: 20,
      lensDiameterM: 0.02,
    });
    expect(kitEntrySchema.parse(entry)).toEqual(entry);
    expect(kitEntryProblems(entry, [])).toEqual([]);
    const lamp = standing(lightFromEntry({ ...entry, lamp: entry.lamp! }));
    // The reference's fit, 89 809 cd and 0.3481 m behind the lens, read at 4 m.
    const lux = reading(lamp, { at: [4, 0, 0], normal: [-1, 0, 0] });
    expect(Math.abs(lux / (89_809 / 4.3481 ** 2) - 1)).toBeLessThan(1e-4);
  });
});

test.each([
  ['', true],
  ['600', true],
  ['led point', true],
  ['POINT-led', true],
  ['tungsten', false],
])('a search for "%s"', (search, found) => expect(nameMatches('Point LED, 600 W, bare (typical)', search)).toBe(found));

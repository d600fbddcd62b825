import { describe, expect, it } from 'vitest';
import type { GridResult } from '../../src/sim/results';
import { heatBytes, heatScale, heatValues, mapColour, placeOnScale, sideOfScale } from '../../src/render/heatMap';
import { legendOf } from '../../src/render/legend';
import { room } from './scene';

const lux = { length: 'metres', illuminance: 'lux' } as const;
const footcandles = { length: 'feet', illuminance: 'footcandles' } as const;
const grid = (levels: number[], mask?: number[]): GridResult => ({
  surfaceId: 'north',
  columns: levels.length,
  rows: 1,
  leftM: 0,
  bottomM: 0,
  widthM: levels.length,
  heightM: 1,
  mask: Uint8Array.from(mask ?? levels.map(() => 1)),
  layers: [],
  illuminanceLx: Float32Array.from(levels),
});
const field = (levels: number[], sun?: number[], mask?: number[]) => ({
  result: grid(levels, mask),
  ...(sun ? { sunIlluminanceLx: Float32Array.from(sun) } : {}),
  outOfDate: false,
  rough: false,
  revision: 1,
});
const luminance = ([r, g, b]: readonly number[]): number => 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;

describe('heat map', () => {
  it('ranges in half-decades around the content', () => {
    const scale = heatScale(heatValues(field([0, 40, 200, 861]), 'illuminance', 100, lux));
    expect(scale.map).toBe('tide');
    expect(scale.minimum).toBeCloseTo(31.62, 1);
    expect(scale.maximum).toBeCloseTo(1000, 6);
  });
  it('keeps at least a decade, and does not let a deep shadow eat the map', () => {
    const even = heatScale(heatValues(field([171, 231]), 'illuminance', 100, lux));
    expect(even.maximum / even.minimum).toBeCloseTo(10, 6);
    const shadow = heatScale(heatValues(field([0.001, 900]), 'illuminance', 100, lux));
    expect(shadow.maximum / shadow.minimum).toBeLessThanOrEqual(1000);
  });
  it('counts in footcandles when asked', () => {
    // 10.7639 lx a footcandle: 1 lm/ft², the foot being 0.3048 m (international foot, 1959).
    const heat = heatValues(field([1076.39]), 'illuminance', 100, footcandles);
    expect(heat.values[0]).toBeCloseTo(100, 2);
  });
  it('draws brighter light brighter, all the way', () => {
    for (const map of ['tide', 'balance'] as const) {
      let last = -1;
      for (let place = 0; place <= 1; place += 0.05) {
        const now = luminance(mapColour(map, place));
        expect(now).toBeGreaterThan(last);
        last = now;
      }
    }
  });
  it('puts the reference of stops off in the neutral middle', () => {
    const heat = heatValues(field([50, 100, 200]), 'stopsOff', 100, lux);
    const scale = heatScale(heat);
    expect([...heat.values]).toEqual([-1, 0, 1]);
    expect(placeOnScale(scale, heat.values[1]!)).toBe(0.5);
    const [r, g, b] = mapColour('balance', 0.5);
    // The stop in the middle of the map is #878683; the table has no step exactly there.
    for (const [have, want] of [
      [r, 0x87],
      [g, 0x86],
      [b, 0x83],
    ] as const) {
      expect(Math.abs(have - want)).toBeLessThanOrEqual(2);
    }
  });
  it('tells over from under', () => {
    const scale = heatScale(heatValues(field([1]), 'stopsOff', 100, lux));
    expect(sideOfScale(scale, 4.2)).toBe(1);
    expect(sideOfScale(scale, -Infinity)).toBe(-1);
    expect(sideOfScale(scale, 4)).toBe(0);
    const legend = legendOf(heatValues(field([0, 100]), 'stopsOff', 100, lux), scale, 100, room.camera, lux);
    expect(legend.under).toBe('under \u22124');
    expect(legend.over).toBeNull();
  });
  it('compares lamp and sun with the sun taken down to agree in the middle', () => {
    const heat = heatValues(
      field([800, 400, 200, 0, 300], [20_000, 20_000, 20_000, 20_000, 0]),
      'lampOverSun',
      100,
      lux,
    );
    expect(heat.levelledStops).toBeCloseTo(Math.log2(20_000 / 400), 5);
    expect(heat.values[0]).toBeCloseTo(1, 5);
    expect(heat.values[2]).toBeCloseTo(-1, 5);
    expect(heat.values[3]).toBe(-Infinity);
    expect(heat.values[4]).toBe(Infinity);
  });
  it('leaves what is off the surface clear', () => {
    const heat = heatValues(field([100, 100], undefined, [1, 0]), 'illuminance', 100, lux);
    const bytes = heatBytes(heat.values, heatScale(heat), Uint8Array.from([1, 0]));
    expect(bytes[3]).toBe(255);
    expect([...bytes.slice(4)]).toEqual([0, 0, 0, 0]);
  });
  it('labels the legend in half-decades and marks the camera level by its stop', () => {
    const heat = heatValues(field([12, 900]), 'illuminance', 117.6, lux);
    const legend = legendOf(heat, heatScale(heat), 117.6, room.camera, lux);
    expect(legend.title).toBe('lx');
    expect(legend.ticks.map((tick) => tick.label)).toEqual(['32', '100', '320', '1000'].slice(-legend.ticks.length));
    // ISO 2720 incident law, C 250: 250 x 2.8² x 48 / 800 = 117.6 lx.
    expect(legend.wedge?.label).toBe('T2.8');
    const third = legendOf(heat, heatScale(heat), 200, room.camera, lux);
    expect(third.wedge?.label).toBe('200\u2009lx');
  });
});

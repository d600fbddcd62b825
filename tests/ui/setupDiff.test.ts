import { describe, expect, it } from 'vitest';
import type { Change } from '../../src/scene/setupDiff';
import { METRIC } from '../../src/ui/words/format';
import { changeWords, thingLines } from '../../src/ui/words/setupDiff';

/** With plain spaces, as they are read. */
const said = (change: Change): string => changeWords(change, METRIC).replace(/\s/g, ' ');

describe('differences in words', () => {
  it('of place and aim', () => {
    expect(said({ what: 'moved', byM: [0.4, 0, -0.25] })).toBe('moved 0.40 m to +x, 0.25 m down');
    expect(said({ what: 'turned', panDeg: -5, tiltDeg: 3, rollDeg: 0 })).toBe('turned 5.0° anticlockwise and 3.0° up');
    expect(said({ what: 'sunMoved', altitudeDeg: -6, azimuthDeg: 20 })).toBe('stands 6.0° lower and 20.0° clockwise');
  });
  it('of level: half the light is a stop down', () => {
    expect(said({ what: 'level', from: 1, to: 0.5 })).toBe('level 100 % to 50 %, −1 stop');
    expect(said({ what: 'level', from: 0.25, to: 1 })).toBe('level 25 % to 100 %, +2 stops');
    expect(said({ what: 'level', from: 1, to: 0 })).toBe('dimmed out');
    expect(said({ what: 'level', from: 0, to: 0.3 })).toBe('level 0 % to 30 %');
    expect(said({ what: 'switched', isOn: false })).toBe('switched off');
  });
  it('of colour: 10^6 / 5600 - 10^6 / 3200 is -134 mired', () => {
    expect(said({ what: 'colour', from: { cctK: 3200 }, to: { cctK: 5600 } })).toBe(
      'colour 3200 K to 5600 K, −134 mired',
    );
    expect(said({ what: 'colour', from: { cctK: 3200 }, to: { cctK: 3200, duv: 0.004 } })).toBe(
      'colour 3200 K to 3200 K, Duv 0 to 0.004',
    );
    expect(said({ what: 'colour', from: undefined, to: { x: 0.3127, y: 0.329 } })).toBe(
      'colour no colour given to x 0.313, y 0.329',
    );
  });
  it('of what is on the lamp and of grip', () => {
    const half = { kind: 'wireScrim', stops: 1, half: { clockDeg: 90 } } as const;
    expect(said({ what: 'putOn', accessory: half })).toBe('half double scrim put on');
    expect(said({ what: 'takenOff', accessory: { kind: 'barnDoors', leaves: [] } })).toBe('barn doors taken off');
    expect(said({ what: 'reset', from: half, to: { kind: 'wireScrim', stops: 0.5 } })).toBe(
      'half double scrim changed for single scrim',
    );
    expect(said({ what: 'reset', from: half, to: { ...half, half: { clockDeg: 0 } } })).toBe(
      'half double scrim set otherwise',
    );
    expect(said({ what: 'material', from: { kind: 'net', stops: 0.5 }, to: { kind: 'net', stops: 1 } })).toBe(
      'single net changed for double net',
    );
  });
  it('of the rest, so that nothing is passed over', () => {
    expect(said({ what: 'other', parts: ['distribution', 'notes'] })).toBe('other beam and notes');
  });
  it('of a thing that is in one setup alone', () => {
    const thing = { kind: 'source', name: 'L2', changes: [] } as const;
    expect(thingLines({ ...thing, idBefore: null, idAfter: 'l2' }, METRIC)).toEqual(['put in']);
    expect(thingLines({ ...thing, idBefore: 'l2', idAfter: null }, METRIC)).toEqual(['taken out']);
  });
});

import { describe, expect, it } from 'vitest';
import type { SceneDocument, Surface } from '../../src/scene/schema';
import { newLamp, newNet } from '../../src/ui/newThings';
import { createSessionStore, notify } from '../../src/ui/stores/session';
import { tinyScene } from './tinyScene';

const southWall = (yM: number): Surface => ({
  name: 'south wall',
  kind: 'wall',
  pose: { positionM: [7, yM, 0], aim: { panDeg: 0, tiltDeg: 0 } },
  shape: { kind: 'rectangle', widthM: 7, heightM: 3 },
});
/** The room with a wall across from its north wall, which stands at y 5 and looks south. */
const withSouth = (yM: number): SceneDocument => {
  const scene = tinyScene();
  return { ...scene, surfaces: { ...scene.surfaces, south: southWall(yM) } };
};

describe('a new lamp', () => {
  it('stands 4 m before the shown wall where nothing is in the way', () => {
    expect(newLamp(tinyScene(), 'a', 'north-wall').pose.positionM[1]).toBeCloseTo(1, 9);
  });
  it('keeps 0.6 m to a wall behind it', () => {
    expect(newLamp(withSouth(1), 'a', 'north-wall').pose.positionM[1]).toBeCloseTo(1.6, 9);
    expect(newLamp(withSouth(0.2), 'a', 'north-wall').pose.positionM[1]).toBeCloseTo(1, 9);
  });
  it('stands half way in a passage', () => {
    expect(newLamp(withSouth(4), 'a', 'north-wall').pose.positionM[1]).toBeCloseTo(4.5, 9);
    expect(newNet(withSouth(4), 'a', 'north-wall').pose.positionM[1]).toBeCloseTo(4.5, 9);
  });
});

describe('notices', () => {
  it('that say what is done make way for the next; cautions and faults stay', () => {
    const session = createSessionStore({ setupId: 'a', theme: 'dark' });
    const words = (): string[] => session.getState().notices.flatMap(({ lines }) => lines);
    notify(session, { kind: 'done', lines: ['New scene made'] });
    notify(session, { kind: 'caution', lines: ['L1 is locked'] });
    notify(session, { kind: 'fault', lines: ['line 3'] });
    notify(session, { kind: 'done', lines: ['Room drawn'] });
    expect(words()).toEqual(['L1 is locked', 'line 3', 'Room drawn']);
    notify(session, { kind: 'caution', lines: ['L1 is locked'] });
    expect(words()).toEqual(['line 3', 'Room drawn', 'L1 is locked']);
  });
});

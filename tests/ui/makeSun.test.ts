/** The form that looks for a lamp's place: what it asks, by the story's hour, and what an answer does to the scene. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { applyCommand } from '../../src/scene/commands';
import { loadScene } from '../../src/scene/load';
import type { SceneDocument } from '../../src/scene/schema';
import { findPlace } from '../../src/sim/place/findPlace';
import {
  firstWanted,
  lampsOf,
  placementCommand,
  requestOf,
  sharedChanges,
  sunAtHour,
  windowsOf,
} from '../../src/ui/makeSun/sunWanted';

const DEMO = 'scenes-demo/customs-office-shaft.json';
function demo(): SceneDocument {
  const loaded = loadScene(readFileSync(DEMO, 'utf8'), DEMO);
  if (!loaded.ok) throw new Error('the demo scene does not load');
  return loaded.document;
}
const scene = demo();

test('opens with the story’s sun, camera and target, the shown wall, every lamp of the kit', () => {
  const wanted = firstWanted(scene, null);
  expect(wanted).toMatchObject({
    surfaceId: 'plaster-wall',
    openingId: 'west-wall/window',
    clock: '16:30',
    altitudeDeg: 10.9674,
    iso: 800,
    tStop: 2.8,
    nets: true,
  });
  expect(wanted.kitIds).toEqual(lampsOf(scene).map(({ value }) => value));
  expect(windowsOf(scene)).toEqual([{ value: 'west-wall/window', name: 'West wall, window' }]);
});

describe('hours', () => {
  test('an hour earlier the sun stands higher; without a place it is not known', () => {
    expect(sunAtHour(scene.story, '15:30')!.altitudeDeg).toBeGreaterThan(sunAtHour(scene.story, '16:30')!.altitudeDeg);
    expect(sunAtHour({ ...scene.story, place: undefined }, '16:30')).toBeNull();
    expect(firstWanted({ ...scene, story: {} }, null).clock).toBeNull();
  });
});

describe('the request', () => {
  test('keeps the scene’s own key as long as the camera is the scene’s', () => {
    const wanted = firstWanted(scene, null);
    expect(requestOf(scene, 'bare', wanted).camera).toBeUndefined();
    expect(requestOf(scene, 'bare', { ...wanted, tStop: 4 }).camera).toEqual({ iso: 800, tStop: 4 });
    expect(sharedChanges(scene, requestOf(scene, 'bare', wanted))).toEqual([]);
    const other = requestOf(scene, 'bare', { ...wanted, tStop: 4, altitudeDeg: 15 });
    expect(sharedChanges(scene, other)).toEqual(['the story’s sun', 'the camera']);
  });
});

test('an answer becomes a setup that plays the sun, in one step, and a good scene', () => {
  const wanted = { ...firstWanted(scene, null), tStop: 4, nets: false, kitIds: ['point-head-19'], farthestM: 4 };
  const request = requestOf(scene, 'bare', wanted);
  const { placement } = findPlace(request);
  const made = { id: 'a-sun', name: 'A sun', notes: '', index: 1 };
  const result = applyCommand(scene, placementCommand(scene, request, placement!, made));
  if (!result.ok) throw new Error(result.fault);
  const applied = result.document;
  expect(applied.setups[1]).toMatchObject({ id: 'a-sun', name: 'A sun' });
  expect(applied.story!.playsSun).toContainEqual({ sourceId: placement!.lampId, surfaceId: 'plaster-wall' });
  expect(applied.camera).toMatchObject({ iso: 800, tStop: 4 });
  expect(applied.story!.sun).toEqual(scene.story!.sun);
  expect(loadScene(JSON.stringify(applied), 'applied')).toMatchObject({ ok: true });
});

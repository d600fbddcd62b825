import { describe, expect, it } from 'vitest';
import type { Hit } from '../../src/render/contract';
import { pickTarget, RANK, type HitTarget } from '../../src/render/hitTest';

const hit = (kind: Hit['object']['kind'], id: string, handle: Hit['handle'] = 'body'): Hit => ({
  object: { kind, id },
  handle,
});
const point = (target: Hit, rank: number, x: number, y: number, radiusPx = 5): HitTarget => ({
  hit: target,
  rank,
  shape: { kind: 'point', x, y, radiusPx },
});

describe('what lies under a pointer', () => {
  const lamp = point(hit('source', 'l1'), RANK.source, 100, 100, 13);
  const meter = point(hit('meter', 'm1'), RANK.meter, 112, 100);
  const wall: HitTarget = {
    hit: hit('surface', 'north'),
    rank: RANK.surface,
    shape: { kind: 'area', rings: [[0, 90, 300, 90, 300, 110, 0, 110]] },
  };

  it('reaches 10 px with a mouse and 24 px with a finger (a target of 44 px and more)', () => {
    const lone = [point(hit('meter', 'm1'), RANK.meter, 50, 50)];
    expect(pickTarget(lone, 60, 50, false)).not.toBeNull();
    expect(pickTarget(lone, 61, 50, false)).toBeNull();
    expect(pickTarget(lone, 73, 50, true)).not.toBeNull();
    expect(pickTarget(lone, 75, 50, true)).toBeNull();
  });
  it('takes the whole of a large symbol', () => {
    expect(pickTarget([lamp], 112, 100, false)?.object.id).toBe('l1');
  });
  it('prefers handles, then lamps, meters, grip, openings, surfaces, whatever is drawn last', () => {
    const handle = point(hit('source', 'l1', 'turn'), RANK.handle, 108, 100);
    expect(pickTarget([wall, meter, lamp, handle], 108, 100, false)?.handle).toBe('turn');
    expect(pickTarget([handle, lamp, meter, wall], 108, 100, false)?.handle).toBe('turn');
    expect(pickTarget([wall, meter, lamp], 110, 100, false)?.object.id).toBe('l1');
    expect(pickTarget([wall, meter], 110, 100, false)?.object.id).toBe('m1');
    expect(pickTarget([wall, meter], 200, 100, false)?.object.id).toBe('north');
  });
  it('takes the nearer of two equals', () => {
    const pair = [point(hit('meter', 'a'), RANK.meter, 50, 50), point(hit('meter', 'b'), RANK.meter, 60, 50)];
    expect(pickTarget(pair, 56, 50, false)?.object.id).toBe('b');
  });
});

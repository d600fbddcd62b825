/** The verdict's sentence with the cheapest mend: the two worked sentences of scene N, and which mend is the cheapest. */
import { describe, expect, test, vi } from 'vitest';
import type { Lamp, Modifier } from '../../../src/scene/schema';
import { findMends } from '../../../src/sim/mends/findMends';
import type { Mend } from '../../../src/sim/mends/mend';
import { cheapestMend, sentenceWithMend } from '../../../src/sim/mends/sentenceWithMend';
import { judgeLamp } from '../../../src/sim/mends/situation';
import type { SunCheck } from '../../../src/sim/results';
import { netsOfN, sceneN } from '../../validation/judgementScenes';
import { SETUP } from '../../validation/scenes';
import { LAMP_ID, netEntry, playing } from './scenes';

// Searches of a hundred simulations: slow on a busy machine, and how long is the bench's business.
vi.setConfig({ testTimeout: 600_000 });

/** Scene N as it is told: 45 lx in the room, key 260 lx, wall 0.55, lamp 4500 K and Duv +0.0010; a kit of singles. */
function told(nets: Record<string, Modifier>): { check: SunCheck; mends: Mend[] } {
  const parts = sceneN(nets);
  const source: Lamp = { ...(parts.source as Lamp), colour: { cctK: 4500, duv: 0.001 } };
  const document = playing(
    { ...parts, source, wall: { ...parts.wall, reflectance: 0.55 } },
    {
      story: { sun: { altitudeDeg: 16.5, azimuthDeg: 156.8 }, keyLx: 260, ambienceLx: 45 },
      kit: { singles: netEntry(0.5, 4) },
    },
  );
  const [check] = judgeLamp(document, document.setups[0]!, LAMP_ID, 'full');
  return { check: check!, mends: findMends(document, SETUP) };
}

describe('the worked sentences', () => {
  test('before: 1.1 stops, 7.9 m; two singles leave 0.2 and cost half a stop', () => {
    const { check, mends } = told({});
    expect(check.verdict).toBe('givesAway');
    const sentence = sentenceWithMend(check, mends);
    expect(sentence).toContain('1.1 stops hotter than the other end: it falls off like a source 7.9 m away.');
    expect(sentence).toMatch(
      /Two singles, \d\.\d m in front of the lens, free edges \d+ cm apart: leaves 0\.2 stop, costs 0\.5 stop\.$/,
    );
    // The order to the crew says more: from which side, and where the first edge stands.
    expect(cheapestMend(check, mends)!.sentence).toMatch(/^Two singles in from the window end, .*the first \d+ cm /);
  });
  test('after: the lines fan; only distance mends that, 15 m from the window, edges 1.3 times the sun’s', () => {
    const { check, mends } = told(netsOfN());
    expect(check.verdict).toBe('passable');
    expect(check.lineFanDeg!).toBeCloseTo(9.7, 1);
    expect(sentenceWithMend(check, mends)).toBe(
      `${check.sentence} Only distance mends that: 15 m from the window brings 4°, and brings the edges to 1.3 times the sun’s.`,
    );
    // By hand, small angles: 9.7° at the 6.2 m that the lamp stands from its window now, 4° at 6.2 x 9.7 / 4.
    const need = mends.find(({ needs }) => needs !== null)!.needs!;
    expect(Math.abs(need.distanceM / ((6.2 * 9.7) / 4) - 1)).toBeLessThan(0.02);
  });
});

describe('which mend is said', () => {
  const check = { sourceId: 'a', verdict: 'givesAway', worst: 'fallOff', sentence: 'Too hot.' } as SunCheck;
  const mend = (parts: Partial<Mend>): Mend => ({
    id: 'x',
    kind: 'swing',
    sourceId: 'a',
    sentence: 'Do it.',
    brief: 'Do it',
    remark: '',
    before: { falloffStops: 2, stepStopsPer10cm: 0, lineFanDeg: null, edgeRatio: null },
    pieces: 0,
    falloffStops: 0.2,
    stepStopsPer10cm: 0,
    lineFanDeg: null,
    edgeRatio: null,
    costStops: 0.5,
    scoreBefore: 2.7,
    scoreAfter: 1.5,
    possible: true,
    why: '',
    minutes: 10,
    hands: 1,
    setup: null,
    needs: null,
    predictedFalloffStops: 0.2,
    ...parts,
  });
  const said = (mends: Mend[]): string => sentenceWithMend(check, mends);

  test('of mends as good within a tie the one with the least work, then the least light', () => {
    const heavy = mend({ brief: 'Heavy', hands: 2, scoreAfter: 1.48 });
    const light = mend({ brief: 'Light' });
    const dim = mend({ brief: 'Dim', costStops: 1 });
    const poor = mend({ brief: 'Poor', hands: 0.1, scoreAfter: 1.9 });
    expect(said([heavy, dim, poor, light])).toBe('Too hot. Light: leaves 0.2 stop, costs 0.5 stop.');
    expect(cheapestMend(check, [poor])!.brief).toBe('Poor');
  });
  test('another lamp’s, impossible and idle mends are not said', () => {
    const others = [mend({ sourceId: 'b' })];
    expect(said(others)).toBe('Too hot.');
    const none = [mend({ possible: false }), mend({ scoreAfter: 2.65 })];
    expect(said(none)).toBe('Too hot. Nothing in the kit and the space mends it.');
  });
  test('nothing is added where nobody looked for mends, or where it reads', () => {
    expect(said([])).toBe('Too hot.');
    expect(sentenceWithMend({ ...check, verdict: 'reads' }, [mend({})])).toBe('Too hot.');
  });
});

/** A finger that rests on a drawing, by a clock that the test turns: what a busy page tells late still counts. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { RestingFinger } from '../../src/ui/sheets/restingFinger';

const FRAME_MS = 16;
let told = 0;
const finger = new RestingFinger();

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('requestAnimationFrame', (call: () => void) => setTimeout(call, FRAME_MS));
  vi.stubGlobal('cancelAnimationFrame', (frame: number) => clearTimeout(frame));
  told = 0;
  finger.begin(() => (told += 1));
});
afterEach(() => {
  finger.end();
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

test('one that stays where it came down has rested, once', () => {
  vi.advanceTimersByTime(400);
  expect(told).toBe(0);
  vi.advanceTimersByTime(400);
  expect(told).toBe(1);
});

test('one that moved before its time was up has not', () => {
  vi.advanceTimersByTime(500);
  finger.end();
  vi.advanceTimersByTime(2000);
  expect(told).toBe(0);
});

test('one whose move is told only with the frame after its time was up has not', () => {
  setTimeout(() => finger.end(), 550 + FRAME_MS);
  vi.advanceTimersByTime(2000);
  expect(told).toBe(0);
});

test('one that comes down again starts anew', () => {
  vi.advanceTimersByTime(500);
  finger.begin(() => (told += 10));
  vi.advanceTimersByTime(500);
  expect(told).toBe(0);
  vi.advanceTimersByTime(200);
  expect(told).toBe(10);
});

import { describe, expect, test } from 'vitest';
import { deviceName, latest, tick, uuid7 } from './stamps';

const now = Date.parse('2026-03-03T08:10:00.123Z');

test('an id is a UUID of version 7 that starts with its time', () => {
  const bytes = Uint8Array.from([255, 255, 255, 255, 255, 255, 255, 255, 255, 255]);
  const id = uuid7(now, bytes);
  expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  expect(parseInt(id.replaceAll('-', '').slice(0, 12), 16)).toBe(now);
  expect(bytes[0]).toBe(255); // what was handed in is left alone
});

test('a device name fits into a clock', () => {
  expect(deviceName(Uint8Array.from([1, 2, 3, 4, 255]))).toBe('phone-01020304ff');
});

describe('the clock', () => {
  test('is the time when the time has passed on', () => {
    expect(tick('', now, 'a')).toEqual({ at: '2026-03-03T08:10:00.123Z', clock: '2026-03-03T08:10:00.123Z-0000-a' });
    expect(tick('2026-03-03T08:10:00.122Z-00ff-b', now, 'a').clock).toBe('2026-03-03T08:10:00.123Z-0000-a');
  });
  test('counts within a millisecond, and when the device is behind what it has seen', () => {
    expect(tick('2026-03-03T08:10:00.123Z-0009-b', now, 'a').clock).toBe('2026-03-03T08:10:00.123Z-000a-a');
    expect(tick('2026-03-04T00:00:00.000Z-0000-b', now, 'a')).toEqual({
      at: '2026-03-03T08:10:00.123Z',
      clock: '2026-03-04T00:00:00.000Z-0001-a',
    });
  });
  test('goes to the next millisecond when the counter is full', () => {
    expect(tick('2026-03-03T08:10:00.999Z-ffff-b', now, 'a').clock).toBe('2026-03-03T08:10:01.000Z-0000-a');
  });
  test('never goes back, in a thousand steps of a clock that jumps', () => {
    let last = '';
    for (let i = 0; i < 1000; ++i) {
      const { at, clock } = tick(last, now + ((i * 7919) % 13) - 6, 'a');
      expect(clock > last).toBe(true);
      expect(clock.slice(0, 24) >= at).toBe(true);
      last = latest(last, clock);
    }
  });
});

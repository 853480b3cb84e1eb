import { expect, test } from 'vitest';
import { calendarFile } from './calendar';

const at = new Date('2026-03-03T12:10:00.500Z');
const now = new Date('2026-03-03T12:00:00Z');

test('an event that rings when the wait is over', () => {
  const lines = calendarFile(at, 'Joints, still dry?', 'a@drawoff', now).split('\r\n');
  expect(lines).toContain('DTSTART:20260303T121000Z');
  expect(lines).toContain('DTSTAMP:20260303T120000Z');
  expect(lines).toContain('SUMMARY:Joints\\, still dry?');
  expect(lines).toContain('TRIGGER:PT0S');
  expect(lines.at(-1)).toBe('');
});
test('no line is longer than 75 octets, and none breaks a character', () => {
  const long = 'फिल्टर धोना; '.repeat(20);
  const text = calendarFile(at, long, 'a@drawoff', now);
  const lines = text.split('\r\n');
  for (const line of lines) expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
  const whole = text.replaceAll('\r\n ', '');
  expect(whole).toContain(`SUMMARY:${long.replaceAll(';', '\\;')}`);
});

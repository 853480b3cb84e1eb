// The stamps of entries, as docs/formats/site-file.md defines them: ids, the hybrid logical clock,
// the device's name. Pure: time and randomness are handed in.

/** Milliseconds since 1970, as Date.now gives them. */
export type Milliseconds = number;

const hex = (bytes: Uint8Array) => [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');

/** A UUID of version 7 [rfc9562]: its first 48 bits are the time. `random` holds 10 bytes. */
export function uuid7(now: Milliseconds, random: Uint8Array): string {
  const tail = Uint8Array.from(random.subarray(0, 10));
  tail[0] = 0x70 | (tail[0]! & 0x0f); // version
  tail[2] = 0x80 | (tail[2]! & 0x3f); // variant
  const all = now.toString(16).padStart(12, '0') + hex(tail);
  return [all.slice(0, 8), all.slice(8, 12), all.slice(12, 16), all.slice(16, 20), all.slice(20)].join('-');
}

/** A name for this device: it stands in every clock, so it is short, and free of accents. */
export function deviceName(random: Uint8Array): string {
  return `phone-${hex(random.subarray(0, 5))}`;
}

export interface Stamp {
  at: string; // what this device's clock says
  clock: string; // where the entry stands among all others
}

const timeLength = '2025-03-09T08:15:00.000Z'.length;
const mostInAMillisecond = 0xffff;

/** The stamp after `last`, the latest clock that this device has seen ('' when none). */
export function tick(last: string, now: Milliseconds, device: string): Stamp {
  const at = new Date(now).toISOString();
  if (last.slice(0, timeLength) < at) return { at, clock: `${at}-0000-${device}` };
  const time = last.slice(0, timeLength);
  const counter = parseInt(last.slice(timeLength + 1, timeLength + 5), 16) + 1;
  if (counter <= mostInAMillisecond) {
    return { at, clock: `${time}-${counter.toString(16).padStart(4, '0')}-${device}` };
  }
  const later = new Date(Date.parse(time) + 1).toISOString();
  return { at, clock: `${later}-0000-${device}` };
}

/** The later of two clocks; they sort as text. */
export const latest = (a: string, b: string): string => (a > b ? a : b);

import { describe, expect, test } from 'vitest';
import { clockFace, Steady, type Sight } from './steady';

const noon = Date.parse('2026-03-03T12:00:00Z');
const minute = 60_000;

/** A phone: its wall clock can be set, its ticks stand still while it sleeps. */
class Phone {
  wall = noon;
  ticks = 1000;
  steady = new Steady(this.sight);
  get sight(): Sight {
    return { wall: this.wall, ticks: this.ticks };
  }
  pass(time: number, awake = true) {
    this.wall += time;
    if (awake) this.ticks += time;
  }
  /** In front for so long, looked at every second. */
  watch(time: number) {
    for (let t = 0; t < time; t += 1000) {
      this.pass(1000);
      this.steady.look(this.sight, true);
    }
  }
}

describe('steady time', () => {
  test('is the clock while nothing happens', () => {
    const phone = new Phone();
    phone.watch(10 * minute);
    expect(phone.steady.now).toBe(noon + 10 * minute);
    expect(phone.steady.slept).toBe(0);
  });
  test.each([-3 * 60 * minute, -minute, minute, 26 * 60 * minute])('goes on though the clock is set by %d while it is watched', (by) => {
    const phone = new Phone();
    phone.watch(2 * minute);
    phone.wall += by;
    phone.watch(3 * minute);
    expect(Math.abs(phone.steady.now - (noon + 5 * minute))).toBeLessThan(1);
    phone.wall -= by;
    phone.watch(minute);
    expect(Math.abs(phone.steady.now - (noon + 6 * minute))).toBeLessThan(1);
  });
  test('counts on in a tab behind others, and notices there that the clock was set back', () => {
    const phone = new Phone();
    phone.watch(minute);
    phone.pass(7 * minute);
    expect(phone.steady.look(phone.sight, false)).toBe(noon + 8 * minute);
    phone.pass(2 * minute);
    phone.wall -= 30 * minute;
    expect(phone.steady.look(phone.sight, false)).toBe(noon + 10 * minute);
  });
  test('counts the sleep of the phone by its clock, and says so', () => {
    const phone = new Phone();
    phone.watch(minute);
    phone.pass(9 * minute, false);
    expect(phone.steady.look(phone.sight, false)).toBe(noon + 10 * minute);
    expect(phone.steady.slept).toBe(9 * minute);
    // Also when it never said that it went to sleep.
    phone.pass(4 * minute, false);
    phone.pass(6000);
    expect(phone.steady.look(phone.sight, true)).toBe(noon + 14 * minute + 6000);
  });
  test('never goes back over a new opening, and keeps what it had corrected', () => {
    const phone = new Phone();
    phone.watch(minute);
    phone.wall -= 60 * minute;
    phone.watch(minute);
    const kept = phone.steady.kept;
    phone.pass(5 * minute);
    expect(new Steady({ wall: phone.wall, ticks: 0 }, kept).now).toBe(noon + 7 * minute);
    const setBack = new Steady({ wall: phone.wall - 300 * minute, ticks: 0 }, kept);
    expect(setBack.now).toBe(kept.seen);
  });
  test('small differences of the two clocks are no setting', () => {
    const phone = new Phone();
    for (let i = 0; i < 600; ++i) {
      phone.wall += 1000;
      phone.ticks += 1000 + (i % 2 ? 400 : -400);
      phone.steady.look(phone.sight, true);
    }
    expect(phone.steady.now).toBe(noon + 10 * minute);
  });
});

test('a clock face', () => {
  expect([0, 65_000, 599_999, 3_729_000, -5].map(clockFace)).toEqual(['0:00', '1:05', '9:59', '1:02:09', '0:00']);
});

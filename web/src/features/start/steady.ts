// Time that goes on evenly though the phone's clock is set forward or back, for waits that matter.
//
// Two clocks are looked at: the wall clock, which people and networks set, and the ticks since the
// page was opened, which nobody sets but which may stand still while the phone sleeps. While the
// page is watched (in front, looked at every second) the ticks are right. Over a pause the wall
// clock is, unless it went less far than the ticks: then it was set back. A clock that was set
// forward during a pause cannot be told from sleep; `slept` says how much was taken on trust.

import type { Milliseconds } from '../../data/stamps';

export interface Sight {
  wall: Milliseconds; // Date.now()
  ticks: Milliseconds; // performance.now()
}
/** What is kept from one opening of the page to the next. */
export interface Kept {
  ahead: Milliseconds; // of the wall clock
  seen: Milliseconds; // steady time of the last look
}

// Closer than this the two clocks are alike: ticks and wall drift, and looks come late.
const alike = 1500;
// A look that comes later than this was not watched: the page was asleep, also without saying so.
const aPause = 5000;

export class Steady {
  #ahead: Milliseconds;
  #last: Sight;
  /** Time that only the wall clock vouches for, since the last time that nothing was. */
  slept: Milliseconds = 0;

  constructor(first: Sight, kept?: Kept) {
    this.#last = first;
    this.#ahead = kept?.ahead ?? 0;
    // Set back while the page was closed: what was seen stays past.
    if (kept) this.#ahead = Math.max(this.#ahead, kept.seen - first.wall);
  }

  /** Looks at both clocks, and tells the steady time. `front`: the page was in front since the last look. */
  look(sight: Sight, front: boolean): Milliseconds {
    const wall = sight.wall - this.#last.wall;
    const ticks = sight.ticks - this.#last.ticks;
    const watched = front && ticks < aPause;
    if (watched ? Math.abs(wall - ticks) > alike : wall < ticks - alike) this.#ahead += ticks - wall;
    else if (!watched && wall > ticks + alike) this.slept += wall - ticks;
    this.#last = sight;
    return this.now;
  }
  get now(): Milliseconds {
    return this.#last.wall + this.#ahead;
  }
  get kept(): Kept {
    return { ahead: this.#ahead, seen: this.now };
  }
  /** The steady time of a moment that was stamped with the wall clock, as that stands now. */
  of(wall: Milliseconds): Milliseconds {
    return wall + this.#ahead;
  }
}

/** "7:05", "1:02:09". */
export function clockFace(time: Milliseconds): string {
  const seconds = Math.max(0, Math.floor(time / 1000));
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const two = (n: number) => String(n).padStart(2, '0');
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

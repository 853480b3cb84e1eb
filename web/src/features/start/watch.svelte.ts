// The steady time of this phone, looked at every second while anything counts by it.
import { book } from '../../session.svelte';
import { Steady, type Kept, type Sight } from './steady';

const sight = (): Sight => ({ wall: Date.now(), ticks: performance.now() });
const keepEvery = 15_000; // [ms]

class Watch {
  now = $state(0); // steady time
  slept = $state(0);
  ready = $state(false);
  #steady: Steady | undefined;
  #users = 0;
  #front = document.visibilityState === 'visible'; // since the last look
  #keptAt = 0;
  #ahead = 0;
  #timer = 0;

  /** Counts as long as `stop`, which is returned, was not called. */
  start(): () => void {
    if (this.#users++ === 0) {
      this.#timer = window.setInterval(this.#look, 1000);
      document.addEventListener('visibilitychange', this.#turn);
      void this.#open();
    }
    return () => {
      if (--this.#users > 0) return;
      clearInterval(this.#timer);
      document.removeEventListener('visibilitychange', this.#turn);
      this.#keep();
      this.#front = false; // nobody looks until the next start
    };
  }
  /** The steady time of this very moment, once it is ready. */
  read(): number {
    this.#look();
    return this.now;
  }
  /** The steady time of a moment that was stamped with the wall clock. */
  of = (utc: string): number => this.#steady?.of(Date.parse(utc)) ?? Date.parse(utc);

  async #open() {
    this.#steady ??= new Steady(sight(), await book.setting<Kept | undefined>('steady', undefined));
    this.#look();
    this.ready = true;
  }
  #look = () => {
    if (!this.#steady) return;
    this.now = this.#steady.look(sight(), this.#front);
    this.slept = this.#steady.slept;
    this.#front = document.visibilityState === 'visible';
    const { ahead } = this.#steady.kept;
    if (ahead !== this.#ahead || Math.abs(this.now - this.#keptAt) > keepEvery) this.#keep();
  };
  #turn = () => {
    this.#front = false;
    this.#look();
    this.#keep();
  };
  #keep() {
    if (!this.#steady) return;
    const kept = this.#steady.kept;
    this.#ahead = kept.ahead;
    this.#keptAt = kept.seen;
    void book.set('steady', kept);
  }
}

export const watch = new Watch();

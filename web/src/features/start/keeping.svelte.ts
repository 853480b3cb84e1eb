// What is kept on a screen that goes on by itself: one thing at a time, until the screen shows it.
import type { Site } from '../site/site.svelte';
import { wakeBell } from './bell';

export class Keeping {
  now = $state(false);

  /** `look` asks the screen anew; the bell is woken, for it may only be under a finger. */
  constructor(
    private readonly site: Site,
    private readonly look: () => Promise<void>,
  ) {}

  keep = async (work: () => Promise<void>) => {
    if (this.now) return;
    wakeBell();
    this.now = true;
    try {
      await work();
      await this.site.settled;
      await this.look();
    } finally {
      this.now = false;
    }
  };
}

// A site as it stands: its file from the book and what the engine makes of it.
import type { NewEntry, SiteFile } from '../../data/site_file';
import type { Photo } from '../../data/book';
import { EngineError } from '../../engine/bridge';
import type { Body, View, WhatIf } from '../../engine/questions';
import { ask, book, newest, settings, t } from '../../session.svelte';
import { notice, tell } from '../../ui/notice.svelte';
import { named } from './named';

const visit_ms = 12 * 3600 * 1000; // a visit is over after that: docs/formats/site-file.md

export class Site {
  file: SiteFile | undefined = $state.raw();
  view: View | undefined = $state.raw();
  /** The sentence with which the engine refused the file. */
  refused = $state('');
  gone = $state(false);
  undoable = $state(false);
  whatIf: WhatIf = $state.raw({});
  /** Size of the words relative to the drawing, 1 to 2: rows of the drawing grow with it. */
  text = $state(1);

  constructor(readonly key: string) {}

  /** Resolves when `view` is of what is kept. */
  settled: Promise<void> = Promise.resolve();
  /** Reads and judges anew; of calls while it is at work only the last counts. */
  refresh = (): Promise<void> => (this.settled = this.#refresh());
  #refresh = newest(async () => {
    this.file = await book.file(this.key);
    this.gone = this.file === undefined;
    this.undoable = (await book.lastStep(this.key)).length > 0;
    if (!this.file) return;
    try {
      this.view = await ask('view', {
        site_file: this.file,
        units: settings.units,
        text: this.text,
        at: new Date().toISOString(),
        ...(this.supposing ? { what_if: this.whatIf } : {}),
      });
      this.refused = '';
      if (!this.supposing) {
        const { name, headline, headline_kind: kind } = this.view;
        await book.summarise(this.key, { name, headline, kind });
      }
    } catch (error) {
      if (!(error instanceof EngineError)) throw error;
      this.refused = error.message;
    }
  });

  /** The site's name as a file's, without what a file system may refuse. */
  get fileName(): string {
    return (this.view?.name ?? '').replace(/[^\p{L}\p{M}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || 'site';
  }

  /** Whether the hand-over was signed on this device: only then its key signs the record. */
  async handedOverHere(): Promise<boolean> {
    const entry = this.file?.entries.find(({ id }) => id === this.view?.handed_over?.entry);
    return entry !== undefined && entry.device === (await book.device());
  }

  async enlarge(text: number) {
    if (text === this.text) return;
    this.text = text;
    await this.refresh();
  }

  get supposing(): boolean {
    return Object.keys(this.whatIf).length > 0;
  }
  async suppose(whatIf: WhatIf) {
    this.whatIf = whatIf;
    await this.refresh();
  }

  /** Keeps entries, and offers to take them back. */
  async keep(entries: NewEntry[], photos: Photo[] = []) {
    await book.add(this.key, entries, photos);
    tell(t('app.kept'), () => this.undo());
  }
  /** Another water in the survey: what was said of source, tap, building and place stands. */
  async survey(water: Body) {
    const before = this.view?.survey;
    const { known: _, water: __, ...other }: Body = { ...before?.body };
    const body = { source: 'unknown', ...other, ...water };
    await this.keep([{ kind: 'survey', body, ...(before ? { supersedes: before.entry } : {}) }]);
    await this.refresh();
  }
  async undo() {
    const again = await book.undo(this.key);
    if (!again) return;
    tell(t('app.undone'), again);
    const undone = notice.now;
    await this.settled; // the names are of what is kept now
    const before = await book.lastStep(this.key);
    if (before.length === 0 || Date.parse(before[0]!.at) < Date.now() - visit_ms) return;
    const what = await named(before, this.view);
    if (undone && notice.now === undone) notice.now = { ...undone, further: { what, undo: () => this.undo() } };
  }
  /** What `undo` takes back, by its name. */
  async toUndo(): Promise<string> {
    const step = await book.lastStep(this.key);
    return step.length === 0 ? '' : named(step, this.view);
  }
}

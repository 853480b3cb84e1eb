// What every screen shares: the book, the person's settings, the words, the engine. `start` fills
// them before the first screen is drawn.
import { untrack } from 'svelte';
import type englishWords from '../generated/words/en.json';
import type { Meter } from './data/backup';
import { Book } from './data/book';
import { bridge, EngineError } from './engine/bridge';
import type { Input, Output, Page, Question, Units } from './engine/questions';

export type Theme = 'phone' | 'light' | 'dark';
export interface Settings {
  units: Units;
  language: string;
  theme: Theme;
  page: Page;
  author: string; // as it stands in entries; '' for the device's name
  backup: string; // when the last one was made; '' never
  meters: Meter[]; // the person's own
  meter: string; // id of the one that a quality was read with last; '' for another instrument
  gauge: string; // the same of a pressure
}

export const settings: Settings = $state({
  units: 'metric',
  language: 'en',
  theme: 'phone',
  page: 'A4',
  author: '',
  backup: '',
  meters: [],
  meter: '',
  gauge: '',
});
export let book: Book;

export type WordId = keyof typeof englishWords;
let words: Record<string, string> = $state.raw({});
/** A text of the catalogue that has no arguments. */
export const t = (id: WordId): string => words[id] ?? id;

const catalogues = import.meta.glob<Record<string, string>>('../generated/words/*.json', { import: 'default' });
const catalogue = (language: string) => catalogues[`../generated/words/${language}.json`];

const engine = bridge(
  () => new Worker(new URL('./engine/worker.ts', import.meta.url), { type: 'module' }),
  () => settings.language,
);

/** What the engine broke on, to be told and shared; the book is not touched by it. */
export const broken: { error?: EngineError } = $state({});

export async function ask<Q extends Question>(
  name: Q,
  input: Input<Q>,
  options?: { explain?: boolean },
): Promise<Output<Q>> {
  try {
    return await engine.ask(name, input, options);
  } catch (error) {
    if (error instanceof EngineError && error.kind === 'broken') broken.error = error;
    throw error;
  }
}

/** A sentence with arguments, said by the engine. */
export async function say(id: string, said: Omit<Input<'say'>, 'id'> = {}): Promise<string> {
  return (await ask('say', { id, ...said })).text;
}

export async function change<K extends keyof Settings>(key: K, value: Settings[K]) {
  await book.set(key, value); // what is shown as kept is kept
  settings[key] = value;
}

export async function start() {
  const wanted = new URLSearchParams(location.search).get('language') ?? settings.language;
  settings.language = catalogue(wanted) ? wanted : 'en';
  [book, words] = await Promise.all([Book.open(), catalogue(settings.language)?.() ?? {}]);
  await read();
  document.documentElement.lang = settings.language;
  book.watch((site) => site === '' && void read());
  $effect.root(() => {
    $effect(() => void (document.documentElement.dataset['theme'] = settings.theme));
  });
}

async function read() {
  // The language is that of the page's address, or the default.
  const keys = (Object.keys(settings) as (keyof Settings)[]).filter((key) => key !== 'language');
  const values = await Promise.all(keys.map((key) => book.setting(key, untrack(() => settings[key]))));
  keys.forEach((key, i) => Object.assign(settings, { [key]: values[i] }));
}

/** Runs `work` once at a time; of calls meanwhile only the last is run, afterwards. */
export function newest(work: () => Promise<void>): () => Promise<void> {
  let running: Promise<void> | undefined;
  let again = false;
  return () => {
    if (running) {
      again = true;
      return running;
    }
    running = (async () => {
      do {
        again = false;
        await work();
      } while (again);
    })().finally(() => (running = undefined));
    return running;
  };
}

/** Points in time as people of this phone's language and time zone write them. */
export const day = (utc: string) => new Date(utc).toLocaleString(settings.language, { dateStyle: 'medium' });
export const moment = (utc: string) =>
  new Date(utc).toLocaleString(settings.language, { dateStyle: 'medium', timeStyle: 'short' });

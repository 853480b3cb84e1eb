// What every screen shares: the book, the person's settings, the words, the engine. `start` fills
// them before the first screen is drawn.
import { untrack } from 'svelte';
import type englishWords from '../generated/words/en.json';
import { catalogue, direction, phones } from './languages';
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
  firm: string; // whom customers call
  telephone: string;
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
  firm: '',
  telephone: '',
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

const engine = bridge(
  () => new Worker(new URL('./engine/worker.ts', import.meta.url), { type: 'module' }),
  () => settings.language,
);

/** What the engine broke on, to be told and shared; the book is not touched by it. */
export const broken: { error?: EngineError } = $state({});

export async function ask<Q extends Question>(
  name: Q,
  input: Input<Q>,
  options?: { explain?: boolean; language?: string },
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

// What the engine and we can say by now, by language.
const spoken: Record<string, Record<string, string>> = {};
/** Gets a language ready, for screens or a paper; false if its words are not to be had now. */
export async function speak(language: string): Promise<boolean> {
  if (spoken[language]) return true;
  const text = await catalogue(language);
  const own = text && parsed(text);
  if (!own) return false;
  engine.learn(language, text);
  spoken[language] = { ...spoken['en'], ...own };
  return true;
}
// A host may answer with a page where the file should be.
function parsed(text: string): Record<string, string> | undefined {
  try {
    return JSON.parse(text) as Record<string, string>;
  } catch {
    return undefined;
  }
}
/** The app in another language, from a fresh start; false if that is not to be had now. */
export async function changeLanguage(language: string): Promise<boolean> {
  if (!(await speak(language))) return false;
  await book.set('language', language);
  if (location.search) location.search = '';
  else location.reload();
  return true;
}
/** The same text in English, beside a language that it speaks of. */
export const inEnglish = (id: WordId): string => spoken['en']?.[id] ?? id;

export async function start() {
  const [english, opened] = await Promise.all([import('../generated/words/en.json'), Book.open()]);
  spoken['en'] = english.default;
  book = opened;
  const wanted =
    new URLSearchParams(location.search).get('language') ?? ((await book.setting('language', '')) || phones());
  settings.language = (await speak(wanted)) ? wanted : 'en';
  words = spoken[settings.language]!;
  await read();
  document.documentElement.lang = settings.language;
  document.documentElement.dir = direction(settings.language);
  book.watch((site) => site === '' && void read());
  $effect.root(() => {
    $effect(() => void (document.documentElement.dataset['theme'] = settings.theme));
  });
}

async function read() {
  // The language stays until the next start (changeLanguage).
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

/** A point in time as papers write it, whatever the language and wherever the phone: "2026-03-03 08:10 UTC". */
export const moment = (utc: string) => `${new Date(utc).toISOString().slice(0, 16).replace('T', ' ')} UTC`;

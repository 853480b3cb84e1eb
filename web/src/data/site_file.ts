// Site files as they are kept and exchanged: docs/formats/site-file.md. Unknown keys are kept.
import type { Body } from '../engine/questions';

export interface Entry {
  id: string;
  at: string;
  author: string;
  device: string;
  clock: string;
  kind: string;
  supersedes?: string;
  body: Body;
  [unknown: string]: unknown;
}

export interface SiteFile {
  schema: string;
  version: number;
  entries: Entry[];
  [unknown: string]: unknown;
}

/** What is to become an entry; the book stamps it. */
export interface NewEntry {
  kind: string;
  body: Body;
  supersedes?: string;
}

export const emptyHead = { schema: 'drawoff.site', version: 1 };

/** The order in which entries stand: by clock, of equal clocks by id. */
export const inOrder = (entries: Entry[]): Entry[] =>
  [...entries].sort((a, b) => (a.clock === b.clock ? (a.id < b.id ? -1 : 1) : a.clock < b.clock ? -1 : 1));

/**
 * What takes `entry` back: the body before it when it corrected something, and else its withdrawal.
 * A withdrawal is itself a correction, so taking one back brings the entry's body again.
 */
export function reverse(entry: Entry, all: Map<string, Entry>): NewEntry {
  const before = entry.supersedes === undefined ? undefined : all.get(entry.supersedes);
  return before
    ? { kind: before.kind, body: before.body, supersedes: entry.id }
    : { kind: 'withdrawn', body: {}, supersedes: entry.id };
}

/** Hashes of the pictures that an entry names, which live outside of it; as src/book/signature.h has it. */
export function picturesOf({ kind, body }: Pick<Entry, 'kind' | 'body'>): string[] {
  const keys = kind === 'photo' ? ['sha256'] : kind === 'handed_over' ? ['technician_signature', 'receiver_signature'] : [];
  return keys.map((key) => body[key]).filter((one): one is string => typeof one === 'string' && /^[0-9a-f]{64}$/.test(one));
}

/** Only what the book needs to hold a file; whether it is right, the engine says. */
export function looksLikeSiteFile(value: unknown): value is SiteFile {
  const file = value as SiteFile | null;
  return (
    typeof file === 'object' &&
    Array.isArray(file?.entries) &&
    file.entries.every((entry) => typeof entry?.id === 'string' && typeof entry?.clock === 'string')
  );
}

// The local book: every site of this device, in IndexedDB. Entries are added, never changed; each
// addition is durable when its promise resolves. Several tabs may have the book open: stamps are
// given inside the transaction that adds, and every change is told to the other tabs.
import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction } from 'idb';
import { emptyHead, inOrder, picturesOf, reverse, type Entry, type NewEntry, type SiteFile } from './site_file';
import { deviceName, latest, tick, uuid7, type Milliseconds } from './stamps';

/** A site as the list shows it. The summary is what the engine said when it was last looked at. */
export interface SiteRecord {
  key: string;
  head: Record<string, unknown>; // the file without its entries
  demo: boolean;
  summary?: { name: string; headline: string; kind: string };
  removed?: string; // when; kept for a day, so that it can be undone
}

export interface Photo {
  sha256: string; // of the bytes, in hexadecimal
  type: string;
  bytes: ArrayBuffer;
}

/** One step that can be taken back: the entries that it added. */
interface Change {
  site: string;
  entries: string[];
}

interface Shelves extends DBSchema {
  sites: { key: string; value: SiteRecord };
  entries: {
    key: [string, string];
    value: { site: string; entry: Entry };
    indexes: { site: string; id: string };
  };
  photos: { key: string; value: Photo };
  drafts: { key: [string, string]; value: { place: string; path: string; text: string }; indexes: { place: string } };
  changes: { key: number; value: Change; indexes: { site: string } };
  settings: { key: string; value: unknown };
}
type Writing = IDBPTransaction<Shelves, ('sites' | 'entries' | 'photos' | 'changes' | 'settings')[], 'readwrite'>;

const writable = ['sites', 'entries', 'photos', 'changes', 'settings'] as const;
const keepRemoved_ms = 24 * 3600 * 1000;

export interface Outside {
  now(): Milliseconds;
  random(count: number): Uint8Array;
}
const realOutside: Outside = {
  now: () => Date.now(),
  random: (count) => crypto.getRandomValues(new Uint8Array(count)),
};

export class Book {
  #db: IDBPDatabase<Shelves>;
  #outside: Outside;
  #channel: BroadcastChannel;
  #listeners = new Set<(site: string) => void>();

  private constructor(db: IDBPDatabase<Shelves>, name: string, outside: Outside) {
    this.#db = db;
    this.#outside = outside;
    this.#channel = new BroadcastChannel(name);
    this.#channel.onmessage = ({ data }) => this.#listeners.forEach((listener) => listener(data));
  }

  static async open(name = 'drawoff', outside = realOutside): Promise<Book> {
    const db = await openDB<Shelves>(name, 1, {
      upgrade(made) {
        made.createObjectStore('sites', { keyPath: 'key' });
        const entries = made.createObjectStore('entries', { keyPath: ['site', 'entry.id'] });
        entries.createIndex('site', 'site');
        entries.createIndex('id', 'entry.id');
        made.createObjectStore('photos', { keyPath: 'sha256' });
        made.createObjectStore('drafts', { keyPath: ['place', 'path'] }).createIndex('place', 'place');
        made.createObjectStore('changes', { autoIncrement: true }).createIndex('site', 'site');
        made.createObjectStore('settings');
      },
      blocking: (_from, _to, event) => (event.target as IDBDatabase).close(), // a newer version waits
    });
    const book = new Book(db, name, outside);
    await book.#purge();
    return book;
  }

  close() {
    this.#channel.close();
    this.#db.close();
  }

  /** Tells of every change of a site, also by another tab ('' for the settings). Returns the way to end it. */
  watch(listener: (site: string) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }
  #tell(site: string) {
    this.#listeners.forEach((listener) => listener(site));
    this.#channel.postMessage(site);
  }

  async setting<T>(key: string, otherwise: T): Promise<T> {
    return ((await this.#db.get('settings', key)) as T | undefined) ?? otherwise;
  }
  async set(key: string, value: unknown) {
    const writing = this.#db.transaction('settings', 'readwrite', { durability: 'strict' });
    await Promise.all([writing.store.put(value, key), writing.done]);
    this.#tell('');
  }

  async sites(): Promise<SiteRecord[]> {
    const all = await this.#db.getAll('sites');
    return all.filter(({ removed }) => removed === undefined);
  }
  async summarise(key: string, summary: SiteRecord['summary']) {
    const record = await this.#db.get('sites', key);
    if (!record || JSON.stringify(record.summary) === JSON.stringify(summary)) return;
    await this.#db.put('sites', { ...record, summary });
    this.#tell(key);
  }

  /** The site's file as it would be exported; undefined when there is no such site. */
  async file(key: string): Promise<SiteFile | undefined> {
    const record = await this.#db.get('sites', key);
    if (!record || record.removed !== undefined) return undefined;
    return { ...emptyHead, ...record.head, entries: await this.#entries(key) };
  }
  async #entries(key: string): Promise<Entry[]> {
    return inOrder((await this.#db.getAllFromIndex('entries', 'site', key)).map(({ entry }) => entry));
  }

  /** Adds a site with its first entries; returns its key. */
  async create(entries: NewEntry[]): Promise<string> {
    const key = this.#uuid();
    await this.#write(key, async (writing) => {
      await writing.objectStore('sites').add({ key, head: emptyHead, demo: false });
      for (const entry of entries) await this.#stamp(writing, key, entry);
    });
    return key;
  }

  /** Adds entries, and the photos that they speak of, as one step that can be undone. */
  async add(site: string, entries: NewEntry[], photos: Photo[] = []): Promise<Entry[]> {
    return this.#write(site, async (writing) => {
      for (const photo of photos) await writing.objectStore('photos').put(photo);
      return this.#step(writing, site, entries);
    });
  }

  /** Takes back the last step of a site; returns the way to do it again, or nothing when there is none. */
  async undo(site: string): Promise<(() => Promise<void>) | undefined> {
    return this.#write(site, async (writing) => {
      const cursor = await writing.objectStore('changes').index('site').openCursor(site, 'prev');
      if (!cursor) return undefined;
      const { entries } = cursor.value;
      await cursor.delete();
      const back = await this.#reverse(writing, site, entries);
      return () =>
        this.#write(site, async (again) => {
          const done = await this.#reverse(again, site, back);
          await again.objectStore('changes').add({ site, entries: done });
        });
    });
  }
  /** The entries of the step that `undo` takes back; none where there is nothing to take back. */
  async lastStep(site: string): Promise<Entry[]> {
    const reading = this.#db.transaction(['changes', 'entries']);
    const cursor = await reading.objectStore('changes').index('site').openCursor(site, 'prev');
    const ids = cursor?.value.entries ?? [];
    const rows = await Promise.all(ids.map((id) => reading.objectStore('entries').get([site, id])));
    return rows.filter((row) => row !== undefined).map(({ entry }) => entry);
  }

  async remove(key: string) {
    await this.#mark(key, new Date(this.#outside.now()).toISOString());
  }
  async bringBack(key: string) {
    await this.#mark(key, undefined);
  }

  /** The site that has one of these entries, if any: then a file of them is of that site. */
  async siteOf(entries: Pick<Entry, 'id'>[]): Promise<string | undefined> {
    const index = this.#db.transaction('entries').store.index('id');
    for (const { id } of entries) {
      const found = await index.get(id);
      if (found) return found.site;
    }
    return undefined;
  }

  /** The file as it would stand after `merge`: for the engine to judge before anything is kept. */
  async merged(file: SiteFile): Promise<SiteFile> {
    const key = await this.siteOf(file.entries);
    const mine = key === undefined ? [] : await this.#entries(key);
    const known = new Set(mine.map(({ id }) => id));
    return { ...file, entries: inOrder([...mine, ...file.entries.filter(({ id }) => !known.has(id))]) };
  }

  /** The file as it would stand with an entry more, which is not kept: to be read before it is. */
  async supposed(file: SiteFile, { kind, body }: NewEntry): Promise<SiteFile> {
    const device = await this.device();
    const author = (await this.setting('author', '')) || device;
    const stamp = tick(await this.setting('clock', ''), this.#outside.now(), device);
    return { ...file, entries: [...file.entries, { id: this.#uuid(), ...stamp, author, device, kind, body }] };
  }

  /** Takes in a site file and its photos: what the book has already stays, the rest is added. */
  async merge(file: SiteFile, { photos = [], demo = false }: { photos?: Photo[]; demo?: boolean } = {}): Promise<string> {
    const key = (await this.siteOf(file.entries)) ?? this.#uuid();
    const { entries, ...head } = file;
    await this.#write(key, async (writing) => {
      const sites = writing.objectStore('sites');
      const record = (await sites.get(key)) ?? { key, head, demo };
      const { removed: _, ...standing } = record;
      await sites.put({ ...standing, head: { ...head, ...record.head } });
      for (const photo of photos) await writing.objectStore('photos').put(photo);
      let seen = await this.#seen(writing);
      for (const entry of entries) {
        if (await writing.objectStore('entries').get([key, entry.id])) continue;
        await writing.objectStore('entries').add({ site: key, entry });
        seen = latest(seen, entry.clock);
      }
      await writing.objectStore('settings').put(seen, 'clock');
    });
    return key;
  }

  async photo(sha256: string): Promise<Photo | undefined> {
    return this.#db.get('photos', sha256);
  }
  async photos(): Promise<Photo[]> {
    return this.#db.getAll('photos');
  }

  /** What was typed and is not kept yet, by field; a place is one form of one site. */
  async drafts(place: string): Promise<Record<string, string>> {
    const all = await this.#db.getAllFromIndex('drafts', 'place', place);
    return Object.fromEntries(all.map(({ path, text }) => [path, text]));
  }
  async draft(place: string, path: string, text: string) {
    await this.#db.put('drafts', { place, path, text });
  }
  async forget(place: string, paths?: string[]) {
    const writing = this.#db.transaction('drafts', 'readwrite');
    for (const key of await writing.store.index('place').getAllKeys(place)) {
      if (!paths || paths.includes(key[1])) await writing.store.delete(key);
    }
    await writing.done;
  }

  /** This device's name, made once. */
  device = (): Promise<string> => this.once('device', () => deviceName(this.#outside.random(5)));

  /** A setting that is made when it is first asked for, and then stays: in all tabs the same. */
  async once(key: string, make: () => string): Promise<string> {
    const known = await this.setting(key, '');
    if (known !== '') return known;
    const writing = this.#db.transaction('settings', 'readwrite', { durability: 'strict' });
    const value = ((await writing.store.get(key)) as string | undefined) || make();
    await writing.store.put(value, key);
    await writing.done;
    return value;
  }

  #uuid = () => uuid7(this.#outside.now(), this.#outside.random(10));

  async #write<T>(site: string, work: (writing: Writing) => Promise<T>): Promise<T> {
    await this.device(); // exists before any stamp
    const writing = this.#db.transaction([...writable], 'readwrite', { durability: 'strict' }) as Writing;
    try {
      const result = await work(writing);
      await writing.done;
      this.#tell(site);
      return result;
    } catch (error) {
      writing.done.catch(() => {}); // told once, by the throw below
      try {
        writing.abort();
      } catch {
        // it has ended already
      }
      throw error;
    }
  }
  async #seen(writing: Writing): Promise<string> {
    return ((await writing.objectStore('settings').get('clock')) as string | undefined) ?? '';
  }
  async #stamp(writing: Writing, site: string, { kind, body, supersedes }: NewEntry): Promise<Entry> {
    const settings = writing.objectStore('settings');
    const device = (await settings.get('device')) as string;
    const author = ((await settings.get('author')) as string | undefined) || device;
    const { at, clock } = tick(await this.#seen(writing), this.#outside.now(), device);
    const id = this.#uuid();
    const entry: Entry = { id, at, author, device, clock, kind, ...(supersedes ? { supersedes } : {}), body };
    await writing.objectStore('entries').add({ site, entry });
    await settings.put(clock, 'clock');
    return entry;
  }
  async #step(writing: Writing, site: string, entries: NewEntry[]): Promise<Entry[]> {
    const made: Entry[] = [];
    for (const entry of entries) made.push(await this.#stamp(writing, site, entry));
    await writing.objectStore('changes').add({ site, entries: made.map(({ id }) => id) });
    return made;
  }
  async #reverse(writing: Writing, site: string, ids: string[]): Promise<string[]> {
    const rows = await writing.objectStore('entries').index('site').getAll(site);
    const all = new Map(rows.map(({ entry }) => [entry.id, entry]));
    const made: string[] = [];
    for (const id of [...ids].reverse()) {
      const entry = all.get(id);
      if (entry) made.push((await this.#stamp(writing, site, reverse(entry, all))).id);
    }
    return made;
  }
  async #mark(key: string, removed: string | undefined) {
    await this.#write(key, async (writing) => {
      const record = await writing.objectStore('sites').get(key);
      if (record) await writing.objectStore('sites').put({ ...record, removed });
    });
  }

  // Sites removed more than a day ago, and the photos that no entry speaks of any more.
  async #purge() {
    const limit = new Date(this.#outside.now() - keepRemoved_ms).toISOString();
    const old = (await this.#db.getAll('sites')).filter(({ removed }) => removed !== undefined && removed < limit);
    if (old.length === 0) return;
    const writing = this.#db.transaction([...writable], 'readwrite') as Writing;
    for (const { key } of old) {
      await writing.objectStore('sites').delete(key);
      for (const shelf of ['entries', 'changes'] as const) {
        for (const row of await writing.objectStore(shelf).index('site').getAllKeys(key)) {
          await writing.objectStore(shelf).delete(row as never);
        }
      }
    }
    const left = await writing.objectStore('entries').getAll();
    const spoken = new Set(left.flatMap(({ entry }) => picturesOf(entry)));
    for (const sha256 of await writing.objectStore('photos').getAllKeys()) {
      if (!spoken.has(sha256)) await writing.objectStore('photos').delete(sha256);
    }
    await writing.done;
  }
}

import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Book, type Outside } from './book';
import type { Entry, SiteFile } from './site_file';

const start = Date.parse('2026-03-03T08:00:00.000Z');
const open: Book[] = [];
let now: number;
let seed: number;
const outside: Outside = {
  now: () => now,
  random: (count) => Uint8Array.from({ length: count }, () => (seed = (seed * 16807) % 2147483647) & 0xff),
};

async function book(): Promise<Book> {
  const made = await Book.open('test', outside);
  open.push(made);
  return made;
}
const school = (): SiteFile => JSON.parse(readFileSync('../examples/school.site.json', 'utf8'));
const reading = (value: number) => ({ kind: 'reading', body: { point: 'product_flow', value, unit: 'L_h' } });
const bodies = (file: SiteFile | undefined) => file!.entries.map(({ kind, body }) => [kind, body['value']]);

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  now = start;
  seed = 42;
});
afterEach(() => open.splice(0).forEach((one) => one.close()));

describe('entries', () => {
  test('are stamped, kept and read again by another tab', async () => {
    const here = await book();
    const site = await here.create([{ kind: 'site', body: { name: 'Ostrel Hall' } }]);
    const [entry] = await here.add(site, [reading(66)]);
    const there = await book();
    const file = await there.file(site);
    expect(file).toMatchObject({ schema: 'drawoff.site', version: 1 });
    expect(file!.entries.map(({ kind }) => kind)).toEqual(['site', 'reading']);
    expect(file!.entries[1]).toEqual(entry);
    expect(entry!.clock).toBe(`2026-03-03T08:00:00.000Z-0001-${entry!.device}`);
    expect(entry!.author).toBe(await there.device());
  });

  test('of two tabs that write at once never share a clock or an id', async () => {
    const [one, two] = [await book(), await book()];
    const site = await one.create([{ kind: 'site', body: { name: 'x' } }]);
    await Promise.all(Array.from({ length: 40 }, (_, i) => (i % 2 ? one : two).add(site, [reading(i)])));
    const { entries } = (await one.file(site))!;
    expect(entries).toHaveLength(41);
    for (const key of ['id', 'clock'] as const) expect(new Set(entries.map((entry) => entry[key])).size).toBe(41);
    expect(new Set(entries.map(({ device }) => device)).size).toBe(1);
  });

  test('are told to the other tab', async () => {
    const [one, two] = [await book(), await book()];
    const told = new Promise<string>((resolve) => two.watch(resolve));
    const site = await one.create([{ kind: 'site', body: { name: 'x' } }]);
    expect(await told).toBe(site);
  });

  test('are none when one of them cannot be kept', async () => {
    const here = await book();
    const site = await here.create([{ kind: 'site', body: { name: 'x' } }]);
    const bad = { kind: 'reading', body: { value: () => 1 } }; // a function cannot be stored
    await expect(here.add(site, [reading(1), bad])).rejects.toThrow();
    expect((await here.file(site))!.entries).toHaveLength(1);
    expect(await here.lastStep(site)).toEqual([]);
  });

  test('may be looked at before they are kept', async () => {
    const here = await book();
    const site = await here.create([{ kind: 'site', body: { name: 'Ostrel Hall' } }]);
    const before = (await here.file(site))!;
    const [last, more] = (await here.supposed(before, reading(66))).entries.slice(-2);
    expect(more).toMatchObject({ kind: 'reading', body: { value: 66 }, device: last!.device });
    expect(more!.clock > last!.clock).toBe(true);
    expect(await here.file(site)).toEqual(before);
  });

  test('carry the name in the settings', async () => {
    const here = await book();
    await here.set('author', 'R. Tamsin');
    const site = await here.create([{ kind: 'site', body: { name: 'x' } }]);
    expect((await here.file(site))!.entries[0]!.author).toBe('R. Tamsin');
  });
});

describe('undo', () => {
  test('withdraws an addition, restores what a correction replaced, and can be undone', async () => {
    const here = await book();
    const site = await here.create([{ kind: 'site', body: { name: 'x' } }]);
    const [first] = await here.add(site, [reading(66)]);
    await here.add(site, [{ ...reading(67), supersedes: first!.id }]);

    const again = await here.undo(site);
    expect(bodies(await here.file(site)).at(-1)).toEqual(['reading', 66]);
    await again!();
    expect(bodies(await here.file(site)).at(-1)).toEqual(['reading', 67]);
    await here.undo(site);
    await here.undo(site);
    expect(bodies(await here.file(site)).at(-1)).toEqual(['withdrawn', undefined]);
    expect(await here.undo(site)).toBeUndefined();

    const { entries } = (await here.file(site))!;
    const place = new Map(entries.map((entry, i) => [entry.id, i]));
    entries.forEach((entry: Entry, i) => {
      if (entry.supersedes) expect(place.get(entry.supersedes)).toBeLessThan(i); // every file stays readable
    });
  });

  test('survives a reload, and keeps to its site', async () => {
    const here = await book();
    const [one, two] = [await here.create([]), await here.create([])];
    await here.add(one, [reading(1)]);
    await here.add(two, [reading(2)]);
    const there = await book();
    await there.undo(one);
    expect(bodies(await there.file(one))).toEqual([['reading', 1], ['withdrawn', undefined]]);
    expect(bodies(await there.file(two))).toEqual([['reading', 2]]);
  });

  test('goes on to the step before, and tells which that is', async () => {
    const here = await book();
    const site = await here.create([{ kind: 'site', body: { name: 'x' } }]);
    for (const value of [1, 2, 3]) await here.add(site, [reading(value)]);
    const last = async () => (await here.lastStep(site)).map(({ body }) => body['value']);
    expect(await last()).toEqual([3]);
    await here.undo(site);
    expect(await last()).toEqual([2]);
    const again = await here.undo(site);
    expect(await last()).toEqual([1]);
    await again!();
    expect(await last()).toEqual([2]);
    await here.undo(site);
    await here.undo(site);
    expect(await last()).toEqual([]); // what was there when the site was made is no step
  });

  test('takes back all entries of one step', async () => {
    const here = await book();
    const site = await here.create([]);
    await here.add(site, [reading(1), reading(2)]);
    await here.undo(site);
    expect((await here.file(site))!.entries.filter(({ kind }) => kind === 'withdrawn')).toHaveLength(2);
  });
});

describe('merge', () => {
  test('adds what is new, keeps what is there, keeps unknown keys', async () => {
    const here = await book();
    const file = { ...school(), colour: 'teal' };
    file.entries[0]!['weather'] = 'rain';
    const part = { ...file, entries: file.entries.slice(0, 3) };
    const site = await here.merge(part);
    expect(await here.merge(file)).toBe(site);
    expect(await here.merge(file)).toBe(site);
    expect(await here.file(site)).toEqual({ ...file, entries: file.entries });
    expect(await here.sites()).toHaveLength(1);
  });

  test('makes later clocks than those it took in, even those of a device that is ahead', async () => {
    const here = await book();
    now = Date.parse('2020-01-01T00:00:00Z');
    const site = await here.merge(school());
    const last = (await here.file(site))!.entries.at(-1)!.clock;
    const [entry] = await here.add(site, [reading(5)]);
    expect(entry!.clock > last).toBe(true);
  });

  test('shows beforehand what would stand', async () => {
    const here = await book();
    const file = school();
    const site = await here.merge({ ...file, entries: file.entries.slice(0, 2) });
    await here.add(site, [reading(7)]);
    expect((await here.merged(file)).entries).toHaveLength(file.entries.length + 1);
    expect((await here.file(site))!.entries).toHaveLength(3);
  });
});

describe('removal', () => {
  const photo = { sha256: 'ab'.repeat(32), type: 'image/jpeg', bytes: new ArrayBuffer(3) };
  test('can be undone for a day, then the site is gone with its photos', async () => {
    const here = await book();
    const site = await here.create([]);
    await here.add(site, [{ kind: 'photo', body: { sha256: photo.sha256, type: photo.type, of: 'plate' } }], [photo]);
    await here.remove(site);
    expect(await here.sites()).toEqual([]);
    expect(await here.file(site)).toBeUndefined();
    await here.bringBack(site);
    expect((await here.file(site))!.entries).toHaveLength(1);
    await here.remove(site);
    now += 25 * 3600 * 1000;
    const later = await book();
    await later.bringBack(site);
    expect(await later.file(site)).toBeUndefined();
    expect(await later.photo(photo.sha256)).toBeUndefined();
  });

  test('leaves the photos and drawn signatures of the others', async () => {
    const here = await book();
    const [stays, goes] = [await here.create([]), await here.create([])];
    const hash = (digit: string) => digit.repeat(64);
    const drawn = { technician_signature: hash('a'), receiver_signature: hash('b') };
    const pictures = ['a', 'b', 'c'].map((digit) => ({ ...photo, sha256: hash(digit) }));
    const entries = [{ kind: 'handed_over', body: drawn }, { kind: 'photo', body: { sha256: hash('c') } }];
    await here.add(stays, entries, pictures);
    await here.remove(goes);
    now += 25 * 3600 * 1000;
    const later = await book();
    expect((await later.photos()).map(({ sha256 }) => sha256)).toEqual([hash('a'), hash('b'), hash('c')]);
  });
});

test('a half-typed value is there again, by field', async () => {
  const here = await book();
  await here.draft('site/machine', 'element.size', '25');
  await here.draft('site/machine', 'element.size', '254');
  await here.draft('site/machine', 'pump', 'true');
  await here.draft('other', 'x', '1');
  const there = await book();
  expect(await there.drafts('site/machine')).toEqual({ 'element.size': '254', pump: 'true' });
  await there.forget('site/machine', ['pump']);
  expect(await there.drafts('site/machine')).toEqual({ 'element.size': '254' });
  await there.forget('site/machine');
  expect(await there.drafts('site/machine')).toEqual({});
  expect(await there.drafts('other')).toEqual({ x: '1' });
});

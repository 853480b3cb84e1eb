import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, expect, test } from 'vitest';
import { Book } from './book';
import { newKey, toPem } from './signature';
import { deviceKey, keptKey, keyLetters, lettersOf, takeOverKey } from './signing';

beforeEach(() => (globalThis.indexedDB = new IDBFactory()));

test('the key is made once, also by two tabs that sign at once', async () => {
  const [one, two] = [await Book.open('test'), await Book.open('test')];
  expect(await keptKey(one)).toBeUndefined();
  expect(await keyLetters(one)).toBe('');
  const keys = await Promise.all([deviceKey(one), deviceKey(two), deviceKey(one)]);
  expect(new Set(keys.map(String)).size).toBe(1);
  expect(await keyLetters(two)).toBe(await lettersOf(keys[0]!));
  one.close();
  two.close();
});

test('a backup brings its key to a device that never signed, and to no other', async () => {
  const pem = toPem(newKey());
  const book = await Book.open('test');
  expect(await takeOverKey(book, pem)).toBe(true);
  expect(await keptKey(book)).toBe(pem);
  expect(await takeOverKey(book, pem)).toBe(true);
  expect(await takeOverKey(book, toPem(newKey()))).toBe(false);
  expect(await keptKey(book)).toBe(pem);
  book.close();
});

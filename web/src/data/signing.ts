// The key with which this device signs. Made when it is first needed; it leaves the device in a
// backup only, and no screen shows it: people see its letters.
import type { Book } from './book';
import { ed25519, fingerprintOf, fromPem, newKey, toPem, type Key } from './signature';

const setting = 'signing_key'; // in PEM form

export async function deviceKey(book: Book): Promise<Key> {
  return fromPem(await book.once(setting, () => toPem(newKey())))!;
}
/** In PEM form, for a backup; undefined where nothing was signed yet. */
export async function keptKey(book: Book): Promise<string | undefined> {
  return (await book.setting(setting, '')) || undefined;
}
/** Takes over the key of a backup; a device that has signed keeps its own. */
export async function takeOverKey(book: Book, pem: string): Promise<boolean> {
  return (await book.once(setting, () => pem)) === pem;
}

/** What people compare: '' where nothing was signed yet. */
export async function keyLetters(book: Book): Promise<string> {
  const pem = await keptKey(book);
  return pem === undefined ? '' : lettersOf(fromPem(pem)!);
}
export async function lettersOf(key: Key): Promise<string> {
  return fingerprintOf(await (await ed25519()).publicKey(key));
}

import { strToU8, Zip, ZipDeflate, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { isZip, unzipped } from './unzipped';

const asFile = (bytes: Uint8Array) => new File([bytes as Uint8Array<ArrayBuffer>], 'all.zip');
const names = (files: File[]) => files.map(({ name }) => name);
const why = (zip: File, bounds?: { files: number; bytes: number }) => unzipped(zip, bounds).then(names, (error) => error.why ?? String(error));

const noise = Uint8Array.from({ length: 100_000 }, (_, i) => (i * 7919) % 251);
const content = { 'a.txt': strToU8('one'), 'folder/b.jpg': noise, '__MACOSX/._a.txt': strToU8('x'), 'empty.txt': new Uint8Array() };

describe.each([0, 6] as const)('a zip, level %i', (level) => {
  const zip = zipSync(content, { level });
  test('gives its files by their own names', async () => {
    expect(await isZip(asFile(zip))).toBe(true);
    const files = await unzipped(asFile(zip));
    expect(names(files).sort()).toEqual(['a.txt', 'b.jpg', 'empty.txt']);
    const photo = files.find(({ name }) => name === 'b.jpg')!;
    expect(Buffer.from(await photo.arrayBuffer()).equals(noise)).toBe(true);
  });
  test('stops at the bounds', async () => {
    expect(await why(asFile(zip), { files: 3, bytes: 1 << 20 })).toBe('zip_too_large');
    expect(await why(asFile(zip), { files: 10, bytes: 100_000 })).toBe('zip_too_large');
  });
  test('cut short is damaged', async () => {
    for (const part of [0.2, 0.5, 0.9, 0.99]) expect(await why(asFile(zip.slice(0, part * zip.length)))).toBe('zip_damaged');
  });
});

test('one that was written as a stream, sizes behind the files', async () => {
  const parts: Uint8Array[] = [];
  const zip = new Zip((_, part) => parts.push(part));
  const file = new ZipDeflate('b.jpg');
  zip.add(file);
  file.push(noise, true);
  zip.end();
  const [one] = await unzipped(asFile(new Uint8Array(parts.flatMap((part) => [...part]))));
  expect([one!.name, one!.size]).toEqual(['b.jpg', noise.length]);
});

test('a bomb that says it is small is left at the bounds', async () => {
  const large = new Uint8Array(4 << 20);
  const zip = zipSync({ 'a.txt': large, 'b.txt': large, 'c.txt': large });
  const view = new DataView(zip.buffer);
  for (let at = 0; at < zip.length - 4; ++at) {
    if (view.getUint32(at, true) === 0x04034b50) view.setUint32(at + 22, 100, true);
    if (view.getUint32(at, true) === 0x02014b50) view.setUint32(at + 24, 100, true);
  }
  expect(zip.length).toBeLessThan(1 << 16);
  expect(await why(asFile(zip), { files: 10, bytes: 10 << 20 })).toBe('zip_too_large');
  expect((await unzipped(asFile(zip), { files: 10, bytes: 12 << 20 })).map(({ size }) => size)).toEqual([4 << 20, 4 << 20, 4 << 20]);
});

test('what is no zip', async () => {
  expect(await isZip(asFile(strToU8('{"schema":"drawoff.record"')))).toBe(false);
  expect(await isZip(asFile(new Uint8Array()))).toBe(false);
});

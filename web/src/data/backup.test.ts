import { strToU8, unzipSync, zipSync } from 'fflate';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { BackupError, pack, unpack, type Backup } from './backup';
import { newKey, toPem } from './signature';

const sha256 = async (held: ArrayBuffer) => createHash('sha256').update(Buffer.from(held)).digest('hex');

const bytes = Uint8Array.from([0xff, 0xd8, 1, 2, 3]).buffer;
const sites = ['school', 'clinic'].map((name) => JSON.parse(readFileSync(`../examples/${name}.site.json`, 'utf8')));
const whole = async (): Promise<Backup> => ({
  made: '2026-03-03T08:00:00.000Z',
  device: 'phone-1',
  sites,
  photos: [{ sha256: await sha256(bytes), type: 'image/jpeg', bytes }],
  meters: [
    { id: 'a', body: { meter: { reads: 'ppm' } } },
    { id: 'b', body: { meter: { reads: 'bar' }, gauge_checks: [{ against: 'column', column_m: 3, shown: 0.3, on: '2026-03-01' }] } },
  ],
});
const why = (zip: Uint8Array) =>
  unpack(zip, sha256).then(
    () => 'read',
    (error) => (error instanceof BackupError ? error.why : String(error)),
  );

test('comes back as it went', async () => {
  expect(await unpack(await pack(await whole()), sha256)).toEqual(await whole());
});

test('holds the key that signs, where there is one', async () => {
  const key = toPem(newKey());
  const zip = await pack({ ...(await whole()), key });
  expect(await unpack(zip, sha256)).toEqual({ ...(await whole()), key });
  expect(await why(zipSync({ ...unzipSync(zip), 'key.pem': strToU8('no key') }))).toBe('damaged');
  const { 'key.pem': _, ...without } = unzipSync(zip);
  expect(await why(zipSync(without))).toBe('damaged');
});

test('says why it cannot be read', async () => {
  const files = unzipSync(await pack(await whole()));
  const manifest = JSON.parse(new TextDecoder().decode(files['manifest.json']));
  const changed = (other: object) => zipSync({ ...files, 'manifest.json': strToU8(JSON.stringify({ ...manifest, ...other })) });
  expect(await why(strToU8('no zip'))).toBe('not_a_backup');
  expect(await why(zipSync({ 'a.txt': strToU8('hello') }))).toBe('not_a_backup');
  expect(await why(changed({ schema: 'other' }))).toBe('not_a_backup');
  expect(await why(changed({ version: 2 }))).toBe('newer');
  expect(await why(changed({ meters: [{ id: 3 }] }))).toBe('damaged');
  expect((await unpack(changed({ meters: undefined }), sha256)).meters).toEqual([]); // made before there were any
  expect(await why(changed({ sites: ['sites/none.json'] }))).toBe('damaged');
  expect(await why(zipSync({ ...files, [manifest.sites[0]]: strToU8('{"entries": 3}') }))).toBe('damaged');
  expect(await why(zipSync({ ...files, [manifest.photos[0].file]: strToU8('other') }))).toBe('damaged');
});

// A backup of the whole book: one zip file, docs/formats/backup.md.
import type { Zippable } from 'fflate';
import type { Photo } from './book';
import type { Body } from '../engine/questions';
import { fromPem } from './signature';
import { looksLikeSiteFile, type SiteFile } from './site_file';

export interface Backup {
  made: string; // UTC [rfc3339]
  device: string;
  sites: SiteFile[];
  photos: Photo[];
  meters: Meter[]; // the person's own
  key?: string; // that signs records, in PEM form: it makes the backup a secret
}
/** A meter of the person's own: what `calc meter` takes, as far as it is entered. */
export interface Meter {
  id: string;
  body: Body;
}

interface Manifest {
  schema: string;
  version: number;
  made: string;
  device: string;
  sites: string[]; // names of files in the zip
  photos: { file: string; sha256: string; type: string }[];
  meters?: Meter[];
  key?: string; // name of a file in the zip
}

const schema = 'drawoff.backup';
export const backupVersion = 1;

export type Unreadable = 'not_a_backup' | 'newer' | 'damaged';
export class BackupError extends Error {
  constructor(readonly why: Unreadable) {
    super(why);
  }
}

const zipping = () => import('./zip'); // not before it is needed: the app starts without it

export async function pack({ made, device, sites, photos, meters, key }: Backup): Promise<Uint8Array> {
  const { strToU8, zipSync } = await zipping();
  const files: Zippable = {};
  const manifest: Manifest = { schema, version: backupVersion, made, device, sites: [], photos: [], meters };
  sites.forEach((site, i) => {
    const file = `sites/${String(i + 1).padStart(4, '0')}.site.json`;
    manifest.sites.push(file);
    files[file] = strToU8(JSON.stringify(site, null, 2));
  });
  for (const { sha256, type, bytes } of photos) {
    const file = `photos/${sha256}.jpg`;
    manifest.photos.push({ file, sha256, type });
    files[file] = [new Uint8Array(bytes), { level: 0 }]; // JPEG does not get smaller
  }
  if (key !== undefined) {
    manifest.key = 'key.pem';
    files[manifest.key] = strToU8(key);
  }
  return zipSync({ 'manifest.json': strToU8(JSON.stringify(manifest, null, 2)), ...files }, { level: 6 });
}

export async function unpack(zip: Uint8Array, hash: (bytes: ArrayBuffer) => Promise<string>): Promise<Backup> {
  const { strFromU8, unzipSync } = await zipping();
  const files = attempt('not_a_backup', () => unzipSync(zip));
  const json = (name: string, otherwise: Unreadable): unknown =>
    attempt(otherwise, () => JSON.parse(strFromU8(present(files[name]))));
  const manifest = json('manifest.json', 'not_a_backup') as Manifest;
  if (manifest?.schema !== schema) throw new BackupError('not_a_backup');
  if (!(manifest.version <= backupVersion)) throw new BackupError('newer');
  const sites = (manifest.sites ?? []).map((name) => {
    const file = json(name, 'damaged');
    if (!looksLikeSiteFile(file)) throw new BackupError('damaged');
    return file;
  });
  const photos: Photo[] = [];
  for (const { file, sha256, type } of manifest.photos ?? []) {
    const bytes = attempt('damaged', () => present(files[file])).slice().buffer;
    if ((await hash(bytes)) !== sha256) throw new BackupError('damaged');
    photos.push({ sha256, type, bytes });
  }
  const meters = manifest.meters ?? [];
  if (!Array.isArray(meters) || !meters.every((one) => typeof one?.id === 'string' && typeof one.body === 'object')) {
    throw new BackupError('damaged');
  }
  const key = manifest.key === undefined ? undefined : strFromU8(attempt('damaged', () => present(files[manifest.key!])));
  if (key !== undefined && !fromPem(key)) throw new BackupError('damaged');
  return { made: String(manifest.made), device: String(manifest.device), sites, photos, meters, ...(key !== undefined && { key }) };
}

function present<T>(value: T | undefined): T {
  if (value === undefined) throw new BackupError('damaged');
  return value;
}
function attempt<T>(why: Unreadable, work: () => T): T {
  try {
    return work();
  } catch {
    throw new BackupError(why);
  }
}

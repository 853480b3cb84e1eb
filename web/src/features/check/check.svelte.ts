// A signed record looked at, with the files that go with it: nothing of them is kept.
import { checkRecord, ed25519, RecordError, type Checked, type Unreadable } from '../../data/signature';
import { sha256 } from '../../data/photos';
import { isZip, unzipped, ZipError, type Unopened } from '../../data/unzipped';
import { keyLetters } from '../../data/signing';
import { picturesOf, type SiteFile } from '../../data/site_file';
import type { Photo } from '../../data/book';
import { book, t } from '../../session.svelte';

/** Files that were opened elsewhere, to be looked at on the screen for it. */
export const checking: { files: File[] } = $state({ files: [] });

export interface Looked {
  why?: Unreadable | Unopened; // it cannot be read as a record
  checked?: Checked;
  site?: string; // whose record it is, in its own words
  mine: boolean; // this device's key signed it
  attachments: { name: string; found: 'same' | 'changed' | 'not_there' }[];
  strangers: string[]; // files that the record does not have
  pictures: Photo[]; // of those that it has, unchanged
}

const first = '{"schema":"drawoff.record"';
// As text a byte-order mark before it is left out, which is three bytes.
const isRecord = async (file: File) => (await file.slice(0, first.length + 3).text()).startsWith(first);

/** The files, in place of a zip those in it. */
async function opened(files: File[]): Promise<File[]> {
  const out: File[] = [];
  for (const file of files) out.push(...((await isZip(file)) ? await unzipped(file) : [file]));
  return out;
}

/** Whether there is something for the screen that checks: a record, or a zip that it refuses. */
export async function holdsRecord(files: File[]): Promise<boolean> {
  try {
    return (await Promise.all((await opened(files)).map(isRecord))).includes(true);
  } catch (error) {
    if (error instanceof ZipError) return true;
    throw error;
  }
}

/** The first record among the files, checked, and the others held against it. */
export async function lookAt(given: File[]): Promise<Looked> {
  const none = { mine: false, attachments: [], strangers: [], pictures: [] };
  try {
    return await lookInto(await opened(given));
  } catch (error) {
    if (!(error instanceof RecordError || error instanceof ZipError)) throw error;
    return { why: error.why, ...none };
  }
}
async function lookInto(files: File[]): Promise<Looked> {
  const records = await Promise.all(files.map(isRecord));
  const record = files[records.indexOf(true)];
  if (!record) throw new RecordError('not_a_record');
  const checked = await checkRecord(new Uint8Array(await record.arrayBuffer()), await ed25519());
  const others = await Promise.all(
    files
      .filter((file) => file !== record)
      .map(async (file) => {
        const bytes = await file.arrayBuffer();
        return { name: file.name, bytes, hash: await sha256(bytes) };
      }),
  );
  const listed = new Set(checked.attachments.map((one) => one.sha256));
  const named = new Set(checked.holds ? siteOf(checked).entries.flatMap(picturesOf) : []);
  const goesBy = (file: string, { sha256: hash, name }: { sha256: string; name?: string | undefined }) => file === name || file === `${hash}.jpg`;
  const changed = new Set(
    checked.attachments
      .filter((one) => !others.some(({ hash }) => hash === one.sha256))
      .flatMap((one) => others.filter(({ name }) => goesBy(name, one)).map(({ name }) => name)),
  );
  const site = checked.holds ? siteOf(checked).entries.filter(({ kind }) => kind === 'site').at(-1)?.body['name'] : undefined;
  return {
    checked,
    ...(typeof site === 'string' && { site }),
    mine: checked.fingerprint === (await keyLetters(book)),
    // By its hash, whatever it is called now; else what has its name is another file.
    attachments: checked.attachments.map(({ sha256: hash, name }) => ({
      name: name ?? `${t('app.check.picture')} ${hash.slice(0, 8)}`,
      found: others.some((one) => one.hash === hash)
        ? 'same'
        : others.some((one) => goesBy(one.name, { sha256: hash, name }))
          ? 'changed'
          : 'not_there',
    })),
    // One that was changed is told of already.
    strangers: others.filter(({ hash, name }) => !listed.has(hash) && !changed.has(name)).map(({ name }) => name),
    pictures: others.filter(({ hash }) => named.has(hash)).map(({ hash, bytes }) => ({ sha256: hash, type: 'image/jpeg', bytes })),
  };
}

/** The entries of a record that holds, as a site file. */
export const siteOf = ({ entries }: Checked): SiteFile => ({
  schema: 'drawoff.site',
  version: 1,
  entries: entries.map((line) => JSON.parse(line) as SiteFile['entries'][number]),
});

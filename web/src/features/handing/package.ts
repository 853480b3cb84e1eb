// All that goes to the customer, made from what is kept: every paper, the photos and drawn
// signatures, and the signed record over them. The same entries give the same files.
import { signRecord, ed25519, type Attachment } from '../../data/signature';
import { sha256 } from '../../data/photos';
import { deviceKey, lettersOf } from '../../data/signing';
import type { Paper } from '../../engine/questions';
import { book } from '../../session.svelte';
import { printPaper } from '../papers/print';
import type { Site } from '../site/site.svelte';

export interface Package {
  letters: string; // of the key
  files: File[];
  incomplete: boolean; // letters without a font came out as empty boxes
}

const papers: Paper[] = ['record', 'users', 'notice', 'label', 'source'];

/** Of a site that was handed over; `told` hears how many of how many are made. */
export async function packageOf(site: Site, told: (made: number, of: number) => void): Promise<Package> {
  const over = site.view!.handed_over!;
  const entries = site.file!.entries;
  const key = await deviceKey(book);
  const letters = await lettersOf(key);
  const files: File[] = [];
  const attachments: Attachment[] = [];
  let incomplete = false;
  for (const paper of papers) {
    told(files.length, papers.length);
    const printed = await printPaper(site, paper, letters);
    incomplete ||= printed.incomplete;
    files.push(printed.file);
    attachments.push({ sha256: await sha256(await printed.file.arrayBuffer()), name: printed.file.name });
  }
  for (const hash of hashes(entries)) {
    attachments.push({ sha256: hash });
    const photo = await book.photo(hash);
    if (photo) files.push(new File([photo.bytes], `${hash}.jpg`, { type: photo.type }));
  }
  const record = await signRecord({ entries, attachments, by: over.said.technician, at: over.at }, key, await ed25519());
  // A text to the phone: then its share sheet takes it.
  files.push(new File([record], `${site.fileName}.record.txt`, { type: 'text/plain' }));
  return { letters, files, incomplete };
}

// Every picture that an entry names, as src/book/signature.h has it.
function hashes(entries: { kind: string; body: Record<string, unknown> }[]): Set<string> {
  const named = { photo: ['sha256'], handed_over: ['technician_signature', 'receiver_signature'] } as Record<string, string[]>;
  const all = entries.flatMap(({ kind, body }) => (named[kind] ?? []).map((key) => body[key]));
  return new Set(all.filter((one): one is string => typeof one === 'string' && /^[0-9a-f]{64}$/.test(one)));
}

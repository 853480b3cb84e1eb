// All that goes to the customer, made from what is kept: every paper, the photos and drawn signatures, and
// the signed record over them.
import { signRecord, ed25519, type Attachment } from '../../data/signature';
import { sha256 } from '../../data/photos';
import { deviceKey, lettersOf } from '../../data/signing';
import { picturesOf } from '../../data/site_file';
import { EngineError } from '../../engine/bridge';
import type { Paper } from '../../engine/questions';
import { book } from '../../session.svelte';
import { printPaper, type Moment } from '../papers/print';

export interface Package {
  letters: string; // of the key; '' where it was not signed here
  papers: File[];
  pictures: File[];
  record?: File;
  incomplete: boolean; // letters without a font came out as empty boxes
  instead: boolean; // the papers are in English: their own language is not on this phone
  faults: string[]; // why a paper could not be made; the record holds without it
}

const papers: Paper[] = ['record', 'users', 'notice', 'label', 'source'];

/** Of a site that was handed over; signed only where that was done on this device. `told` hears which paper is being made. */
export async function packageOf(site: Moment, name: string, here: boolean, told: (n: number, of: number) => void): Promise<Package> {
  const over = site.view.handed_over!;
  const key = here ? await deviceKey(book) : undefined;
  const out: Package = { letters: key ? await lettersOf(key) : '', papers: [], pictures: [], incomplete: false, instead: false, faults: [] };
  const attachments: Attachment[] = [];
  for (const [i, paper] of papers.entries()) {
    told(i + 1, papers.length);
    try {
      const { file, incomplete, instead } = await printPaper(site, paper, out.letters);
      out.incomplete ||= incomplete;
      out.instead ||= instead;
      out.papers.push(file);
      attachments.push({ sha256: await sha256(await file.arrayBuffer()), name: file.name });
    } catch (error) {
      if (!(error instanceof EngineError)) throw error;
      out.faults.push(error.message);
    }
  }
  // The record names every picture; handed out are those that count: what was taken back is nobody's.
  const { technician_signature, receiver_signature } = over.said;
  const count = new Set([...site.view.photos.map(({ photo }) => photo.sha256), technician_signature, receiver_signature]);
  for (const hash of new Set(site.file.entries.flatMap(picturesOf))) {
    attachments.push({ sha256: hash });
    const photo = count.has(hash) ? await book.photo(hash) : undefined;
    if (photo) out.pictures.push(new File([photo.bytes], `${hash}.jpg`, { type: photo.type }));
  }
  if (key) {
    const { entries } = site.file;
    const bytes = await signRecord({ entries, attachments, by: over.said.technician, at: over.at }, key, await ed25519());
    // A text to the phone: then its share sheet takes it.
    out.record = new File([bytes], `${name}.record.txt`, { type: 'text/plain' });
  }
  return out;
}

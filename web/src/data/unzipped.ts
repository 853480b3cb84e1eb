// The files of a zip that came from elsewhere, within bounds: also one that says little of itself and
// unfolds without end is left where it passes them.

export const bounds = { files: 300, bytes: 128 << 20 };
// Unfolded at most a thousandfold before the next look at the bounds.
const piece = 16 << 10;
// A zip's last record: its mark, its length without the comment behind it, and that comment's.
const endMark = 0x06054b50;
const endBytes = 22;
const longestComment = 0xffff;

export type Unopened = 'zip_too_large' | 'zip_damaged';
export class ZipError extends Error {
  constructor(readonly why: Unopened) {
    super(why);
  }
}

const begins = [0x50, 0x4b, 3, 4];
export async function isZip(file: File): Promise<boolean> {
  const bytes = new Uint8Array(await file.slice(0, begins.length).arrayBuffer());
  return begins.every((byte, i) => bytes[i] === byte);
}

/** By their own names, without those of folders; what a computer adds for itself is left out. */
export async function unzipped(zip: File, { files, bytes } = bounds): Promise<File[]> {
  if (zip.size > bytes) throw new ZipError('zip_too_large');
  const { Unzip, UnzipInflate } = await import('./zip'); // not before it is needed
  const out: File[] = [];
  let listed = 0; // folders too
  let begun = 0;
  let whole = 0;
  let held = 0;
  const reader = new Unzip((one) => {
    ++listed;
    if (one.name.endsWith('/')) return;
    if (++begun > files) throw new ZipError('zip_too_large');
    const parts: Uint8Array<ArrayBuffer>[] = [];
    one.ondata = (error, part, last) => {
      if (error) throw error;
      held += part.length;
      if (held > bytes) throw new ZipError('zip_too_large');
      parts.push(part.slice());
      if (!last) return;
      ++whole;
      if (!one.name.startsWith('__MACOSX/')) out.push(new File(parts, one.name.split('/').at(-1)!));
    };
    one.start();
  });
  reader.register(UnzipInflate);
  try {
    const all = new Uint8Array(await zip.arrayBuffer());
    const expected = countIn(all);
    for (let at = 0; at < all.length; at += piece) reader.push(all.subarray(at, at + piece), at + piece >= all.length);
    if (listed !== expected || whole < begun) throw new ZipError('zip_damaged');
  } catch (error) {
    throw error instanceof ZipError ? error : new ZipError('zip_damaged');
  }
  return out;
}

/** How many files its last record counts; one that was cut short has none. */
function countIn(zip: Uint8Array): number | undefined {
  const view = new DataView(zip.buffer);
  for (let at = zip.length - endBytes; at >= Math.max(0, zip.length - endBytes - longestComment); --at) {
    if (view.getUint32(at, true) === endMark) return view.getUint16(at + 10, true);
  }
  return undefined;
}

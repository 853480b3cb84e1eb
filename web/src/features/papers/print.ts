// Papers as PDF files, made on the phone.
import { fromBase64, toBase64 } from '../../data/base64';
import type { SiteFile } from '../../data/site_file';
import type { Body, Paper, View } from '../../engine/questions';
import { ask, book, settings, speak } from '../../session.svelte';
import { scriptFont, type ScriptFont } from './fonts';

export interface PrintedPaper {
  file: File;
  /** Letters without a font came out as empty boxes. */
  incomplete: boolean;
  /** The site's own language is not on this phone, so it is in English. */
  instead: boolean;
}

/** A site as it stood at one moment, so that papers made one after the other agree. */
export interface Moment {
  file: SiteFile;
  view: View;
}

const printed = 6; // photos on a record, the latest
/** Hashes of the photos and drawn signatures that the record prints. */
function picturesOf({ view }: Moment): string[] {
  const photos = view.photos.filter(({ photo }) => photo.of !== 'plate').map(({ photo }) => photo.sha256);
  const { technician_signature, receiver_signature } = view.handed_over?.said ?? {};
  return [...photos.slice(-printed), technician_signature, receiver_signature].filter((one): one is string => !!one);
}

/** Of those who get the papers: the site's own, that in which it was handed over, or this phone's. */
export function languageOf(view: View): string {
  const own = (view.site?.body as Body | undefined)?.['language'] as string | undefined;
  return own ?? (view.handed_over?.holds ? view.handed_over.said.language : null) ?? settings.language;
}

/** `letters` are those of the key that signs, '' where none does. */
export async function printPaper(site: Moment, paper: Paper, letters: string): Promise<PrintedPaper> {
  const wanted = languageOf(site.view);
  const language = (await speak(wanted)) ? wanted : 'en';
  const fonts: ScriptFont[] = [];
  const pictures: { sha256: string; jpeg: string }[] = [];
  if (paper === 'record') {
    for (const sha256 of picturesOf(site)) {
      const photo = await book.photo(sha256);
      if (photo) pictures.push({ sha256, jpeg: toBase64(new Uint8Array(photo.bytes)) });
    }
  }
  // A code that is scanned opens the machine where this app came from.
  const address = `${location.origin}${location.pathname}`;
  const once = () =>
    ask('paper', { site_file: site.file, paper, page: settings.page, units: settings.units, fonts, address, letters, pictures }, { language });
  let made = await once();
  if (made.missing_scripts.length > 0) {
    const found = await Promise.all(made.missing_scripts.map(scriptFont));
    fonts.push(...found.filter((font) => font !== undefined));
    if (fonts.length > 0) made = await once();
  }
  const file = new File([fromBase64(made.pdf)], made.name, { type: 'application/pdf' });
  return { file, incomplete: made.missing_scripts.length > 0, instead: language !== wanted };
}

// Takes in site files: those of another phone, of an office, of the demo town. The engine reads a
// file first; one that it refuses is not kept.
import type { Photo } from '../../data/book';
import { looksLikeSiteFile, type SiteFile } from '../../data/site_file';
import { ask, book, settings, t } from '../../session.svelte';

const demoTown = import.meta.glob<SiteFile>('../../../generated/demo/*.json', { import: 'default' });

/** Once, when the app is new here. */
export async function showDemoTown() {
  if (await book.setting('demo', false)) return;
  for (const load of Object.values(demoTown)) await book.merge(await load(), { demo: true });
  await book.set('demo', true);
}

/** Rejects with the engine's sentence when it refuses the file. */
export async function judge(file: SiteFile) {
  const whole = await book.merged(file);
  await ask('view', { site_file: whole, units: settings.units });
}

/** The key of the site that the text is of, taken in with its pictures; rejects with a sentence when it cannot be read. */
export async function takeIn(text: string, photos: Photo[] = []): Promise<string> {
  const file = parse(text);
  if (!looksLikeSiteFile(file)) throw new Error(t('app.import.not_a_site'));
  await judge(file);
  return book.merge(file, { photos });
}
function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

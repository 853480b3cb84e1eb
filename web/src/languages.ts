// The languages of the app and of its papers. English comes with the app; another's catalogue is
// fetched when it is chosen and kept by the service worker, of the same version as the app, for use
// without signal from then on: docs/decisions/0016-languages.md.
export const languages = ['en', 'es', 'hi'] as const;
export type Language = (typeof languages)[number];

// Made from English, for tests of layout: only the page's address can ask for them.
const pseudo = ['en-XA', 'ar-XB'];
const isKnown = (language: string) => [...languages, ...pseudo].includes(language);

/** What the papers of a language are printed with besides (features/papers/fonts.ts). */
const fonts: Partial<Record<string, string[]>> = { hi: ['fonts/Deva-Regular.ttf', 'fonts/Deva-Bold.ttf'] };
const place = (language: string) => `languages/${language}.json`;

export const direction = (language: string) => (language === 'ar-XB' ? 'rtl' : 'ltr');
/** For dates and numbers: no phone knows how a pseudo-language writes them. */
export const locale = (language: string) => (pseudo.includes(language) ? 'en' : language);

/** The phone's own, as far as there is one of ours. */
export const phones = () =>
  navigator.languages.map((tag) => tag.split('-')[0]!).find((tag) => isKnown(tag)) ?? 'en';

/** The text of a language's catalogue; undefined if it is not to be had now. */
export async function catalogue(language: string): Promise<string | undefined> {
  if (!isKnown(language)) return undefined;
  const response = await fetch(place(language)).catch(() => undefined);
  if (!response?.ok) return undefined;
  void keep([place(language), ...(fonts[language] ?? [])]);
  return response.text();
}

// The service worker is not in charge of the page that it was installed from, so it is told.
async function keep(files: string[]) {
  const registration = await navigator.serviceWorker?.ready;
  registration?.active?.postMessage({ keep: files });
}

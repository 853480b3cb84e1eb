// Nothing unfinished and nothing of one machine: no reminder marks, no absolute path of a home, a
// checkout or a temporary folder.
import { files, lineOf, read, report } from './lib.mjs';

// Spelt in pieces, so that this file passes its own rules.
const marks = new RegExp(`\\b(${['TO' + 'DO', 'FIX' + 'ME', 'X' + 'XX'].join('|')})\\b`, 'g');
const paths = new RegExp(`(?<![\\w.}$*/-])/(${['wo' + 'rk', 'ho' + 'me', 't' + 'mp', 'ro' + 'ot'].join('|')})/[\\w.]`, 'g');
const text =
  /\.(h|cc|cmake|csv|json|md|mjs|js|ts|svelte|css|html|sh|bib|txt|yml)$|^(run|test|lint|validate|LICENSE|\.clang-.*|\.gitignore|\.npmrc)$/;

for (const file of files('.', text)) {
  const content = read(file);
  for (const match of content.matchAll(marks)) {
    report(file, lineOf(content, match.index), `${match[0]}: finish it, or open an issue`);
  }
  for (const match of content.matchAll(paths)) {
    report(file, lineOf(content, match.index), `an absolute path of one machine: ${match[0]}…`);
  }
}

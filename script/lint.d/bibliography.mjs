// Every source key exists in docs/references.bib, and every entry there is used. A key is lower-case
// letters and a year, then perhaps a letter: [pitzer1991], [pitzer1991, eq. 3-30], or the same as a
// string literal of its own or as a cell of a table.
import { files, lineOf, read, report, tokens } from './lib.mjs';

const bibliography = read('docs/references.bib');
const entries = new Map();
for (const match of bibliography.matchAll(/^@\w+\{\s*([^,\s]+)\s*,/gm)) {
  const line = lineOf(bibliography, match.index);
  if (entries.has(match[1])) report('docs/references.bib', line, `the key ${match[1]} stands twice`);
  if (!/^[a-z]+\d{4}[a-z]?$/.test(match[1])) {
    report('docs/references.bib', line, `the key ${match[1]} is not letters and a year`);
  }
  entries.set(match[1], line);
}

const used = new Set();
function cite(key, file, line) {
  used.add(key);
  if (!entries.has(key)) report(file, line, `the source [${key}] is not in docs/references.bib`);
}

const cited = [
  ...files('src', /\.(h|cc)$/),
  ...files('apps', /\.(h|cc)$/),
  ...files('tests', /\.(h|cc|json|md)$/),
  ...files('data', /\.(csv|json)$/),
  ...files('docs/models', /\.md$/),
  ...files('docs/decisions', /\.md$/),
];
for (const file of cited) {
  const text = read(file);
  for (const group of text.matchAll(/\[([a-z]+\d{4}[a-z]?\b[^\]\n]*)\]/g)) {
    // One bracket may hold several: [plummer1982; davies1962, table 2].
    for (const part of group[1].split(';')) {
      const key = part.trim().match(/^([a-z]+\d{4}[a-z]?)(?=,|\s|$)/);
      if (key) cite(key[1], file, lineOf(text, group.index));
    }
  }
  if (/\.(h|cc)$/.test(file)) {
    for (const token of tokens(text)) {
      if (token.kind === 'string' && /^[a-z]{3,}(1[6-9]|20)\d\d[a-z]?$/.test(token.text)) {
        cite(token.text, file, token.line);
      }
    }
  } else if (/\.(csv|json)$/.test(file)) {
    // A cell counts as use; only the bracketed form is demanded to exist.
    for (const cell of text.matchAll(/[a-z]+\d{4}[a-z]?/g)) used.add(cell[0]);
  }
}
for (const [key, line] of entries) {
  if (!used.has(key)) report('docs/references.bib', line, `nothing cites [${key}]`);
}

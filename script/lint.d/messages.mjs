// Every message id in code stands in the English catalogue, whose ids are sorted and unique. An id
// is the first string literal of a Message, a Ref or of the message of an Error, and holds a dot.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { files, isTest, lineOf, read, report, root } from './lib.mjs';

const catalogue = 'data/messages/en.json';
const ids = new Set();
if (existsSync(join(root, catalogue))) {
  const text = read(catalogue);
  const listed = Object.keys(JSON.parse(text));
  // JSON.parse keeps the last of two equal keys without a word: look at the text for those.
  const place = (id) => lineOf(text, Math.max(0, text.lastIndexOf(`${JSON.stringify(id)}:`)));
  listed.forEach((id, i) => {
    ids.add(id);
    if (i > 0 && listed[i - 1] > id) report(catalogue, place(id), `${id} is not in sorted order`);
    const key = new RegExp(`^\\s*${JSON.stringify(id).replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}\\s*:`, 'gm');
    if (id.includes('.') && [...text.matchAll(key)].length > 1) report(catalogue, place(id), `${id} stands twice`);
  });
}

const id = /"([A-Za-z0-9_]+(?:\.[A-Za-z0-9_]+)+)"/.source;
const uses = new RegExp(`(?:\\b(?:Message|Ref)(?:\\s+\\w+)?\\s*[{(]|\\bErrorKind::k\\w+\\s*,\\s*\\{)\\s*${id}`, 'g');
for (const file of [...files('src', /\.(h|cc)$/), ...files('apps', /\.(h|cc)$/)]) {
  if (isTest(file)) continue;
  const text = read(file).replace(/\/\/[^\n]*/g, '');
  for (const use of text.matchAll(uses)) {
    if (!ids.has(use[1])) report(file, lineOf(text, use.index), `${use[1]} is not in ${catalogue}`);
  }
}

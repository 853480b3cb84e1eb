// No sentence for people in code: the engine returns message ids, and the words live in
// data/messages/. Refused is a string literal of three words or more that starts with a capital or
// ends with a full stop. For what no person reads, say so beside it: // not for people
import { files, isTest, read, report, tokens } from './lib.mjs';

const words = /\p{L}{2,}[,;:]? +\p{L}+[,;:]? +\p{L}{2,}/u;
const isSentence = (text) => {
  const plain = text.replace(/\\n/g, ' ').trim();
  return words.test(plain) && (/^[A-Z]/.test(plain) || /[.!?]$/.test(plain));
};

for (const file of [...files('src', /\.(h|cc)$/), ...files('apps', /\.(h|cc)$/)]) {
  if (isTest(file)) continue;
  const text = read(file);
  const lines = text.split('\n');
  const list = tokens(text);
  list.forEach((token, i) => {
    if (token.kind !== 'string' || !isSentence(token.text)) return;
    const before = list[i - 1]?.text ?? '';
    if (/\b(CHECK|static_assert)\s*\([^;]*$/.test(before) || /#\s*include\s*$/.test(before)) return;
    const last = token.line + token.text.split('\n').length - 1;
    const beside = lines.slice(Math.max(0, token.line - 2), last).join('\n');
    if (beside.includes('// not for people')) return;
    report(file, token.line, `a sentence for people in code: "${token.text.slice(0, 60)}"`);
  });
}

// What the lints share: walking the sources, reading C++ into comments and string literals, and
// reporting. Every lint takes the root folder as its argument, so that test.mjs can show it samples.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';

export const root = process.argv[2] ?? '.';
const skipped = new Set(['build', 'node_modules', '.git']);

// Paths below the root, of files below `folder` whose name matches `pattern`, sorted.
export function files(folder, pattern) {
  const found = [];
  const walk = (path) => {
    for (const entry of readdirSync(path, { withFileTypes: true })) {
      if (skipped.has(entry.name)) continue;
      const full = join(path, entry.name);
      if (entry.isDirectory()) walk(full);
      else if (entry.isFile() && pattern.test(entry.name)) found.push(relative(root, full));
    }
  };
  const start = join(root, folder);
  if (existsSync(start)) walk(start);
  return found.sort();
}

export const read = (file) => readFileSync(join(root, file), 'utf8');
export const isTest = (file) => /_(test|benchmark)\.(cc|h)$/.test(file);

// C++ text as a list of {kind: 'code' | 'comment' | 'string', text, line}. A string's text is its
// content without quotes; literals that only white space parts are joined, as the compiler does.
export function tokens(source) {
  const token =
    /\/\/[^\n]*|\/\*[\s\S]*?\*\/|(?:u8|[uUL])?R"([^(\s]*)\(([\s\S]*?)\)\1"|"((?:[^"\\\n]|\\[\s\S])*)"|'(?:[^'\\\n]|\\.)+'/g;
  const result = [];
  let at = 0;
  let line = 1;
  const add = (kind, text, length) => {
    const last = result[result.length - 1];
    const before = result[result.length - 2];
    if (kind === 'string' && last?.kind === 'code' && !last.text.trim() && before?.kind === 'string') {
      result.pop();
      before.text += text;
    } else {
      result.push({ kind, text, line });
    }
    line += source.slice(at, at + length).split('\n').length - 1;
    at += length;
  };
  for (const match of source.matchAll(token)) {
    // 1'000: an apostrophe between digits parts them and opens nothing.
    if (match[0][0] === "'" && /[0-9a-fA-F]/.test(source[match.index - 1] ?? '')) continue;
    if (match.index < at) continue;
    if (match.index > at) add('code', source.slice(at, match.index), match.index - at);
    const comment = match[0].startsWith('//') || match[0].startsWith('/*');
    const quoted = match[2] ?? match[3];
    add(comment ? 'comment' : quoted === undefined ? 'code' : 'string', quoted ?? match[0], match[0].length);
  }
  if (at < source.length) add('code', source.slice(at), source.length - at);
  return result;
}

export const lineOf = (text, index) => text.slice(0, index).split('\n').length;

let found = 0;
export function report(file, line, message) {
  found += 1;
  console.error(`${file}:${line}: ${message}`);
}
process.on('exit', (status) => {
  if (status === 0 && found > 0) process.exitCode = 1;
});

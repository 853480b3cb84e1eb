// clang-tidy over the engine and the commands. A file is looked at again only when it, a header of
// ours that it includes or the settings have changed: what passed is remembered under build/tidy/.
//
// Most of the time goes into the headers of libraries, which every check walks anew for each file. So
// files of a room are read some at a time, as one. Where that finds anything, each is read alone, and
// what is found then counts. (Two or three checks, such as that of unused using-declarations, look at
// the one file they are given, and so see only what is read alone.)
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism, cpus } from 'node:os';
import { dirname, resolve } from 'node:path';
import { files, isTest, read, report } from './lib.mjs';

const memory = 'build/tidy';
mkdirSync(memory, { recursive: true });
// Without the compiler's precompiled headers, which are another compiler's: so each file must
// include what it uses.
const commands = JSON.parse(readFileSync('build/dev/compile_commands.json', 'utf8')).map((entry) => ({
  ...entry,
  command: entry.command.replace(/ -include \S+cmake_pch\.hxx/g, '').replaceAll(' -Winvalid-pch', ''),
}));
writeFileSync(`${memory}/compile_commands.json`, JSON.stringify(commands));
const known = new Set(commands.map(({ file }) => file));

function withHeaders(file, seen) {
  if (seen.has(file) || !existsSync(file)) return seen;
  seen.add(file);
  for (const include of read(file).matchAll(/^#include "([^"]+)"/gm)) withHeaders(`src/${include[1]}`, seen);
  return seen;
}
function fingerprint(file) {
  const hash = createHash('sha256').update(readFileSync('.clang-tidy'));
  for (const part of withHeaders(file, new Set())) hash.update(part).update(readFileSync(part));
  return hash.digest('hex');
}

const queue = [...files('src', /\.cc$/), ...files('apps', /\.cc$/)]
  .filter((file) => !isTest(file) && [...known].some((path) => path.endsWith(`/${file}`)))
  .map((file) => ({ file, stamp: `${memory}/${fingerprint(file)}` }))
  .filter((job) => !existsSync(job.stamp));

function passes(file, words) {
  return new Promise((done) => {
    const child = spawn('clang-tidy', ['--quiet', file, ...words]);
    let output = '';
    child.stdout.on('data', (data) => (output += data));
    child.stderr.on('data', (data) => (output += data));
    child.on('close', (status) => done({ good: status === 0, output: output.replace(/^\d+ warnings.*\n/gm, '') }));
  });
}
const flagsOf = (file) => commands.find((entry) => entry.file.endsWith(`/${file}`)).command.split(' -o ')[0].split(' ').slice(1);
// A name may hide another file's here, which is no fault of either.
async function together(files, i) {
  const one = `${memory}/together-${i}.cc`;
  writeFileSync(one, files.map((file) => `#include "${resolve(file)}"\n`).join(''));
  return (await passes(one, ['--checks=-bugprone-suspicious-include', '--', ...flagsOf(files[0]), '-Wno-shadow'])).good;
}
async function look(jobs, i) {
  const all = jobs.length > 1 && (await together(jobs.map(({ file }) => file), i));
  for (const { file, stamp } of jobs) {
    const { good, output } = all ? { good: true } : await passes(file, ['-p', memory]);
    if (good) writeFileSync(stamp, '');
    else report(file, 1, `clang-tidy:\n${output}`);
  }
}

// What a file calls its own, between "namespace {" and its end, and what it means by a name of others:
// two files that mean different things by a name are read apart.
function meant(file) {
  const names = new Map();
  for (const [inner] of read(file).matchAll(/^namespace \{$[^]*?^\}  \/\/ namespace$/gm)) {
    for (const [, name] of inner.matchAll(/^(?![ /}#]|namespace|using [\w:]+;).*?\b(\w+)(?= ?[({=;[])/gm)) names.set(name, file);
    for (const [, whole, name] of inner.matchAll(/^using ([\w:]*?(\w+));$/gm)) names.set(name, whole);
  }
  return names;
}
const most = 8; // at a time
const batches = [];
for (const job of queue) {
  const names = [...meant(job.file)];
  const alike = dirname(job.file) + flagsOf(job.file).join(' ');
  const fits = (batch) =>
    batch.jobs.length < most && batch.alike === alike && names.every(([name, what]) => (batch.names.get(name) ?? what) === what);
  let batch = batches.find(fits);
  if (!batch) batches.push((batch = { alike, jobs: [], names: new Map() }));
  batch.jobs.push(job);
  for (const [name, what] of names) batch.names.set(name, what);
}
let begun = 0;
async function worker() {
  for (let batch = batches.shift(); batch; batch = batches.shift()) await look(batch.jobs, (begun += 1));
}
const cores = availableParallelism?.() ?? cpus().length;
await Promise.all(Array.from({ length: cores }, worker));

// clang-tidy over the engine and the commands. A file is looked at again only when it, a header of
// ours that it includes or the settings have changed: what passed is remembered under build/tidy/.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism, cpus } from 'node:os';
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

function run({ file, stamp }) {
  return new Promise((resolve) => {
    const child = spawn('clang-tidy', ['-p', memory, '--quiet', file]);
    let output = '';
    child.stdout.on('data', (data) => (output += data));
    child.stderr.on('data', (data) => (output += data));
    child.on('close', (status) => {
      if (status === 0) writeFileSync(stamp, '');
      else report(file, 1, `clang-tidy:\n${output.replace(/^\d+ warnings.*\n/gm, '')}`);
      resolve();
    });
  });
}
async function worker() {
  for (let job = queue.shift(); job; job = queue.shift()) await run(job);
}
const cores = availableParallelism?.() ?? cpus().length;
await Promise.all(Array.from({ length: cores }, worker));

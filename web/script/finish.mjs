// What is left to do in dist/ after vite: languages and script fonts beside the app, the service worker with the
// list of the app's files, and a compressed copy of each file for hosts that can send it.
import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import { root, wasmFile } from './engine.mjs';

const dist = join(root, 'web/dist');
const fonts = join(dirname(wasmFile), '../../fonts'); // of the same build as the engine

const all = () =>
  readdirSync(dist, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(dist, join(entry.parentPath ?? entry.path, entry.name)))
    .sort();

mkdirSync(join(dist, 'languages'), { recursive: true });
for (const file of readdirSync(join(root, 'web/generated/languages'))) {
  copyFileSync(join(root, 'web/generated/languages', file), join(dist, 'languages', file));
}

const made = all().filter((file) => !/^fonts\/|\.(br|gz)$|^service-worker\.js$/.test(file));
const hash = createHash('sha256');
for (const file of made) hash.update(file).update(readFileSync(join(dist, file)));
const languages = made.filter((file) => file.startsWith('languages/'));
const signing = made.filter((file) => /^assets\/ed25519-[^/]*\.js$/.test(file));
// The phone fetches its large icons itself, when the app is put on its home screen.
const large = made.filter((file) => /^icons\/.*-512\.png$/.test(file));
const app = made.filter((file) => ![...languages, ...signing, ...large].includes(file));
const files = app.map((file) => (file === 'index.html' ? './' : file));
writeFileSync(
  join(dist, 'service-worker.js'),
  readFileSync(join(root, 'web/src/service-worker.js'), 'utf8')
    .replace('__VERSION__', hash.digest('hex').slice(0, 12))
    .replace('__FILES__', JSON.stringify(files))
    .replace('__LANGUAGES__', JSON.stringify(languages))
    .replace('__SIGNING__', JSON.stringify(signing)),
);

if (existsSync(fonts)) {
  mkdirSync(join(dist, 'fonts'), { recursive: true });
  for (const file of readdirSync(fonts).filter((name) => name.endsWith('.ttf'))) {
    copyFileSync(join(fonts, file), join(dist, 'fonts', file));
  }
}

for (const file of all().filter((name) => /\.(html|js|css|json|svg|wasm|webmanifest|ttf)$/.test(name))) {
  const bytes = readFileSync(join(dist, file));
  const quality = file.startsWith('fonts/') ? 5 : 11; // the fonts are many, and each is rarely sent
  const params = { [constants.BROTLI_PARAM_QUALITY]: quality, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length };
  writeFileSync(join(dist, `${file}.br`), brotliCompressSync(bytes, { params }));
  writeFileSync(join(dist, `${file}.gz`), gzipSync(bytes, { level: 9 }));
}

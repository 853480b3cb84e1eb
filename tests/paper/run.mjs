// The printed page from end to end: paper_sample's documents, natively and in WebAssembly, read back
// with Debian's own tools (poppler-utils, zbar-tools). Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { WASI } from 'node:wasi';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const native = process.env.DRAWOFF_PAPER ?? join(root, 'build/release/tests/paper/paper_sample');
const wasm = process.env.DRAWOFF_PAPER_WASM ?? join(root, 'build/wasm/tests/paper/paper_sample.wasm');
const fonts = process.env.DRAWOFF_FONTS ?? join(root, 'build/wasm/fonts');
const scratch = mkdtempSync(join(tmpdir(), 'drawoff-paper-'));
let passed = 0;
let failed = 0;

function run(program, words, options = {}) {
  const done = spawnSync(program, words, { maxBuffer: 1 << 28, ...options });
  if (done.error) throw done.error;
  if (done.status !== 0) throw new Error(`${program} ended with ${done.status}: ${done.stderr}`);
  return { out: done.stdout, err: done.stderr.toString() };
}
async function test(title, body) {
  try {
    await body();
    passed += 1;
  } catch (error) {
    failed += 1;
    console.log(`FAILED ${title}: ${error.message}`);
  }
}
function equal(got, wanted, what) {
  const [a, b] = [JSON.stringify(got), JSON.stringify(wanted)];
  if (a !== b) throw new Error(`${what} is ${a}, not ${b}`);
}
function contains(text, part) {
  if (!text.includes(part)) throw new Error(`${JSON.stringify(part)} is not in ${JSON.stringify(text)}`);
}

// Files as paper_sample reads them.
const bundle = (files) =>
  Buffer.concat(files.flatMap(([name, bytes]) => [Buffer.from(`${name} ${bytes.length}\n`), bytes]));
const allFonts = readdirSync(fonts)
  .sort()
  .map((file) => [file.replace('.ttf', ''), readFileSync(join(fonts, file))]);

const path = (name, ending) => join(scratch, `${name}.${ending}`);
function print(name, files) {
  const input = bundle(files);
  const { out, err } = run(native, [name], { input });
  writeFileSync(path(name, 'in'), input);
  writeFileSync(path(name, 'pdf'), out);
  return { pdf: out, missing: err.split('\n').filter(Boolean) };
}
const module = await WebAssembly.compile(readFileSync(wasm));
async function printInWasm(name) {
  const stdin = openSync(path(name, 'in'), 'r');
  const stdout = openSync(path(name, 'wasm.pdf'), 'w');
  const stderr = openSync(path(name, 'wasm.err'), 'w');
  const wasi = new WASI({ version: 'preview1', args: ['paper_sample', name], env: {}, stdin, stdout, stderr, returnOnExit: true });
  const imports = { wasi_snapshot_preview1: wasi.wasiImport, env: { emscripten_notify_memory_growth() {} } };
  const status = wasi.start(await WebAssembly.instantiate(module, imports));
  for (const file of [stdin, stdout, stderr]) closeSync(file);
  equal(status ?? 0, 0, 'the status');
  return readFileSync(path(name, 'wasm.pdf'));
}

const info = (name) =>
  Object.fromEntries(
    run('pdfinfo', [path(name, 'pdf')])
      .out.toString()
      .split('\n')
      .map((line) => /^([^:]+): *(.*)$/.exec(line))
      .filter(Boolean)
      .map(([, key, value]) => [key, value]),
  );
const words = (name, ...options) => run('pdftotext', [...options, path(name, 'pdf'), '-']).out.toString();
const oneLine = (text) => text.replace(/\s+/g, ' ');

function picture(name, page, resolution = 150) {
  run('pdftoppm', ['-r', `${resolution}`, '-f', `${page}`, '-l', `${page}`, '-singlefile', '-png', path(name, 'pdf'), path(name, `${page}`)]);
  return path(name, `${page}.png`);
}
// The part of a page's points that are dark.
function darkness(name, page) {
  run('pdftoppm', ['-r', '20', '-gray', '-f', `${page}`, '-l', `${page}`, '-singlefile', path(name, 'pdf'), path(name, 'gray')]);
  const pixels = readFileSync(path(name, 'gray.pgm')).subarray(15);
  return pixels.filter((value) => value < 128).length / pixels.length;
}
const codes = (file) => run('zbarimg', ['--quiet', '--raw', '-Sdisable', '-Sqrcode.enable', file]).out.toString().trim().split('\n');

const a4 = '595.276 x 841.89 pts (A4)';
const letter = '612 x 792 pts (letter)';
const documents = [
  { name: 'record-a4', pages: 2, size: a4, title: 'Commissioning record – Ostrel school' },
  { name: 'record-letter', pages: 3, size: letter, title: 'Commissioning record – Ostrel school' },
  { name: 'scripts', pages: 1, size: a4, title: 'Scripts' },
  { name: 'arabic-a4', pages: 1, size: a4, title: 'سجل التشغيل' },
  { name: 'arabic-letter', pages: 1, size: letter, title: 'سجل التشغيل' },
  { name: 'label', pages: 1, size: '198.425 x 104.882 pts', title: 'Label' },
  { name: 'notice', pages: 1, size: a4, title: 'Notice', missing: ['Hani', 'Zyyy'] },
  { name: 'photo', pages: 1, size: letter, title: 'Photos' },
];

for (const { name, pages, size, title, missing = [] } of documents) {
  await test(`${name}: pages, size, title, scripts without a font`, () => {
    const files = [...allFonts];
    if (name === 'photo') {
      run('pdftoppm', ['-r', '40', '-singlefile', '-jpeg', path('record-a4', 'pdf'), path('photo', 'picture')]);
      files.push(['photo', readFileSync(path('photo', 'picture.jpg'))]);
    }
    equal(print(name, files).missing, missing, 'scripts without a font');
    const about = info(name);
    equal([+about.Pages, about['Page size'], about.Title, about['PDF version']], [pages, size, title, '1.7'], 'pdfinfo');
  });
  await test(`${name}: poppler finds no fault`, () => {
    equal(run('pdftotext', [path(name, 'pdf'), '/dev/null']).err, '', 'what pdftotext says');
    equal(run('pdftoppm', ['-r', '30', path(name, 'pdf'), path(name, 'ppm')]).err, '', 'what pdftoppm says');
  });
  await test(`${name}: every font is embedded, a subset, and tells its characters`, () => {
    const rows = run('pdffonts', [path(name, 'pdf')]).out.toString().trim().split('\n').slice(2);
    if (rows.length === 0) throw new Error('there is no font');
    for (const row of rows) {
      if (!/^[A-Z]{6}\+\S+ +CID TrueType +Identity-H +yes yes yes /.test(row)) throw new Error(row);
    }
  });
  await test(`${name}: the same bytes in WebAssembly`, async () => {
    const there = await printInWasm(name);
    if (!there.equals(readFileSync(path(name, 'pdf')))) throw new Error('the bytes differ');
  });
  await test(`${name}: the same bytes again`, () => {
    const again = run(native, [name], { input: readFileSync(path(name, 'in')) }).out;
    if (!again.equals(readFileSync(path(name, 'pdf')))) throw new Error('the bytes differ');
  });
}

await test('the record reads as it was written', () => {
  const text = oneLine(words('record-a4', '-layout'));
  contains(text, 'Efficient, first-class office fittings: AV To Wa ≤ 5 ± 0.2, H₂O, m², 10⁻³, → −3 K, ≈ ½ Ω.');
  contains(text, 'Caution Unplug the machine before you open it.');
  contains(text, 'Product 31 µS/cm');
  contains(text, 'Page 1 of 2');
  contains(text, 'Page 2 of 2');
});
await test('a table that goes on has its head on each page, and every row once', () => {
  for (const name of ['record-a4', 'record-letter']) {
    const sheets = words(name, '-layout').split('\f').filter((sheet) => /Point \d/.test(sheet));
    if (sheets.length < 2) throw new Error(`${name} does not go on`);
    for (const sheet of sheets) contains(oneLine(sheet), 'Test point Expected Reading What it says');
    const rows = [...sheets.join('').matchAll(/Point (\d+)/g)].map((row) => +row[1]);
    equal(rows, Array.from({ length: 34 }, (_, i) => i + 1), `${name}: rows`);
  }
});
await test('heading, words and signatures of the hand-over share a page', () => {
  for (const name of ['record-a4', 'record-letter']) {
    const sheet = words(name).split('\f').find((page) => page.includes('Handed over'));
    contains(sheet, 'A. Example');
    contains(sheet, 'Signature');
  }
});
await test('the link opens its address', () => {
  contains(readFileSync(path('record-a4', 'pdf'), 'latin1'), '/URI (mailto:unit@ostrel.example)');
  contains(run('pdfinfo', ['-url', path('record-a4', 'pdf')]).out.toString(), 'mailto:unit@ostrel.example');
});
await test('language, date and maker stand in the file', () => {
  contains(readFileSync(path('scripts', 'pdf'), 'latin1'), '/Lang (hi)');
  const about = run('pdfinfo', ['-isodates', path('record-a4', 'pdf')]).out.toString();
  contains(about, '2025-03-14T10:30:00Z');
  contains(about, 'Drawoff');
});
await test('Devanagari is shaped, and copied as it was written', () => {
  const text = oneLine(words('scripts', '-layout'));
  contains(text, 'जल परीक्षण अभिलेख');
  contains(text, 'झिल्ली से छाना जाता है।');
  contains(text, '(क्षि, र्क, श्री, द्ध, ज्ञ)।');
});
await test('further scripts are copied as they were written', () => {
  const text = oneLine(words('scripts', '-layout'));
  for (const part of ['Νερό πόσιμο', 'Питьевая вода', 'น้ำดื่มสะอาดสำหรับโรงเรียน', 'পানীয় জল ক্ষুদ্র', 'குடிநீர்', 'త్రాగునీరు']) contains(text, part);
  contains(text, 'Nước uống cho trường học: đã thử, ướt, ngữ.');
  contains(text, 'žluťoučký kůň, łódź');
});
await test('Arabic and Hebrew are copied in reading order', () => {
  const bare = (text) => oneLine(text.replace(/[\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, ''));
  const arabic = bare(words('arabic-a4'));
  for (const part of ['سجل التشغيل', 'مدرسة أوستريل', 'قبل الغشاء', 'نقطة القياس', '3.1 bar', '42 L/h', '17.5 °C']) contains(arabic, part);
  contains(bare(words('scripts')), 'מים לשתייה');
});
await test('a page in a right-to-left language begins at its right edge', () => {
  const box = run('pdftotext', ['-bbox', path('arabic-a4', 'pdf'), '-']).out.toString();
  const places = [...box.matchAll(/yMin="([\d.]+)" xMax="([\d.]+)"/g)].map((word) => [+word[1], +word[2]]);
  const top = Math.min(...places.map(([y]) => y));
  const right = Math.max(...places.filter(([y]) => y < top + 5).map(([, x]) => x));
  const margin = 595.276 - (18 * 72) / 25.4;
  if (Math.abs(right - margin) > 1) throw new Error(`the title ends at ${right}, the margin is at ${margin}`);
});
await test('QR codes are read back', () => {
  equal(codes(picture('record-a4', 1)), ['https://ostrel.example/u/01957a2e'], 'the code');
  equal(codes(picture('label', 1, 300)), ['https://ostrel.example/u/7'], 'the code');
  equal(codes(picture('arabic-letter', 1)), ['https://ostrel.example/u/1'], 'the code');
});
await test('there is ink on every page, and not too much', () => {
  for (const { name, pages } of documents) {
    for (let page = 1; page <= pages; ++page) {
      const part = darkness(name, page);
      if (!(part > 0.0005 && part < 0.3)) throw new Error(`${name}, page ${page}: ${part} of it is dark`);
    }
  }
});
await test('a photo is in the file as it was', () => {
  const jpeg = readFileSync(path('photo', 'picture.jpg'));
  if (!readFileSync(path('photo', 'pdf')).includes(jpeg)) throw new Error('its bytes were changed');
  const rows = run('pdfimages', ['-list', path('photo', 'pdf')]).out.toString().trim().split('\n').slice(2);
  equal(rows.map((row) => row.trim().split(/\s+/)[8]), ['jpeg', 'jpeg', 'jpeg'], 'images');
});
await test('a script without its font leaves boxes, and is told', () => {
  // Zyyy: the Arabic comma behind "°C" belongs to no script, and the text before it is Latin.
  equal(print('scripts', []).missing, ['Arab', 'Beng', 'Cyrl', 'Deva', 'Grek', 'Hebr', 'Taml', 'Telu', 'Thai', 'Zyyy'], 'scripts');
  contains(words('scripts'), 'जल'); // what was written can still be copied
});

rmSync(scratch, { recursive: true });
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

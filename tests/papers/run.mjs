// A site's papers from end to end: `drawoff job FILE --papers FOLDER` against the phone's engine, and
// read back with Debian's own tools. Last line: "N passed, N failed".
//
// The same entries give the same bytes on both; a name in another script is shaped with the font
// that was handed in; the record fits one page where it can; the label's code can be scanned.
import { spawnSync } from 'node:child_process';
import { createHash, generateKeyPairSync } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startEngine } from '../parity/engine.mjs';

const drawoff = process.env.DRAWOFF ?? 'build/release/apps/cli/drawoff';
const wasm = process.env.DRAWOFF_WASM ?? 'build/wasm/apps/wasm/drawoff.wasm';
const fonts = process.env.DRAWOFF_FONTS ?? 'build/wasm/fonts';
const scratch = mkdtempSync(join(tmpdir(), 'drawoff-papers-'));
let passed = 0;
let failed = 0;

function test(title, body) {
  try {
    body();
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
  if (!text.includes(part)) throw new Error(`${JSON.stringify(part)} is not in ${JSON.stringify(text.slice(0, 2000))}`);
}
function match({ status, err }, wanted, part) {
  equal(status, wanted, 'the status');
  contains(err, part);
}
function run(program, ...words) {
  const done = spawnSync(program, words, { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  return { status: done.status, out: done.stdout, err: done.stderr };
}
const oneLine = (text) => text.replace(/\s+/g, ' ');
const asText = (file) => oneLine(run('pdftotext', file, '-').out);
const words = (file) => oneLine(run('pdftotext', '-layout', file, '-').out);
const about = (file, key) => new RegExp(`^${key}: *(.*)$`, 'm').exec(run('pdfinfo', file).out)?.[1];

const engine = startEngine(wasm);
const site = (name) => JSON.parse(readFileSync(`examples/${name}.site.json`, 'utf8'));
const font = (script) => ({
  script,
  regular: readFileSync(join(fonts, `${script}-Regular.ttf`)).toString('base64'),
  bold: readFileSync(join(fonts, `${script}-Bold.ttf`)).toString('base64'),
});
// Writes the site and its papers; the folder that they stand in.
function papers(name, file, ...options) {
  const input = join(scratch, `${name}.site.json`);
  const folder = join(scratch, name);
  writeFileSync(input, JSON.stringify(file));
  const { status, out, err } = run(drawoff, 'job', input, '--papers', folder, ...options);
  equal([status, err], [0, ''], 'status and complaints');
  for (const paper of ['source.pdf', 'record.pdf', 'label.pdf', 'water-path.svg']) contains(out, paper);
  return folder;
}
const onPhone = (input) => {
  const answer = engine.request({ name: 'paper', input });
  if (answer.error) throw new Error(answer.error);
  return { ...answer, bytes: Buffer.from(answer.pdf, 'base64') };
};

const a4 = '595.276 x 841.89 pts (A4)';
const letter = '612 x 792 pts (letter)';
const standing = {
  school: 'Not yet: some readings lie far outside',
  clinic: 'the machine runs as it should on this water',
  office: 'the machine runs as it should on this water',
};
for (const [name, pages] of Object.entries({ school: 2, clinic: 1, office: 1 })) {
  for (const [page, size] of Object.entries({ A4: a4, Letter: letter })) {
    test(`${name}, ${page}: same bytes from command and phone`, () => {
      const folder = papers(`${name}-${page}`, site(name), '--page', page);
      for (const paper of ['source', 'record', 'label', 'users', 'notice']) {
        const file = readFileSync(join(folder, `${paper}.pdf`));
        if (!onPhone({ site_file: site(name), paper, page }).bytes.equals(file)) throw new Error(`${paper}.pdf differs`);
      }
    });
    test(`${name}, ${page}: what the record says`, () => {
      const record = join(scratch, `${name}-${page}`, 'record.pdf');
      equal(about(record, 'Page size'), size, 'the size');
      if (page === 'A4') equal(+about(record, 'Pages'), pages, 'the number of pages');
      const text = words(record);
      const { entries } = site(name);
      contains(text, entries[0].body.name);
      contains(oneLine(run('pdftotext', record, '-').out), standing[name]);
      for (const part of ['Commissioning record', 'Take care', 'Signature', 'Technician', 'R. Tamsin']) contains(text, part);
      for (const { kind, body } of entries) if (kind === 'reading') contains(text, `${body.value}`);
    });
    test(`${name}, ${page}: the source report is one page that answers`, () => {
      const source = join(scratch, `${name}-${page}`, 'source.pdf');
      equal([about(source, 'Page size'), about(source, 'Pages')], [size, '1'], 'size and pages');
      const text = oneLine(run('pdftotext', source, '-').out);
      for (const part of ['Source report', 'Is reverse osmosis right here?', 'The water', 'What to fit before the machine', 'The reject', 'Known from', 'Take care', 'laboratory', 'air gap']) contains(text, part);
      if (/\bsafe\b/i.test(text)) throw new Error('it says safe');
    });
    test(`${name}, ${page}: fonts are embedded and subset`, () => {
      for (const paper of ['source', 'record', 'label', 'users', 'notice']) {
        const rows = run('pdffonts', join(scratch, `${name}-${page}`, `${paper}.pdf`)).out.trim().split('\n').slice(2);
        if (rows.length < 1) throw new Error('no fonts');
        for (const row of rows) if (!/ yes +yes +yes +\d+ +0$/.test(row)) throw new Error(row);
      }
    });
  }
}

test('the label holds the name of the machine, to scan', () => {
  const label = join(scratch, 'school-A4', 'label');
  run('pdftoppm', '-r', '200', '-singlefile', '-png', `${label}.pdf`, label);
  const machine = site('school').entries.find((entry) => entry.kind === 'machine').id;
  equal(run('zbarimg', '--quiet', '--raw', '-Sdisable', '-Sqrcode.enable', `${label}.png`).out.trim(), `urn:uuid:${machine}`, 'the code');
});
test('the label opens the app where it is served', () => {
  const folder = papers('address', site('school'), '--address', 'https://drawoff.example/');
  const label = join(folder, 'label');
  run('pdftoppm', '-r', '200', '-singlefile', '-png', `${label}.pdf`, label);
  const machine = site('school').entries.find((entry) => entry.kind === 'machine').id;
  equal(
    run('zbarimg', '--quiet', '--raw', '-Sdisable', '-Sqrcode.enable', `${label}.png`).out.trim(),
    `https://drawoff.example/#/machine/${machine}`,
    'the code',
  );
});

// A site whose name is in Devanagari: "क्षेत्रीय विद्यालय", regional school. The i-matra is drawn
// before its consonant and the conjunct is one glyph; copied back, the text is as it was typed.
const deva = site('clinic');
deva.entries[0].body.name = 'क्षेत्रीय विद्यालय';
test('Devanagari: shaped, copied back, same bytes with the font handed in', () => {
  const folder = papers('deva', deva);
  contains(words(join(folder, 'record.pdf')), 'क्षेत्रीय विद्यालय');
  contains(run('pdffonts', join(folder, 'record.pdf')).out, 'Deva');
  const phone = onPhone({ site_file: deva, fonts: [font('Deva')] });
  equal(phone.missing_scripts, [], 'missing scripts');
  // The command carries every font; what is not used leaves no trace in the file.
  if (!phone.bytes.equals(readFileSync(join(folder, 'record.pdf')))) throw new Error('the bytes differ');
});
test('Devanagari: without its font the script is named', () => {
  equal(onPhone({ site_file: deva }).missing_scripts, ['Deva'], 'missing scripts');
});

test('US units, pseudo-language: said on the paper', () => {
  const file = site('school');
  file.entries.find(({ kind }) => kind === 'survey').body.building = { water_hours: 6 };
  const folder = papers('us', file, '--units', 'us');
  contains(words(join(folder, 'record.pdf')), 'psi');
  contains(words(join(folder, 'source.pdf')), 'US gal/day');
  contains(words(join(papers('metric', file), 'source.pdf')), 'L/day');
  const text = words(join(papers('pseudo', site('school'), '--language', 'en-XA'), 'record.pdf'));
  if (text.includes('Commissioning record')) throw new Error('plain English on the pseudo paper');
});

// Whoever gets the papers reads them in their own language; where nobody who grew up with it has read the
// words yet, each page says so. What letters a paper needs is drawn: none is a box.
const headings = { record: 'paper.record', users: 'paper.users', notice: 'paper.notice.ask', source: 'paper.source' };
for (const language of ['es', 'hi']) {
  const catalogue = `data/messages/${language}.json`;
  if (!existsSync(catalogue)) continue;
  const texts = JSON.parse(readFileSync(catalogue, 'utf8'));
  test(`${language}: the papers speak it, with the same bytes from command and phone`, () => {
    const learned = engine.request({ language, catalogue: readFileSync(catalogue, 'utf8') });
    equal(learned, { learned: true }, 'what the engine says of its lesson');
    const folder = papers(`in-${language}`, site('school'), '--language', language);
    for (const paper of [...Object.keys(headings), 'label']) {
      const file = join(folder, `${paper}.pdf`);
      for (const id of paper === 'label' ? [] : [headings[paper], 'paper.not_yet_read']) {
        contains(oneLine(run('pdftotext', file, '-').out).normalize(), texts[id].normalize());
      }
      contains(readFileSync(file, 'latin1'), `/Lang (${language})`);
      const answer = engine.request({
        name: 'paper',
        language,
        input: { site_file: site('school'), paper, fonts: language === 'hi' ? [font('Deva')] : [] },
      });
      equal(answer.missing_scripts, [], 'missing scripts');
      if (!Buffer.from(answer.pdf, 'base64').equals(readFileSync(file))) throw new Error(`${paper}.pdf differs`);
    }
  });
  test(`${language}: the site's own language, unless another is asked for`, () => {
    const file = site('clinic');
    file.entries.find(({ kind }) => kind === 'site').body.language = language;
    const source = (folder) => oneLine(run('pdftotext', join(folder, 'source.pdf'), '-').out).normalize();
    contains(source(papers(`of-${language}`, file)), texts['paper.source'].normalize());
    contains(source(papers(`not-of-${language}`, file, '--language', 'en')), 'Source report');
  });
}

test('a pump that gets too little voltage is named on the record', () => {
  const file = site('school');
  Object.assign(file.entries.find(({ kind }) => kind === 'machine').body.pump, { plate_voltage_V: 24, voltage_V: 20 });
  contains(words(join(papers('voltage', file), 'record.pdf')), 'The pump gets 20 V while it runs');
  equal(/The pump gets/.test(words(join(papers('plain', site('school')), 'record.pdf'))), false, 'the caution without a cause');
});

// A start-up of 24 steps, with a second sediment filter, half an hour after the last reading: one not good, one skipped before it
// is settled, the end not done.
function withStartUp(name) {
  const file = site(name);
  const { filters } = file.entries.find(({ kind }) => kind === 'machine').body;
  filters.unshift({ ...filters[0] });
  const path = join(scratch, 'bare-start-up.site.json');
  writeFileSync(path, JSON.stringify(file));
  const { steps } = JSON.parse(run(drawoff, 'job', path, '--checklist', '--sanitise', '--json').out);
  const last = Math.max(...file.entries.map(({ at }) => Date.parse(at))) + 1_800_000;
  let n = 0;
  const add = (kind, body) => {
    const at = new Date(last + 240_000 * n).toISOString();
    const id = `019cb2bf-2fc0-7381-a528-ceaf0739${(0x9000 + n).toString(16)}`;
    const device = 'phone-1';
    n += 1;
    file.entries.push({ id, at: `${at.slice(0, 19)}Z`, author: 'R. Tamsin', device, clock: `${at}-0000-${device}`, kind, body });
  };
  add('start_up', { sanitise: true });
  for (const { step, part } of steps) {
    const of = { step, ...(part === null || part === undefined ? {} : { part, filter: filters[part].kind }) };
    if (step === 'joints_again') add('step', { ...of, state: 'not_good', note: 'one drop a minute at the pump' });
    else if (step === 'polish_flush') add('step', { ...of, state: 'skipped', note: 'the cartridge comes next week' });
    else if (step !== 'joints_end') add('step', { ...of, state: 'done' });
  }
  return { file, steps };
}
for (const page of ['A4', 'Letter']) {
  test(`the start-up on the record, ${page}`, () => {
    const { file, steps } = withStartUp('school');
    equal(steps.length, 28, 'the number of steps');
    const record = join(papers(`start-up-${page}`, file, '--page', page), 'record.pdf');
    equal(+about(record, 'Pages'), 2, 'the number of pages');
    // As the cells stand: those of a row beside each other, their lines below.
    const text = oneLine(run('pdftotext', record, '-').out);
    for (const part of [
      'Start-up', 'How it stands', '1. Electricity off', '27. Joints: dry at the end?', 'Fit the cartridge (Carbon filter)', 'UTC.',
      'still open. one drop a minute at the pump', 'Not done.', 'before a step that comes first: the cartridge comes next week',
    ]) contains(text, part);
    if (!onPhone({ site_file: file, paper: 'record', page }).bytes.equals(readFileSync(record))) throw new Error('record.pdf differs');
  });
}
test('the job tells how the start-up stands', () => {
  const path = join(scratch, 'job-steps.site.json');
  const { file, steps } = withStartUp('school');
  writeFileSync(path, JSON.stringify(file));
  // One is not good, one is not done; what was skipped counts as settled.
  contains(oneLine(run(drawoff, 'job', path).out), `Start-up ${steps.length - 2} of ${steps.length} steps are done`);
  const said = JSON.parse(run(drawoff, 'job', path, '--json').out).steps;
  equal(said.filter(({ settled }) => !settled).map(({ key, state }) => `${key} ${state}`), ['joints_again not_good', 'joints_end null'], 'the open ones');
  equal(said.find(({ state }) => state === 'skipped').note, 'the cartridge comes next week', 'the reason');
});
test('a machine that is started up again has a commissioning record again, and says of which day', () => {
  const title = (file, name) => asText(join(papers(name, file), 'record.pdf')).slice(0, 400);
  const { file } = withStartUp('school');
  const reading = { ...file.entries.find(({ kind }) => kind === 'reading') };
  const at = (entry, day, n) => ({ ...entry, id: `019cb2bf-2fc0-7381-a528-ceaf0739b00${n}`, at: `2026-${day}T08:00:00Z`, clock: `2026-${day}T08:00:00.000Z-0000-phone-1` });
  equal(/Start-up of/.test(title(file, 'title-first')), false, 'which start-up, on the first record');
  contains(title(file, 'title-first'), 'Commissioning record');
  file.entries.push(at(reading, '04-20', 1));
  contains(title(file, 'title-visit'), 'Visit record');
  const later = (entry, n) => ({ ...at(entry, '05-20', n), clock: `2026-05-20T08:00:00.000Z-000${n}-phone-1` });
  file.entries.push(later({ ...reading, kind: 'start_up', body: {} }, 2), later(reading, 3));
  const again = title(file, 'title-again');
  for (const part of ['Commissioning record', 'Start-up of 2026-05-20']) contains(again, part);
});
test('the label tells of a first day that holds, and whether it is settled', () => {
  const label = (file, name) => asText(join(papers(name, file), 'label.pdf'));
  const clinic = site('clinic');
  contains(label(clinic, 'label-provisional'), 'Provisional');
  // Readings that no such machine gives are not its own, then and at any later visit.
  equal(/First day/.test(label(site('school'), 'label-refused')), false, 'a first day on the label');
  const again = (file) => ({
    ...file,
    entries: [
      ...file.entries,
      ...file.entries.filter(({ kind }) => kind === 'reading').map((entry, n) => {
        const at = new Date(Date.parse(entry.at) + 3 * 86_400_000).toISOString();
        return { ...entry, id: `019cb2bf-2fc0-7381-a528-ceaf0739c0${(n + 16).toString(16)}`, at: `${at.slice(0, 19)}Z`, clock: `${at}-0000-${entry.device}` };
      }),
    ],
  });
  contains(label(again(clinic), 'label-settled'), 'Settled');
  equal(/First day/.test(label(again(site('school')), 'label-refused-later')), false, 'a first day on the label of the visit after');
});
test('no start-up, no section; of another visit it stands only while it is open', () => {
  const heads = (file, name) => /How it stands/.test(words(join(papers(name, file), 'record.pdf')));
  equal(heads(site('school'), 'no-start-up'), false, 'without a start-up');
  const { file } = withStartUp('school');
  const reading = { ...file.entries.find(({ kind }) => kind === 'reading') };
  const later = (days, n) => ({
    ...reading, id: `019cb2bf-2fc0-7381-a528-ceaf0739a00${n}`, at: `2026-03-${days}T08:00:00Z`, clock: `2026-03-${days}T08:00:00.000Z-0000-phone-1`,
  });
  file.entries.push(later(20, 1), later(30, 2));
  equal(heads(file, 'open-start-up'), true, 'while it is open');
  const settled = { ...file, entries: file.entries.map((e) => (e.body.state === 'not_good' ? { ...e, body: { ...e.body, state: 'done' } } : e)) };
  const last = (day) => ({ ...settled, entries: [...settled.entries, { ...later(day, 3), kind: 'step', body: { step: 'joints_end', state: 'done' } }] });
  equal(heads(last(19), 'settled-start-up'), false, 'settled before the visit before');
  equal(heads(last(21), 'late-start-up'), true, 'settled since the visit before');
});

// Handed over after the last reading, with two drawn signatures and photos; the pictures are the smallest JPEG there is.
const tiny = (grey) =>
  Buffer.from(`ffd8ffc0000b080010001001011100ffda0008010100003f00${grey}ffd9`, 'hex');
const hash = (bytes) => createHash('sha256').update(bytes).digest('hex');
function withHandOver(body, name = 'office') {
  const file = site(name);
  const device = 'phone-1';
  const add = (n, kind, what) =>
    file.entries.push({ id: `019d8b5e-000${n}-7000-8000-000000000009`, at: '2026-12-01T18:00:00Z', author: 'R. Tamsin', device, clock: `2026-12-01T18:00:00.000Z-000${n}-${device}`, kind, body: what });
  add(1, 'photo', { sha256: hash(tiny('10')), of: 'work', note: 'as it hangs' });
  add(2, 'photo', { sha256: hash(tiny('20')), of: 'plate' });
  add(3, 'handed_over', body);
  return file;
}
const taken = { technician: 'R. Tamsin', technician_signature: hash(tiny('30')), receiver: 'M. Orsolt', role: 'caretaker', receiver_signature: hash(tiny('40')) };
const pictures = join(scratch, 'pictures');
mkdirSync(pictures);
for (const grey of ['10', '20', '30', '40']) writeFileSync(join(pictures, `${grey}.jpg`), tiny(grey));
const images = (file) => run('pdfimages', '-list', file).out.trim().split('\n').length - 2;
test('handed over: names, drawn signatures and photos on the record, same bytes on the phone', () => {
  const file = withHandOver(taken);
  const record = join(papers('handed', file, '--pictures', pictures), 'record.pdf');
  const text = oneLine(run('pdftotext', record, '-').out);
  for (const part of ['M. Orsolt, caretaker', 'R. Tamsin', '2026-12-01', 'as it hangs']) contains(text, part);
  equal(images(record), 3, 'the number of pictures'); // a plate is not printed
  const jpegs = ['10', '30', '40'].map((grey) => ({ sha256: hash(tiny(grey)), jpeg: tiny(grey).toString('base64') }));
  if (!onPhone({ site_file: file, paper: 'record', pictures: jpegs }).bytes.equals(readFileSync(record))) throw new Error('record.pdf differs');
  equal(images(join(papers('handed-bare', file), 'record.pdf')), 0, 'pictures where none are at hand');
});
const page = (file, n) => oneLine(run('pdftotext', '-f', `${n}`, '-l', `${n}`, file, '-').out);
test('a record that goes over: the caution stands with the verdict, the signatures with what is signed', () => {
  for (const [language, caution, signed] of [['en', 'Take care', 'Signed here: Commissioning record'], ['es', 'Tenga cuidado', 'Se firma aquí: Acta de puesta en marcha']]) {
    const record = join(papers(`over-${language}`, site('school'), '--language', language), 'record.pdf');
    equal(+about(record, 'Pages'), 2, 'the number of pages');
    contains(page(record, 1), caution);
    const last = page(record, 2);
    for (const part of [signed, 'R. Tamsin']) contains(last, part);
    if (page(record, 1).includes(signed)) throw new Error('it is signed on page 1');
  }
});
test('a signed record of a plain visit has one page, with all that is signed', () => {
  const key = join(scratch, 'one-page.pem');
  writeFileSync(key, generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' }), { mode: 0o600 });
  const file = withHandOver({ ...taken, firm: 'Tamsin Water', telephone: '+00 12 345', next_visit: '2027-06' }, 'clinic');
  const record = join(papers('one-page', file, '--key', key, '--by', 'R. Tamsin'), 'record.pdf');
  equal(+about(record, 'Pages'), 1, 'the number of pages');
  for (const part of ['Take care', 'M. Orsolt', 'Tamsin Water', 'Signed with the key']) contains(asText(record), part);
});
test('the sheet for those who drink is one page, whatever comes first', () => {
  for (const name of ['school', 'clinic', 'office']) for (const language of ['en', 'es', 'hi']) for (const size of ['A4', 'Letter']) {
    const users = join(papers(`sheet-${name}-${language}-${size}`, site(name), '--language', language, '--page', size), 'users.pdf');
    equal(+about(users, 'Pages'), 1, `the number of pages of ${name}, ${language}, ${size}`);
  }
});
const call = { firm: 'Tamsin Water', telephone: '+00 (12) 345 67 ext. 4', next_visit: '2027-06' };
test('handed over: whom to call and the next visit, on every paper that has room for them', () => {
  const file = withHandOver({ ...taken, ...call });
  const folder = papers('called', file);
  const on = { record: Object.values(call), users: Object.values(call), notice: [call.firm, call.telephone], label: [call.firm, call.telephone] };
  for (const [paper, parts] of Object.entries(on)) {
    const pdf = join(folder, `${paper}.pdf`);
    for (const part of parts) contains(asText(pdf), part);
    if (!onPhone({ site_file: file, paper }).bytes.equals(readFileSync(pdf))) throw new Error(`${paper}.pdf differs`);
  }
  equal(about(join(folder, 'label.pdf'), 'Pages'), '1', 'the pages of the label');
  // Without a firm the telephone is the technician's; without either the lines stay empty.
  contains(asText(join(papers('called-alone', withHandOver({ ...taken, telephone: '12 34' })), 'users.pdf')), 'R. Tamsin');
  equal(/Tamsin/.test(asText(join(papers('called-none', withHandOver(taken)), 'users.pdf'))), false, 'a name on the sheet');
});
test('what the command is told comes before what the hand-over says', () => {
  const file = withHandOver({ ...taken, ...call });
  const sheet = asText(join(papers('called-else', file, '--firm', 'Orsolt Pumps', '--telephone', '98-76', '--next-visit', '2028-01-31'), 'users.pdf'));
  for (const part of ['Orsolt Pumps', '98-76', '2028-01-31']) contains(sheet, part);
  // Of a next visit that a later visit has overtaken nothing is left; whom to call stands.
  const last = file.entries.at(-1);
  file.entries.push({ ...last, id: '019d8b5e-0008-7000-8000-000000000009', clock: last.clock.replace('-0003-', '-0008-'), kind: 'photo', body: { sha256: hash(tiny('10')), of: 'work' } });
  const later = asText(join(papers('called-late', file), 'users.pdf'));
  contains(later, call.telephone);
  equal(later.includes(call.next_visit), false, 'the next visit');
  const input = join(scratch, 'called-late.site.json');
  match(run(drawoff, 'job', input, '--papers', scratch, '--telephone', '12; 34'), 2, 'not a telephone number');
  match(run(drawoff, 'job', input, '--papers', scratch, '--next-visit', 'soon'), 2, 'not a date');
  match(run(drawoff, 'job', input, '--papers', scratch, '--firm', 'x'.repeat(81)), 2, 'longer than 80');
});
test('handed over: who signs on the printed record has a line for it, and the day to write', () => {
  const { technician, receiver, role } = taken;
  const text = asText(join(papers('on-paper', withHandOver({ technician, receiver, role, technician_on_paper: true, receiver_on_paper: true })), 'record.pdf'));
  equal(text.match(/Signature, to be given on this paper/g)?.length, 2, 'the lines to sign on');
  contains(text, 'M. Orsolt, caretaker');
  equal(/Date 2026-12-01|2026-12-01 Date/.test(text), false, 'a day of signing');
});
test('handed over: nobody signed, and why', () => {
  const record = join(papers('nobody', withHandOver({ technician: 'R. Tamsin', nobody: 'would_not_sign' })), 'record.pdf');
  contains(oneLine(run('pdftotext', record, '-').out), 'Nobody signed: they did not want to sign');
});
test('handed over: what was written after it is not signed', () => {
  const file = withHandOver(taken);
  const last = file.entries.at(-1);
  file.entries.push({ ...last, id: '019d8b5e-0009-7000-8000-000000000009', clock: last.clock.replace('-0003-', '-0009-'), kind: 'photo', body: { sha256: hash(tiny('10')), of: 'work' } });
  const record = join(papers('handed-late', file, '--pictures', pictures), 'record.pdf');
  equal(/M\. Orsolt/.test(words(record)), false, 'the name of who took it over before');
  equal(images(record), 2, 'the number of pictures: both photos, no signature');
  contains(oneLine(run(drawoff, 'job', join(scratch, 'handed-late.site.json')).out), 'Something was added after that');
});
test('a key signs the papers: its letters on the record, in both codes, and a record that holds', () => {
  const key = join(scratch, 'key.pem');
  writeFileSync(key, generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' }), { mode: 0o600 });
  const folder = papers('signed', withHandOver(taken), '--pictures', pictures, '--key', key, '--by', 'R. Tamsin', '--address', 'https://drawoff.example/');
  const answer = JSON.parse(run(drawoff, 'verify', join(folder, 'signed.record'), '--attachments', folder, '--json').out);
  equal([answer.holds, answer.not_in_record], [true, []], 'what verify says');
  equal(answer.attachments.map(({ found }) => found), Array(10).fill('same'), 'the attachments');
  contains(words(join(folder, 'record.pdf')), answer.fingerprint);
  for (const [paper, page] of [['label', 1], ['record', 2]]) {
    const picture = join(folder, paper);
    run('pdftoppm', '-r', '200', '-f', `${page}`, '-singlefile', '-png', `${picture}.pdf`, picture);
    const code = run('zbarimg', '--quiet', '--raw', '-Sdisable', '-Sqrcode.enable', `${picture}.png`).out.trim();
    equal(code, `https://drawoff.example/#/machine/${site('office').entries.find(({ kind }) => kind === 'machine').id}/${answer.fingerprint}`, `the code of the ${paper}`);
  }
  writeFileSync(join(folder, 'record.pdf'), readFileSync(join(folder, 'label.pdf')));
  equal(run(drawoff, 'verify', join(folder, 'signed.record'), '--attachments', folder).status, 1, 'the status after a paper was changed');
  match(run(drawoff, 'job', join(scratch, 'signed.site.json'), '--papers', folder, '--key', key), 2, 'go together');
});

test('the water path is well-formed SVG with every reading', () => {
  const file = join(scratch, 'school-A4', 'water-path.svg');
  const text = readFileSync(file, 'utf8');
  for (const { kind, body } of site('school').entries) if (kind === 'reading') contains(text, `${body.value}`);
  equal(run('xmllint', '--noout', file).status, 0, 'the status of xmllint');
});

test('faults have their sentence and status', () => {
  const input = join(scratch, 'school-A4.site.json');
  const page = run(drawoff, 'job', input, '--papers', join(scratch, 'x'), '--page', 'A5');
  equal(page.status, 2, 'the status of an unknown page');
  contains(page.err, 'A4 or Letter');
  const units = run(drawoff, 'job', input, '--papers', join(scratch, 'x'), '--units', 'imperial');
  equal(units.status, 2, 'the status of unknown units');
  const folder = run(drawoff, 'job', input, '--papers', '/dev/null/x');
  equal(folder.status, 74, 'the status of a folder that cannot be');
  contains(folder.err, 'cannot be written');
  const bare = site('school');
  bare.entries = bare.entries.filter((entry) => entry.kind !== 'machine');
  writeFileSync(join(scratch, 'bare.site.json'), JSON.stringify(bare));
  const water = run(drawoff, 'job', join(scratch, 'bare.site.json'), '--papers', join(scratch, 'bare'));
  equal(water.status, 0, 'the status without a machine');
  contains(water.err, 'The site has no machine yet, so only the source report was written.');
  if (existsSync(join(scratch, 'bare', 'record.pdf'))) throw new Error('a record was written all the same');
  equal(about(join(scratch, 'bare', 'source.pdf'), 'Pages'), '1', 'pages of the source report');
});

test('a source report of what strips and a meter said', () => {
  const file = site('school');
  file.entries = file.entries.filter((entry) => entry.kind === 'site' || entry.kind === 'survey');
  file.entries[1].body = JSON.parse(readFileSync('tests/golden/verdict-readings.json', 'utf8')).input.survey;
  writeFileSync(join(scratch, 'strips.site.json'), JSON.stringify(file));
  const done = run(drawoff, 'job', join(scratch, 'strips.site.json'), '--papers', join(scratch, 'strips'));
  equal(done.status, 0, 'the status');
  const source = join(scratch, 'strips', 'source.pdf');
  equal(about(source, 'Pages'), '1', 'the number of pages');
  const text = oneLine(run('pdftotext', source, '-').out);
  for (const part of ['strip or meter', 'usual here', 'tanker', 'Strips and drop tests are no analysis']) contains(text, part);
  if (!onPhone({ site_file: file, paper: 'source' }).bytes.equals(readFileSync(source))) throw new Error('source.pdf differs');
});

rmSync(scratch, { recursive: true });
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

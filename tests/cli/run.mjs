// The command from end to end, as people and scripts use it: answers, sentences, exit statuses.
// bad/ holds 40 site files, each with the one sentence that it must give. Last line:
// "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const drawoff = process.env.DRAWOFF ?? join(root, 'build/release/apps/cli/drawoff');
const scratch = mkdtempSync(join(tmpdir(), 'drawoff-cli-'));
let passed = 0;
let failed = 0;

// What no person may ever see of a program that failed.
const trace = /terminate called|what\(\)|CHECK\(|runtime error|Sanitizer|core dumped|\.cc:\d+|0x[0-9a-f]{6}/;
const base = { PATH: process.env.PATH, TERM: 'xterm-256color', LC_ALL: 'C.UTF-8' };

function run(words, { input = '', env = {} } = {}) {
  const done = spawnSync(drawoff, words, { input, env: { ...base, ...env }, encoding: 'utf8', maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  if (trace.test(done.stderr) || trace.test(done.stdout)) throw new Error(`a trace: ${done.stderr}`);
  if (done.stdout.includes('\u001b[') || done.stderr.includes('\u001b[')) throw new Error('an escape sequence in a pipe');
  return { status: done.status, out: done.stdout, err: done.stderr };
}
// The same on a terminal of util-linux's making; what it shows, line ends as written.
function onTerminal(words, env) {
  const line = [drawoff, ...words].map((word) => `'${word}'`).join(' ');
  const done = spawnSync('script', ['-qec', line, '/dev/null'], { env: { ...base, ...env }, encoding: 'utf8' });
  if (done.error) throw done.error;
  return { status: done.status, out: done.stdout.replaceAll('\r\n', '\n') };
}
function inShell(line) {
  const done = spawnSync('bash', ['--norc', '-c', `set -o pipefail; ${line}`], { env: { ...base, DRAWOFF: drawoff }, encoding: 'utf8' });
  return { status: done.status, out: done.stdout, err: done.stderr };
}

function test(title, body) {
  try {
    body();
    passed += 1;
  } catch (error) {
    failed += 1;
    console.log(`FAILED ${title}: ${error.message}`);
  }
}
function equal(got, wanted, what = 'result') {
  const [a, b] = [JSON.stringify(got), JSON.stringify(wanted)];
  if (a !== b) throw new Error(`${what} is\n  ${a}\nnot\n  ${b}`);
}
function match(text, pattern) {
  if (!pattern.test(text)) throw new Error(`${JSON.stringify(text.slice(0, 400))} does not match ${pattern}`);
}
function oneLine(text) {
  match(text, /^[^\n]+\n$/);
}
// Refused: the status, nothing on standard output, one line on standard error.
function refused(result, status, pattern) {
  equal(result.status, status, 'status');
  equal(result.out, '', 'standard output');
  oneLine(result.err);
  match(result.err, pattern);
}
const file = (name, content) => {
  const path = join(scratch, name);
  writeFileSync(path, content);
  return path;
};

// ---- The command line ----
test('--version', () => equal(run(['--version']), { status: 0, out: 'drawoff 0.1.0\n', err: '' }));
for (const words of [['--help'], ['-h'], ['job', '--help'], ['calc', '--help']]) {
  test(words.join(' '), () => {
    const result = run(words);
    equal([result.status, result.err], [0, '']);
    match(result.out, /^Usage\n  drawoff /m);
    match(result.out, /^Options\n/m);
  });
}
test('without arguments: help, status 2', () => {
  const result = run([]);
  equal([result.status, result.out], [2, '']);
  equal(result.err, run(['--help']).out);
});
for (const [words, pattern] of [
  [['jbo'], /"jbo".*Did you mean job\?/],
  [['job'], /file is missing/],
  [['calc'], /question is missing/],
  [['calc', 'tubr'], /no question "tubr"\. Did you mean tube\?/],
  [['calc', 'tubr', '--help'], /Did you mean tube\?/],
  [['calc', 'tubr', '--schema'], /Did you mean tube\?/],
  [['calc', 'something else\nentirely'], /no question "something else\\u000aentirely"/],
  [['calc', 'tube', 'twice'], /does not know "twice"/],
  [['calc', 'tube', '--in'], /^--in must be given once/],
  [['calc', 'tube', '--in', 'a', '--in', 'b'], /^--in must be given once/],
  [['job', 'a.json', '--jsn'], /"--jsn".*Did you mean --json\?/],
  [['job', 'a.json', '--language', 'xx'], /^--language is "xx"; it must be en, es, hi, en-XA or ar-XB/],
  [['--explode'], /"--explode"/],
  [['calc', 'tube', '--explain=maybe'], /command line/],
]) {
  test(`usage: ${JSON.stringify(words)}`, () => refused(run(words), 2, pattern));
}

// ---- calc ----
const names = run(['calc', '--list'], { env: { COLUMNS: '400' } }).out.trim().split('\n').map((line) => line.split(/\s+/)[0]);
test('--list: a name and a sentence in each line', () => {
  const { status, out, err } = run(['calc', '--list'], { env: { COLUMNS: '400' } });
  equal([status, err], [0, '']);
  if (names.length < 4) throw new Error('fewer than four questions');
  for (const line of out.trim().split('\n')) match(line, /^[a-z]+(-[a-z]+)* {2,}[A-Z].*[.?]$/);
});
for (const name of names) {
  test(`${name} --schema`, () => {
    const { status, out, err } = run(['calc', name, '--schema']);
    equal([status, err], [0, '']);
    const schema = JSON.parse(out);
    for (const kind of ['input', 'output']) {
      equal(schema[kind].$schema, 'https://json-schema.org/draft/2020-12/schema');
      equal(schema[kind].type, 'object');
    }
  });
  test(`${name} --help lists every field of the schema, in words`, () => {
    const { status, out, err } = run(['calc', name, '--help'], { env: { COLUMNS: '400' } });
    equal([status, err], [0, '']);
    for (const key of Object.keys(JSON.parse(run(['calc', name, '--schema']).out).input.properties)) {
      match(out, new RegExp(`^  ${key}(\\[\\])?($|  )`, 'm'));
    }
    // An id in place of its words.
    if (/^ {6}[a-z_]+\.[a-z_]+\.\w+$/m.test(out)) throw new Error(out.match(/^ {6}[a-z_]+\.[a-z_]+\.\w+$/m)[0].trim());
  });
}

const tube = { flow_L_h: 50, length_m: 10, bore_mm: 4.3 };
const asked = JSON.stringify(tube);
test('calc reads standard input and files alike', () => {
  const fromInput = run(['calc', 'tube'], { input: asked });
  equal([fromInput.status, fromInput.err], [0, '']);
  match(fromInput.out, /^\{\n  "/);
  const answer = JSON.parse(fromInput.out);
  // 50 L/h through 4.3 mm: 4 Q/(pi D²), to the digits of double.
  const speed = (4 * 50e-3) / 3600 / (Math.PI * 4.3e-3 ** 2);
  if (Math.abs(answer.velocity_m_s / speed - 1) > 1e-12) throw new Error(`velocity ${answer.velocity_m_s}, not ${speed}`);
  equal(run(['calc', 'tube', '--in', '-'], { input: asked }), fromInput);
  equal(run(['calc', 'tube', '--in', file('tube.json', asked)]), fromInput);
});
test('--explain adds the working', () => {
  const plain = JSON.parse(run(['calc', 'tube'], { input: asked }).out);
  const { working, ...rest } = JSON.parse(run(['calc', 'tube', '--explain'], { input: asked }).out);
  equal(rest, plain);
  equal('working' in plain, false, 'working unasked');
  const velocity = working.find((line) => line.result === 'velocity_m_s');
  equal(velocity.value, plain.velocity_m_s);
  for (const key of ['symbol', 'formula', 'unit', 'source']) match(velocity[key], /./);
  match(JSON.stringify(velocity.inputs), /"Q"/);
});
test('an unknown field is a warning, not an error', () => {
  const { status, out, err } = run(['calc', 'tube'], { input: JSON.stringify({ ...tube, colour: 'blue' }) });
  equal(status, 0);
  equal(out, run(['calc', 'tube'], { input: asked }).out);
  oneLine(err);
  match(err, /^colour is not known here/);
});
for (const [title, input, pattern] of [
  ['nothing', '', /^The input is empty/],
  ['no JSON', 'flow: 5', /^The input is not JSON.*line 1, column 2/],
  ['no object', '[1]', /^The input is \[1\]; it must be an object/],
  ['a missing field', '{"length_m":1,"bore_mm":4}', /^flow_L_h is missing\. Enter .*0 to 100,000/],
  ['a range', JSON.stringify({ ...tube, bore_mm: 0 }), /^bore_mm is 0.mm; it must be from 0\.5 to 200.mm\. Enter /],
  ['a text for a number', JSON.stringify({ ...tube, bore_mm: '4\n3' }), /^bore_mm is "4\\n3"; it must be a number, without quotation marks/],
]) {
  test(`data at fault: ${title}`, () => refused(run(['calc', 'tube'], { input }), 65, pattern));
}

// ---- --ndjson ----
test('--ndjson: an answer a line, in order', () => {
  const flows = [50, 10, 400, 0];
  const input = flows.map((flow_L_h) => JSON.stringify({ ...tube, flow_L_h })).join('\n'); // last line open
  const { status, out, err } = run(['calc', 'tube', '--ndjson'], { input });
  equal([status, err], [0, '']);
  const lines = out.split('\n');
  equal(lines.pop(), '');
  equal(lines.length, flows.length);
  lines.forEach((line, i) => {
    const alone = JSON.parse(run(['calc', 'tube'], { input: JSON.stringify({ ...tube, flow_L_h: flows[i] }) }).out);
    equal(JSON.parse(line), alone);
  });
});
test('--ndjson: a bad line has its error in its place, the rest goes on', () => {
  const input = [asked, '{"flow_L_h":', asked, '', JSON.stringify({ ...tube, bore_mm: -1 }), `${asked}\r`, ''].join('\n');
  const { status, out, err } = run(['calc', 'tube', '--ndjson'], { input });
  equal([status, err], [65, '']);
  const answers = out.trim().split('\n').map((line) => JSON.parse(line));
  equal(answers.map((answer) => answer.line ?? 'good'), ['good', 2, 'good', 4, 5, 'good']);
  equal(Object.keys(answers[1]), ['error', 'line']);
  match(answers[4].error, /^bore_mm is -1.mm; it must be from/);
});
test('--ndjson: warnings name their line', () => {
  const { status, out, err } = run(['calc', 'tube', '--ndjson'], { input: `${asked}\n${JSON.stringify({ ...tube, x: 1 })}\n` });
  equal([status, out.trim().split('\n').length], [0, 2]);
  oneLine(err);
  match(err, /^Line 2: x is not known here/);
});
test('--ndjson: nothing in, nothing out', () => {
  equal(run(['calc', 'tube', '--ndjson'], { input: '' }), { status: 0, out: '', err: '' });
});

// ---- Files that cannot be read ----
for (const words of [['job', join(scratch, 'none.json')], ['calc', 'tube', '--in', join(scratch, 'none.json')],
  ['calc', 'tube', '--ndjson', '--in', join(scratch, 'none.json')]]) {
  test(`missing file: ${words.slice(0, 3).join(' ')}`, () => refused(run(words), 66, /none\.json" cannot be read: there is no such file/));
}
test('a folder is no file', () => refused(run(['job', scratch]), 66, /cannot be read: it is a folder/));

// ---- job ----
const examples = readdirSync(join(root, 'examples')).filter((name) => name.endsWith('.site.json')).sort();
test('there are examples', () => {
  if (examples.length < 3) throw new Error(`only ${examples.length}`);
});
for (const example of examples) {
  const path = join(root, 'examples', example);
  const before = readFileSync(path);
  const words = run(['job', path]);
  test(`job ${example}: in words`, () => {
    equal([words.status, words.err], [0, '']);
    match(words.out, /^How it should run$/m);
    const site = JSON.parse(before).entries.find((entry) => entry.kind === 'site');
    if (!words.out.startsWith(site.body.name)) throw new Error(`the site's name is not the title: ${words.out.slice(0, 80)}`);
    for (const line of words.out.split('\n')) {
      if ([...line].length > 80) throw new Error(`a line of ${[...line].length} characters: ${line}`);
    }
    // An id that nobody put into words, or an argument that nobody gave.
    if (/[a-z]+\.[a-z_]+\.[a-z_]+|\{[a-z_]+\}/.test(words.out)) throw new Error(words.out.match(/[a-z]+\.[a-z_]+\.[a-z_]+|\{[a-z_]+\}/)[0]);
  });
  test(`job ${example}: the same again, and from standard input`, () => {
    equal(run(['job', path]), words);
    equal(run(['job', '-'], { input: before }), words);
  });
  test(`job ${example}: --json`, () => {
    const { status, out, err } = run(['job', path, '--json']);
    equal([status, err], [0, '']);
    if (Object.keys(JSON.parse(out)).length < 2) throw new Error('hardly an answer');
    equal('working' in JSON.parse(out), false, 'working unasked');
  });
  test(`job ${example}: --explain shows formula and source`, () => {
    const { working } = JSON.parse(run(['job', path, '--json', '--explain']).out);
    if (!(working.length > 10)) throw new Error('hardly any working');
    const shown = run(['job', path, '--explain'], { env: { COLUMNS: '400' } });
    equal(shown.status, 0);
    for (const line of working) {
      if (!shown.out.includes(`  ${line.result}: `)) throw new Error(`${line.result} is not shown`);
      if (!shown.out.includes(`[${line.source}]`)) throw new Error(`${line.source} is not shown`);
    }
  });
  test(`job ${example}: in Spanish, with its decimal comma`, () => {
    const { status, out } = run(['job', path, '--language', 'es'], { env: { COLUMNS: '500' } });
    equal(status, 0, 'status');
    if (!/Cómo debe trabajar/.test(out)) throw new Error('its heading is not there');
    if (!/\d,\d/.test(out)) throw new Error('no decimal comma');
  });
  test(`job ${example}: the pseudo-language reaches every line`, () => {
    const { status, out } = run(['job', path, '--language', 'en-XA'], { env: { COLUMNS: '500' } });
    equal(status, 0);
    for (const line of out.split('\n')) {
      if (/^\s*!? ?[A-Za-z]{4,} [a-z]{3,} [a-z]{3,}/.test(line)) throw new Error(`in plain English: ${line}`);
    }
  });
  test(`job ${example}: fits a narrow terminal`, () => {
    const { out } = run(['job', path], { env: { COLUMNS: '50' } });
    for (const line of out.split('\n')) {
      if ([...line].length > 50) throw new Error(`a line of ${[...line].length} characters: ${line}`);
    }
    equal(out.replace(/\s+/g, ''), words.out.replace(/\s+/g, ''), 'the text without its spaces');
  });
  test(`job ${example}: the file is as it was`, () => {
    if (!before.equals(readFileSync(path))) throw new Error('it was changed');
  });
}
test('unknown fields and kinds of a site file are warnings', () => {
  const site = JSON.parse(readFileSync(join(root, 'examples', examples[0])));
  const plain = run(['job', join(root, 'examples', examples[0])]);
  site.made_by = 'an importer';
  site.entries[0].signature = 'x';
  const last = site.entries.at(-1);
  site.entries.push({ ...last, id: '019d8b5e-0009-7000-8000-000000000009', kind: 'sound', body: {} });
  const { status, out, err } = run(['job', '-'], { input: JSON.stringify(site) });
  equal(status, 0);
  equal(out, plain.out);
  match(err, /^entries\[0\]\.signature is not known here/m);
  match(err, /^made_by is not known here/m);
  match(err, /^entries\[\d+\]\.kind is "sound", which is not known here/m);
  equal(err.trim().split('\n').length, 3);
});

// ---- Terminals and pipes ----
const school = join(root, 'examples', examples.at(-1));
const escape = '\u001b[';
test('on a terminal there is colour', () => {
  const { status, out } = onTerminal(['job', school], { COLUMNS: '80' });
  equal(status, 0);
  if (!out.includes(escape)) throw new Error('there is none');
  equal(out.replace(/\u001b\[\d*m/g, ''), run(['job', school]).out);
});
test('an empty NO_COLOR is none', () => match(onTerminal(['--help'], { NO_COLOR: '' }).out, /\u001b\[1m/));
for (const env of [{ NO_COLOR: '1' }, { TERM: 'dumb' }, { TERM: '' }]) {
  test(`no colour with ${JSON.stringify(env)}`, () => {
    const { status, out } = onTerminal(['job', school], { ...env, COLUMNS: '80' });
    equal(status, 0);
    equal(out, run(['job', school]).out);
  });
}
test('JSON is never coloured', () => {
  const { out } = onTerminal(['job', school, '--json'], {});
  equal(JSON.parse(out), JSON.parse(run(['job', school, '--json']).out));
});
test('who closes the pipe has read enough', () => {
  const { status, err } = inShell(`yes '${asked}' | head -n 20000 | "$DRAWOFF" calc tube --ndjson | head -n 1 >/dev/null`);
  equal(err, '');
  // 141 is `yes` or `head` themselves; what we may not be is an error.
  if (![0, 141].includes(status)) throw new Error(`status ${status}`);
  equal(inShell('"$DRAWOFF" calc machine --schema | true').err, '');
});
test('a full disk is said', () => {
  const { status, err } = inShell('"$DRAWOFF" --help >/dev/full');
  equal(status, 74);
  oneLine(err);
});

// ---- Bad files: NN-name.json, and in NN-name.txt the sentence that it must give ----
const bad = readdirSync(join(here, 'bad')).filter((name) => name.endsWith('.json')).sort();
test('the start-up as a checklist, in order, with its cautions', () => {
  const plain = run(['job', join(root, 'examples/school.site.json'), '--checklist']);
  equal([plain.status, plain.err], [0, ''], 'status and complaints');
  const text = plain.out.replace(/\s+/g, ' ');
  const order = ['1. Pull the plug', 'Flush the new tube', 'Sediment filter', 'Carbon filter', 'Read free chlorine', 'Push the membrane in', 'Open the supply slowly', 'Put the unit', 'preservative is gone', 'Set the blend', 'Read temperature'];
  order.reduce((at, part) => {
    const found = text.indexOf(part, at);
    if (found < 0) throw new Error(`${part} is not behind what comes before it`);
    return found;
  }, 0);
  match(text, /! Electricity and water/);
  match(text, /Should show, product flow: [\d.]+ to [\d.]+ L\/h/);
  if (text.includes('sanitiser')) throw new Error('a sanitiser nobody asked for');
  const more = run(['job', join(root, 'examples/school.site.json'), '--checklist', '--sanitise', '--json']);
  equal(more.status, 0, 'the status of the list for programs');
  equal(JSON.parse(more.out).steps.some(({ step }) => step === 'sanitise'), true, 'the step');
  refused(run(['job', join(root, 'examples/school.site.json'), '--checklist', '--papers', scratch]), 2, /goes with none of/);
});

test('there are 40 bad files', () => equal(bad.length, 40));
for (const name of bad) {
  test(`bad/${name}`, () => {
    const path = join(here, 'bad', name);
    const before = readFileSync(path);
    const sentence = readFileSync(path.replace(/\.json$/, '.txt'), 'utf8');
    for (const words of [['job', path], ['job', path, '--json']]) {
      equal(run(words), { status: 65, out: '', err: sentence });
    }
    if (!before.equals(readFileSync(path))) throw new Error('the file was changed');
  });
}

rmSync(scratch, { recursive: true });
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

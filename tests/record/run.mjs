// Signed records from end to end: `drawoff sign` and `drawoff verify`, the app's own code, and OpenSSL
// with the commands of docs/formats/record.md, each against the others. Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const drawoff = process.env.DRAWOFF ?? join(root, 'build/release/apps/cli/drawoff');
const scratch = mkdtempSync(join(tmpdir(), 'drawoff-record-'));
let passed = 0;
let failed = 0;

function run(...words) {
  const done = spawnSync(drawoff, words, { env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8', COLUMNS: '400' }, maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  return { status: done.status, out: done.stdout, said: String(done.stdout), err: String(done.stderr) };
}
function shell(line, env = {}) {
  const done = spawnSync('bash', ['--norc', '-ec', `set -o pipefail; ${line}`], { cwd: scratch, env: { PATH: process.env.PATH, ...env }, encoding: 'utf8' });
  return { status: done.status, out: done.stdout, err: done.stderr };
}
async function test(title, body) {
  try {
    await body();
    passed += 1;
  } catch (error) {
    failed += 1;
    console.log(`FAILED ${title}: ${error.stack}`);
  }
}
function equal(got, wanted, what = 'result') {
  const [a, b] = [JSON.stringify(got), JSON.stringify(wanted)];
  if (a !== b) throw new Error(`${what} is\n  ${a}\nnot\n  ${b}`);
}
function match(text, pattern) {
  if (!pattern.test(text)) throw new Error(`${JSON.stringify(text.slice(0, 600))} does not match ${pattern}`);
}
const file = (name, content, mode = 0o644) => {
  const path = join(scratch, name);
  writeFileSync(path, content);
  chmodSync(path, mode);
  return path;
};
const sha256 = (bytes) => createHash('sha256').update(bytes).digest('hex');
// Numbers from a fixed start [0, 2^32): a xorshift, good enough to pick places.
function numbers(state) {
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state >>> 0;
  };
}

// The app's own code, as one module that Node can load.
const fromWeb = createRequire(join(root, 'web/package.json'));
const bundle = join(root, 'web/node_modules/.drawoff-signature.mjs');
await fromWeb('esbuild').build({ entryPoints: [join(root, 'web/src/data/signature.ts')], bundle: true, format: 'esm', platform: 'node', packages: 'external', outfile: bundle });
const app = await import(pathToFileURL(bundle));
rmSync(bundle);

// ---- A site with a photo, two keys, a record ----
const photo = Buffer.from('ffd8ffc0000b080010001001011100ffd9', 'hex');
const paper = Buffer.from('%PDF-1.4 a paper of three words\n');
const site = JSON.parse(readFileSync(join(root, 'examples/school.site.json')));
const last = site.entries.at(-1);
site.entries.push({ ...last, id: '019d8b5e-0009-7000-8000-000000000009', kind: 'photo', body: { sha256: sha256(photo), of: 'work', note: 'Ödenau · बोरवेल' } });
const sitePath = file('site.json', JSON.stringify(site, null, 2));
mkdirSync(join(scratch, 'files'));
file('files/first.jpg', photo);
const paperPath = file('files/record.pdf', paper);
const keys = [1, 2].map((first) => Uint8Array.from({ length: 32 }, (_, i) => first + i));
const [keyPath, otherPath] = keys.map((key, i) => file(`key-${i}.pem`, app.toPem(key), 0o600));
const words = ['--by', 'R. Tamsin', '--at', '2026-03-03T18:00:00Z', '--attach', paperPath];
const made = run('sign', sitePath, '--key', keyPath, ...words);
const record = made.out;
const recordPath = file('good.record', record);
const json = (...more) => {
  const { status, said, err } = run('verify', ...more, '--json');
  return { status, err, ...JSON.parse(said) };
};
const verifying = (bytes, ...more) => run('verify', file('changed.record', bytes), ...more);

await test('sign: the same bytes again, whatever the order of the entries', () => {
  equal([made.status, made.err], [0, '']);
  equal(run('sign', sitePath, '--key', keyPath, ...words).said, made.said);
  const turned = file('turned.json', JSON.stringify({ ...site, entries: [...site.entries].reverse() }));
  equal(run('sign', turned, '--key', keyPath, ...words).said, made.said);
  equal(made.said.split('\n').length, 2 + site.entries.length + 2 + 1 + 1);
});
await test('verify: it holds, and says what that means', async () => {
  const { status, said, err } = run('verify', recordPath);
  const fingerprint = await app.fingerprintOf(await app.platform.publicKey(keys[0]));
  equal([status, err], [0, '']);
  equal(said, `The signature holds: nothing in this record has changed since the key ${fingerprint} signed it.

  Site         Ostrel Lower School, canteen
  Key          ${fingerprint}
  Signed by    R. Tamsin, as the record says
  Signed at    2026-03-03T18:00:00Z, by the clock of the signer's device
  Entries      ${site.entries.length}
  Attachments  2, not looked at: name their folder with --attachments

This proves that nothing in the record changed since that key signed it.
It does not prove who signed, when, or that what was measured is true. Hold the key's letters against those that the person gave you or that stand on the printed record.
`);
  equal(run('verify', '--json', recordPath).status, 0);
  const answer = json(recordPath);
  equal([answer.holds, answer.signature_holds, answer.fingerprint, answer.entries], [true, true, fingerprint, site.entries.length]);
  equal(answer.attachments.map(({ found }) => found), ['not_looked', 'not_looked']);
});
await test('verify: the letters of the key, however they are typed', () => {
  const { fingerprint } = json(recordPath);
  for (const typed of [fingerprint, fingerprint.toLowerCase(), fingerprint.replaceAll('-', ' ')]) {
    equal(json(recordPath, '--fingerprint', typed).status, 0);
  }
  const other = json(recordPath, '--fingerprint', 'AAAA-AAAA-AAAA-AAAA-AAAA');
  equal([other.status, other.holds, other.signature_holds], [1, false, true]);
  equal(other.because, `Another key signed this record: its letters are ${fingerprint}, not those you gave. Nothing has changed since that key signed, but it is not the one you asked for.`);
});
await test('verify: attachments that are the same, renamed, changed, missing, strange', () => {
  const folder = join(scratch, 'files');
  const found = (...more) => json(recordPath, '--attachments', folder, ...more).attachments.map((one) => `${one.name ?? 'photo'} ${one.found}`).sort();
  equal(found(), ['photo same', 'record.pdf same']);
  match(run('verify', recordPath, '--attachments', folder).said, /Attachments  2: 2 unchanged, 0 changed, 0 not there to check\n/);
  file('files/record.pdf', paper.toString().replace('three', 'seven'));
  const changed = run('verify', recordPath, '--attachments', folder);
  equal(changed.status, 1);
  match(changed.said, /^1 attachment was changed after it was signed\. The entries of the record hold; do not rely on what is named below\.\n/);
  match(changed.said, /\n  Changed: record\.pdf\n/);
  equal(changed.said.includes('Not part of the record: record.pdf'), false); // told of once
  rmSync(paperPath);
  const missing = run('verify', recordPath, '--attachments', folder);
  equal(missing.status, 0);
  match(missing.said, /2: 1 unchanged, 0 changed, 1 not there to check\n  Not there to check: record\.pdf\n/);
  file('files/copy of the record.pdf', paper);
  equal(found(), ['photo same', 'record.pdf same']);
  rmSync(join(folder, 'copy of the record.pdf'));
  file('files/record.pdf', paper);
});
await test('100 changed bytes of the record, all found', () => {
  const next = numbers(20260303);
  for (let i = 0; i < 100; ++i) {
    const bytes = Buffer.from(record);
    const at = next() % bytes.length;
    bytes[at] ^= 1 + (next() % 255);
    const { status, said, err } = verifying(bytes);
    if (![1, 65].includes(status)) throw new Error(`byte ${at} of ${bytes.length}: status ${status}, ${said}${err}`);
    if (/holds: nothing/.test(said)) throw new Error(`byte ${at}: ${said}`);
  }
});
await test('100 changed bytes of a photo and of a paper, all found', () => {
  const next = numbers(19700101);
  const named = join(scratch, 'named');
  mkdirSync(named);
  writeFileSync(join(named, 'record.pdf'), paper);
  for (let i = 0; i < 100; ++i) {
    const [name, bytes] = i % 2 ? [`${sha256(photo)}.jpg`, Buffer.from(photo)] : ['record.pdf', Buffer.from(paper)];
    bytes[next() % bytes.length] ^= 1 + (next() % 255);
    writeFileSync(join(named, name), bytes);
    equal(run('verify', recordPath, '--attachments', named).status, 1, `change ${i}`);
  }
});
const lines = made.said.split('\n');
const rejoined = (change) => {
  const copy = [...lines];
  change(copy);
  return copy.join('\n');
};
const entry = 2;
await test('a digit, an entry more, less, twice, in another place', () => {
  const { fingerprint } = json(recordPath);
  const moved = `The signature does not hold: the record was changed after the key ${fingerprint} signed it, or that key never signed it. A signature cannot tell which entry it was, so rely on none of them. Ask for the file again from whoever made it.\n`;
  const counted = (found) => `The record does not hold: it speaks of ${site.entries.length} entries and 2 attachments, and ${found} lines stand there. Something was added or taken out; ask for the file again from whoever made it.\n`;
  const count = site.entries.length + 2;
  for (const [title, bytes, sentence] of [
    ['a digit', made.said.replace(/"value":(\d)/, (_, digit) => `"value":${(+digit + 1) % 10}`), moved],
    ['a name', made.said.replace('R. Tamsin', 'R. Tamsen'), moved],
    ['a time', made.said.replace('2026-03-03T18:00:00Z', '2026-03-04T18:00:00Z'), moved],
    ['a space', made.said.replace('{"id":', '{"id": '), moved],
    ['two entries exchanged', rejoined((copy) => ([copy[entry], copy[entry + 1]] = [copy[entry + 1], copy[entry]])), moved],
    ['one entry in place of another', rejoined((copy) => (copy[entry] = copy[entry + 1])), moved],
    ['an entry twice', rejoined((copy) => copy.splice(entry, 0, copy[entry])), counted(count + 1)],
    ['an entry less', rejoined((copy) => copy.splice(entry, 1)), counted(count - 1)],
    ['an entry less, and the count with it', rejoined((copy) => {
      copy.splice(entry, 1);
      copy[1] = copy[1].replace(`"entries":${site.entries.length}`, `"entries":${site.entries.length - 1}`);
    }), moved],
    ['another key named', rejoined((copy) => (copy[1] = copy[1].replace(/"key":"[0-9a-f]{64}"/, `"key":"${'d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a'}"`))), undefined],
  ]) {
    const { status, said, err } = verifying(bytes);
    equal([status, err], [1, ''], title);
    if (sentence) equal(said, sentence, title);
    else match(said, /^The signature does not hold/);
  }
});
await test('cut anywhere', () => {
  for (const left of [0.1, 0.5, 0.9].map((part) => Math.floor(part * record.length)).concat(record.length - 1, record.length - 150, 45)) {
    const { status, said } = verifying(record.subarray(0, left));
    equal(status, 1);
    match(said, /^The record does not hold: its last line is no signature, so it was cut off or changed\./);
  }
});
await test('other line ends, something behind, something before', () => {
  equal(verifying(made.said.replaceAll('\n', '\r')).said, 'The record does not hold as it stands: its line ends were changed on the way, as some programs do with text. Ask for it again, sent as a file.\n');
  equal(verifying(`${made.said}\n`).status, 1);
  const before = verifying(`x${made.said}`);
  equal([before.status, before.said], [65, '']);
});
await test('what mail programs and editors add is taken off, and it holds; any other change is found all the same', async () => {
  const returns = (text) => text.replaceAll('\n', '\r\n');
  for (const copy of [returns(made.said), `\ufeff${made.said}`, `\ufeff${returns(made.said)}`]) {
    const { status, said, err } = verifying(copy);
    equal([status, err], [0, '']);
    match(said, /^The signature holds: .*\nThis copy was given other line ends, or a mark at its beginning, on the way/);
    const answer = json(file('copy.record', copy));
    equal([answer.holds, answer.restored], [true, true]);
    equal(json(join(scratch, 'copy.record'), '--attachments', join(scratch, 'files')).not_in_record, []);
    for (const ed of [app.platform, app.library]) {
      const checked = await app.checkRecord(new TextEncoder().encode(copy), ed);
      equal([checked.holds, checked.restored, checked.entries.length], [true, true, site.entries.length]);
    }
    const digit = copy.replace(/"value":(\d)/, (_, digit) => `"value":${(+digit + 1) % 10}`);
    equal([verifying(digit).status, (await app.checkRecord(new TextEncoder().encode(digit), app.platform)).holds], [1, false]);
  }
  equal(json(recordPath).restored, false);
  equal((await app.checkRecord(new Uint8Array(record), app.platform)).restored, false);
  equal(verifying(made.said.replace('}\n{"id"', '}\r\n{"id"')).status, 1, 'one line end of many');
});
await test('another key over the same entries: it holds, and shows other letters', async () => {
  const other = file('other.record', run('sign', sitePath, '--key', otherPath, ...words).out);
  const [one, two] = [json(recordPath), json(other)];
  equal([one.holds, two.holds], [true, true]);
  equal(two.fingerprint, await app.fingerprintOf(await app.platform.publicKey(keys[1])));
  if (one.fingerprint === two.fingerprint) throw new Error('the same letters');
  // Its signature does not fit under the first one's name.
  const signature = String(readFileSync(other)).split('\n').at(-2);
  equal(verifying(rejoined((copy) => (copy[copy.length - 2] = signature))).status, 1);
});

// ---- Sentences for what cannot be checked or signed ----
for (const [title, words, status, sentence] of [
  ['no file named', ['verify'], 2, 'The record is missing. Write drawoff verify FILE; see drawoff verify --help.'],
  ['no such file', ['verify', 'nowhere.record'], 66, '"nowhere.record" cannot be read: there is no such file. Give the name of a file, or - for standard input.'],
  ['a zip file', ['verify', file('all.zip', 'PK\x03\x04 and more')], 65, `"${join(scratch, 'all.zip')}" is a zip file, which is not opened here. Unpack it into a folder, then write drawoff verify FOLDER/NAME.record.txt --attachments FOLDER.`],
  ['a site file', ['verify', sitePath], 65, 'The file is no signed record; it must begin with the line {"schema":"drawoff.record","version":1}. Choose a file that was signed.'],
  ['a newer record', ['verify', file('newer.record', made.said.replace('"version":1', '"version":2'))], 65, 'The record was written by a newer Drawoff (record version 2; this one reads up to 1). Update, then check it again; the file is unchanged.'],
  ['no such folder', ['verify', recordPath, '--attachments', '/nowhere'], 66, 'The folder "/nowhere" cannot be read. Give the folder that holds the photos and papers of the record.'],
  ['an option twice', ['verify', recordPath, '--fingerprint', 'A', '--fingerprint', 'B'], 2, '--fingerprint must be given once, with one value. See drawoff --help.'],
  ['sign without a key', ['sign', sitePath], 2, 'File, key or name is missing. Write drawoff sign FILE --key KEY --by NAME; see drawoff sign --help.'],
  ['a key that others may read', ['sign', sitePath, '--by', 'R.', '--key', file('open.pem', app.toPem(keys[0]), 0o640)], 65, `"${join(scratch, 'open.pem')}" may be read by others on this computer; a key must be readable by its owner only. Set its mode to 600, and if others could have read it, make a new one.`],
  ['no key', ['sign', sitePath, '--by', 'R.', '--key', file('no.pem', 'no key', 0o600)], 65, `"${join(scratch, 'no.pem')}" holds no key to sign with; it must be an Ed25519 key in PEM form, without a password. Make one with openssl genpkey -algorithm ed25519.`],
  ['a time of elsewhere', ['sign', sitePath, '--by', 'R.', '--key', keyPath, '--at', 'yesterday'], 65, 'head.at is "yesterday"; it must be a time in UTC, such as 2025-03-09T08:15:00Z. Enter when it was signed, as the signer\'s device said.'],
  ['a long name', ['sign', sitePath, '--by', 'R'.repeat(81), '--key', keyPath], 65, 'head.signed_by has 81 characters; it must have from 1 to 80. Enter the name of the person who signs.'],
]) {
  await test(`refused: ${title}`, () => {
    const done = run(...words);
    equal([done.status, done.said], [status, '']);
    equal(done.err, `${sentence}\n`);
  });
}
await test('a key never shows in what is said', () => {
  for (const words of [['sign', sitePath, '--by', 'R.', '--key', join(scratch, 'open.pem')], ['sign', sitePath, '--by', 'R.', '--key', keyPath]]) {
    const { said, err } = run(...words);
    const seed = Buffer.from(keys[0]);
    for (const form of [seed.toString('hex'), seed.toString('base64').slice(0, 40), app.toPem(keys[0]).split('\n')[1]]) {
      if (said.includes(form) || err.includes(form)) throw new Error('it does');
    }
  }
});
await test('--help of both', () => {
  for (const name of ['sign', 'verify']) match(run(name, '--help').said, new RegExp(`^Usage\\n  drawoff ${name} FILE`, 'm'));
});

// ---- The app's code ----
for (const [name, ed] of [['the platform', app.platform], ['the library', app.library]]) {
  await test(`signed by the app (${name}), held by the command`, async () => {
    const bytes = await app.signRecord({ entries: site.entries, attachments: [{ sha256: sha256(photo) }, { sha256: sha256(paper), name: 'record.pdf' }], by: 'R. Tamsin', at: '2026-03-03T18:00:00Z' }, keys[0], ed);
    const path = file('app.record', bytes);
    equal([json(path).status, json(path).holds], [0, true]);
    equal(json(path, '--attachments', join(scratch, 'files')).attachments.map(({ found }) => found), ['same', 'same']);
  });
  await test(`signed by the command, held by the app (${name})`, async () => {
    const checked = await app.checkRecord(new Uint8Array(record), ed);
    equal([checked.holds, checked.fingerprint, checked.entries.length, checked.attachments.length], [true, json(recordPath).fingerprint, site.entries.length, 2]);
  });
  await test(`what the command refuses, the app (${name}) refuses`, async () => {
    const next = numbers(7);
    for (let i = 0; i < 100; ++i) {
      const bytes = new Uint8Array(record);
      bytes[next() % bytes.length] ^= 1 + (next() % 255);
      const holds = await app.checkRecord(bytes, ed).then((checked) => checked.holds, () => false);
      equal([holds, verifying(bytes).status === 0], [false, false]);
    }
  });
}
await test('a key of small order signs nothing, here and there', async () => {
  for (const small of [`01${'00'.repeat(31)}`, '26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05', `ec${'ff'.repeat(30)}7f`]) {
    const bytes = Buffer.from(rejoined((copy) => {
      copy[1] = copy[1].replace(/"key":"[0-9a-f]{64}"/, `"key":"${small}"`);
      copy[copy.length - 2] = `{"signature":"01${'00'.repeat(63)}"}`;
    }));
    equal(verifying(bytes).status, 1);
    for (const ed of [app.platform, app.library]) equal((await app.checkRecord(new Uint8Array(bytes), ed)).holds, false);
  }
});

// ---- OpenSSL: the commands of docs/formats/record.md, as they stand there ----
const written = readFileSync(join(root, 'docs/formats/record.md'), 'utf8');
const commands = (title) => new RegExp(`<!-- ${title} -->\\n\`\`\`sh\\n([\\s\\S]*?)\`\`\``).exec(written)[1];
await test('without Drawoff: OpenSSL finds that it holds', () => {
  const { status, out, err } = shell(commands('check'), { RECORD: recordPath });
  equal([status, err], [0, '']);
  match(out, /^Signature Verified Successfully\n/);
  equal(out.trim().split('\n').at(-1), json(recordPath).fingerprint);
});
await test('without Drawoff: OpenSSL finds a changed digit', () => {
  const path = file('digit.record', made.said.replace(/"value":(\d)/, (_, digit) => `"value":${(+digit + 1) % 10}`));
  const { status, out } = shell(commands('check'), { RECORD: path });
  if (status === 0) throw new Error(out);
});
await test('a key made by OpenSSL signs', () => {
  const { status } = shell(commands('key'));
  equal(status, 0);
  equal(statSync(join(scratch, 'key.pem')).mode & 0o777, 0o600);
  const path = file('openssl.record', run('sign', sitePath, '--key', join(scratch, 'key.pem'), ...words).out);
  equal(json(path).holds, true);
  const shown = shell('openssl pkey -in key.pem -pubout -outform DER | tail -c 32 | od -An -tx1 | tr -d " \\n"').out;
  equal(json(path).key, shown);
});

rmSync(scratch, { recursive: true });
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

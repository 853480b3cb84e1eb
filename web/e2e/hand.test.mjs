// Handing over at phone size, offline: two signatures with a finger, photos, the page killed in between;
// every paper and the signed record shared, checked by the command and by the app, then tampered with.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before } from 'node:test';
import { unzipSync, zipSync } from 'fflate';
import { inOrder, profile, stage } from './support/app.mjs';
import { drawoff } from './support/serve.mjs';

const folder = mkdtempSync(join(tmpdir(), 'drawoff-hand-')); // what was shared, unpacked
let theatre, person, app, site, files, zip;

before(async () => {
  theatre = await stage();
  person = await profile(theatre);
  app = await person.open();
  await app.page.evaluate(() => navigator.serviceWorker.ready);
  await app.page.reload();
  await person.context.setOffline(true);
  await app.openSite('Ostrel Records Office');
  site = app.key();
});
after(async () => {
  rmSync(folder, { recursive: true });
  assert.deepEqual(app.faults, []);
  await theatre.end();
});
const test = inOrder(() => app.picture('hand-failed'));

const button = (name) => app.page.getByRole('button', { name, exact: true });
const pad = (whose) => app.page.getByRole('img', { name: new RegExp(`^Signature ${whose}`) }).locator('canvas');
async function toHandOver() {
  await app.go(`#/site/${encodeURIComponent(site)}/hand-over`);
  await app.page.getByRole('heading', { name: 'Hand over' }).waitFor();
}
/** The page goes as if the phone had killed it, and is opened again where it was. */
async function kill() {
  const address = app.page.url();
  await app.page.close({ runBeforeUnload: false });
  const { faults } = app;
  app = await person.open(`#${address.split('#')[1]}`);
  app.faults.push(...faults);
  await app.page.getByRole('heading', { name: 'Hand over' }).waitFor();
}
/** A finger goes over the glass. */
async function draw(whose, height) {
  await pad(whose).scrollIntoViewIfNeeded();
  const box = await pad(whose).boundingBox();
  const { mouse } = app.page;
  await mouse.move(box.x + 30, box.y + box.height / 2);
  await mouse.down();
  for (let i = 1; i <= 12; ++i) await mouse.move(box.x + 30 + 20 * i, box.y + box.height / 2 + (i % 2 ? height : -height));
  await mouse.up();
}
/** How much ink is on a pad. */
const ink = (whose) =>
  pad(whose).evaluate((canvas) => canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data.filter((byte, i) => i % 4 === 0 && byte < 128).length);
/** What the book holds of this site: entries of a kind, and the hashes of all pictures. */
const held = (kind) =>
  app.page.evaluate(
    async ([key, wanted]) => {
      const wait = (request) => new Promise((resolve) => (request.onsuccess = () => resolve(request.result)));
      const db = await wait(indexedDB.open('drawoff'));
      const rows = await wait(db.transaction('entries').objectStore('entries').getAll());
      const pictures = await wait(db.transaction('photos').objectStore('photos').getAllKeys());
      db.close();
      return { bodies: rows.filter((row) => row.site === key && row.entry.kind === wanted).map(({ entry }) => entry.body), pictures };
    },
    [site, kind],
  );
/** Waits until these are on the phone's disk. */
const drafted = (...paths) =>
  app.until(async (wanted) => {
    const wait = (request) => new Promise((resolve) => (request.onsuccess = () => resolve(request.result)));
    const db = await wait(indexedDB.open('drawoff'));
    const drafts = await wait(db.transaction('drafts').objectStore('drafts').getAll());
    db.close();
    return wanted.every((path) => drafts.some((draft) => draft.path === path && draft.text !== ''));
  }, paths);
/** A photo as a phone takes it; each another. */
async function photo(n) {
  const url = await app.page.evaluate((shade) => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 1200, height: 900 });
    const on = canvas.getContext('2d');
    on.fillStyle = `hsl(${shade * 70} 40% 60%)`;
    on.fillRect(0, 0, 1200, 900);
    return canvas.toDataURL('image/jpeg');
  }, n);
  return { name: `${n}.jpg`, mimeType: 'image/jpeg', buffer: Buffer.from(url.split(',')[1], 'base64') };
}

test('photos, one after the other without a pause: each is there with its entry', async () => {
  await toHandOver();
  const before = (await held('photo')).bodies.length;
  const input = app.page.locator('input[type=file]');
  for (const one of [await photo(1), await photo(2), await photo(3)]) await input.setInputFiles(one);
  await app.page.waitForFunction((count) => document.querySelectorAll('.photos img').length === count, before + 3);
  await kill();
  const { bodies, pictures } = await held('photo');
  assert.equal(bodies.length, before + 3);
  for (const { sha256 } of bodies) assert.ok(pictures.includes(sha256));
});

test('a killed page keeps the name and each signature that was drawn', async () => {
  await app.page.locator('input.field').first().fill('R. Tamsin');
  await draw('of the technician', 25);
  const first = await ink('of the technician');
  assert.ok(first > 500, `${first} points of ink`);
  await drafted('technician', 'technician_lines');
  await kill();
  assert.equal(await app.page.locator('input.field').first().inputValue(), 'R. Tamsin');
  assert.equal(await ink('of the technician'), first);
  assert.ok(await button('Keep and sign').isDisabled(), 'nobody took it over yet');
  await app.page.locator('input.field').nth(1).fill('M. Orsolt');
  await app.page.locator('input.field').nth(2).fill('caretaker');
  await draw('for the site', 12);
  await drafted('receiver', 'role', 'receiver_lines');
  await kill();
  assert.equal(await ink('of the technician'), first);
  assert.ok((await ink('for the site')) > 500);
  await app.fits('the hand-over');
  await app.accessible('the hand-over');
  await app.picture('hand-over');
});

test('what is added after a signature was drawn clears it', async () => {
  const before = await app.page.locator('.photos img').count();
  await app.page.locator('input[type=file]').setInputFiles(await photo(4));
  await app.page.getByText('Please sign again.').waitFor();
  await app.page.waitForFunction((count) => document.querySelectorAll('.photos img').length === count, before + 1);
  assert.equal(await ink('of the technician'), 0);
  await app.page.getByRole('button', { name: 'Undo', exact: true }).click(); // the photo again
  await app.page.waitForFunction((count) => document.querySelectorAll('.photos img').length === count, before);
  await draw('of the technician', 25);
  await draw('for the site', 12);
  // One touch too much is taken back.
  await app.page.getByRole('button', { name: 'Clear the signature for the site' }).click();
  assert.equal(await ink('for the site'), 0);
  await app.page.getByRole('button', { name: 'Undo', exact: true }).click();
  await app.page.waitForFunction(() => document.querySelectorAll('button.plain[disabled]').length === 0);
  assert.ok((await ink('for the site')) > 500);
});

/** The text of the PDF that a tab is opened for; a browser without a head shows none. */
async function opened(name) {
  await app.page.evaluate(() => {
    const address = URL.createObjectURL;
    window.shown = undefined;
    URL.createObjectURL = (file) => ((window.made = file), (window.address = address.call(URL, file)));
    window.open = (at) => ((window.shown = at === window.address ? window.made : undefined), window);
  });
  await button(name).click();
  await app.page.waitForFunction(() => window.shown);
  const bytes = await app.page.evaluate(async () => [...new Uint8Array(await window.shown.arrayBuffer())]);
  return spawnSync('pdftotext', ['-layout', '-', '-'], { input: Buffer.from(bytes), encoding: 'utf8' }).stdout.replace(/\s+/g, ' ');
}

test('the record and the sheet are read before they are signed, and nothing typed is lost', async () => {
  await app.page.getByLabel('Firm to call').fill('Tamsin Water');
  await app.page.getByLabel('Telephone').fill('12; 34');
  await button('In half a year').click();
  const month = await app.page.getByLabel('Next visit').inputValue();
  assert.match(month, /^\d{4}-\d\d$/);
  await button('Read the record first').click();
  await app.page.getByText('is not a telephone number').waitFor();
  await app.page.getByLabel('Telephone').fill('+00 12 345 ext. 6');
  const record = await opened('Read the record first');
  for (const part of ['Commissioning record', 'M. Orsolt', 'caretaker', 'Tamsin Water', '+00 12 345 ext. 6', month]) assert.ok(record.includes(part), `${part} in ${record}`);
  const sheet = await opened('Read the sheet for those who drink');
  for (const part of ['Whom to call', 'Tamsin Water', '+00 12 345 ext. 6', month]) assert.ok(sheet.includes(part), `${part} in ${sheet}`);
  assert.equal((await held('handed_over')).bodies.length, 0, 'nothing was kept');
  await drafted('firm', 'telephone', 'next_visit');
  await kill();
  assert.equal(await app.page.getByLabel('Telephone').inputValue(), '+00 12 345 ext. 6');
  assert.ok((await ink('of the technician')) > 500 && (await ink('for the site')) > 500);
});

test('a signature is drawn, or said to be on paper, and what was drawn comes back', async () => {
  const forSite = () => app.page.getByRole('group', { name: 'For the site' });
  await forSite().getByRole('button', { name: 'Signs on paper' }).click();
  assert.equal(await pad('for the site').count(), 0);
  assert.ok(await button('Keep and sign').isEnabled(), 'it is said to be on paper');
  assert.match(await opened('Read the record first'), /Signature, to be given/);
  await drafted('receiver_paper');
  await kill();
  assert.equal(await forSite().getByRole('button', { name: 'Signs on paper' }).getAttribute('aria-pressed'), 'true');
  await forSite().getByRole('button', { name: 'Signs here' }).click();
  assert.ok((await ink('for the site')) > 500);
  await app.page.getByRole('button', { name: 'Clear the signature for the site' }).click();
  assert.ok(await button('Keep and sign').isDisabled(), 'neither drawn nor said to be on paper');
  await app.page.getByText('Still missing').waitFor();
  await draw('for the site', 12);
  await drafted('receiver_lines');
});

test('killed while it is kept: the entry and both signatures are there, or all is still on the screen', async () => {
  for (let n = 0; n < 4; ++n) {
    await button('Keep and sign').click();
    if (n > 0) await app.page.waitForTimeout(8 * n); // another moment of the work each time
    await kill();
    const { bodies, pictures } = await held('handed_over');
    if (bodies.length === 0) {
      assert.ok((await ink('of the technician')) > 500 && (await ink('for the site')) > 500);
      continue;
    }
    assert.equal(bodies.length, 1);
    for (const key of ['technician_signature', 'receiver_signature']) assert.ok(pictures.includes(bodies[0][key]), key);
    assert.deepEqual([bodies[0].firm, bodies[0].telephone], ['Tamsin Water', '+00 12 345 ext. 6']);
    break;
  }
  if ((await held('handed_over')).bodies.length === 0) await button('Keep and sign').click();
  await app.page.getByText('taken over by M. Orsolt').waitFor();
});

test('all of it is shared: papers, photos, and a record that the command verifies', async () => {
  const all = button('Share it all');
  await app.page.getByText('Ready to share').waitFor({ timeout: 60_000 });
  await app.fits('what is shared');
  await app.accessible('what is shared');
  await app.picture('hand-over-ready');
  zip = (await app.download(() => all.click())).bytes;
  files = unzipSync(zip);
  const names = Object.keys(files);
  for (const part of ['Commissioning record.pdf', 'label', 'record.txt', '.jpg']) assert.ok(names.some((name) => name.includes(part)), `${part} of ${names}`);
  for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes);
  const record = names.find((name) => name.endsWith('record.txt'));
  const { status, stdout } = spawnSync(drawoff, ['verify', join(folder, record), '--attachments', folder, '--json'], { encoding: 'utf8' });
  const said = JSON.parse(stdout);
  assert.deepEqual([status, said.holds, said.signed_by, said.not_in_record], [0, true, 'R. Tamsin', []]);
  assert.ok(said.attachments.every(({ found }) => found !== 'changed'));
  assert.equal(said.attachments.filter(({ found }) => found === 'same').length, 5 + 3 + 2, 'papers, photos, signatures');
  assert.equal(said.attachments.filter(({ found }) => found === 'not_there').length, 1, 'the photo that was taken back is not handed out');
  const text = spawnSync('pdftotext', ['-layout', join(folder, names.find((name) => name.includes('Commissioning'))), '-'], { encoding: 'utf8' }).stdout;
  for (const part of [said.fingerprint, 'M. Orsolt', 'caretaker', 'Photos']) assert.ok(text.includes(part), part);
});

const asFile = (name, bytes) => ({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(bytes) });
const says = (sentence) => app.page.locator('.verdict', { hasText: sentence }).waitFor();
async function check(list, sentence) {
  await app.go('#/check');
  await app.page.getByRole('heading', { name: 'Check a signed record' }).waitFor();
  await app.page.locator('input[type=file]').setInputFiles(list);
  await says(sentence);
}

test('the app checks it, opened from the list of sites', async () => {
  await app.go('#/sites');
  await app.page.locator('input[type=file]').setInputFiles(Object.entries(files).map(([name, bytes]) => asFile(name, bytes)));
  await says('The signature holds');
  await app.page.getByText("This phone's own key signed it.").waitFor();
  assert.equal(await app.page.locator('.files li.same').count(), 10);
  await app.fits('the check');
  await app.accessible('the check');
  await app.picture('check');
});

test('the zip that was shared is checked as it came, also from the list of sites', async () => {
  await check([asFile('all.zip', zip)], 'The signature holds');
  assert.equal(await app.page.locator('.files li.same').count(), 10);
  await app.go('#/sites');
  await app.page.getByRole('heading', { name: 'Sites' }).waitFor();
  await app.page.locator('input[type=file]').setInputFiles([asFile('all.zip', zip)]);
  await says('The signature holds');
  const photo = Object.keys(files).find((name) => name.endsWith('.jpg'));
  const touched = Uint8Array.from(files[photo], (byte, i) => (i === 40 ? byte ^ 1 : byte));
  await check([asFile('all.zip', zipSync({ ...files, [photo]: touched }))], '1 attachment was changed');
  await check([asFile('cut.zip', zip.subarray(0, zip.length / 2))], 'cannot be unpacked');
  await check([asFile('bomb.zip', zipSync({ 'a.txt': new Uint8Array(129 << 20) }))], 'too many files, or too much');
  await check([asFile('photos.zip', zipSync({ [photo]: files[photo] }))], 'not a signed record');
});

test('a changed digit, a changed photo, a paper of another day', async () => {
  const names = Object.keys(files);
  const record = names.find((name) => name.endsWith('record.txt'));
  const text = Buffer.from(files[record]).toString();
  const changed = text.replace(/"value":(\d)/, (_, digit) => `"value":${(+digit + 1) % 10}`);
  assert.notEqual(changed, text);
  await check([asFile('changed.txt', changed)], 'The signature does not hold');
  const photo = names.find((name) => name.endsWith('.jpg'));
  const touched = Buffer.from(files[photo]);
  touched[touched.length >> 1] ^= 1;
  await check([asFile(record, text), asFile(photo, touched)], '1 attachment was changed');
  await app.picture('check-changed');
  await check([asFile('mailed.txt', `\ufeff${text.replaceAll('\n', '\r\n')}`)], 'The signature holds');
  await app.page.getByText('This copy was given other line ends').waitFor();
  await check([asFile('note.txt', 'hello')], 'not a signed record');
  await check([asFile('cut.txt', text.slice(0, -40))], 'cut short');
});

test('written after it: it is to be signed again; the backup carries the key', async () => {
  await app.openSite('Ostrel Records Office');
  await app.go(`#/site/${encodeURIComponent(site)}/hand-over`);
  await app.page.getByText('taken over by').waitFor();
  await app.go(`#/site/${encodeURIComponent(site)}`);
  await app.read('reject_flow', '0.38');
  await toHandOver();
  await app.page.getByText('Something was added after it was signed').waitFor();
  await app.page.getByRole('button', { name: 'Nobody to sign', exact: true }).click();
  assert.equal(await app.page.getByLabel('Telephone').inputValue(), '+00 12 345 ext. 6', 'the phone remembers whom to call');
  await app.page.getByRole('group', { name: 'Signature of the technician' }).getByRole('button', { name: 'Signs on paper' }).click();
  await button('They did not want to sign').or(button('they did not want to sign')).click();
  await button('Keep and sign').click();
  await app.page.getByText('did not want to sign.').waitFor();
  assert.equal((await held('handed_over')).bodies.at(-1).technician_on_paper, true);
  await app.go('#/settings');
  const letters = await app.page.locator('p.letters').innerText();
  assert.match(letters, /^([A-Z2-7]{4}-){4}[A-Z2-7]{4}$/);
  const backup = await app.download(() => button('Back up everything').click());
  const other = await profile(theatre);
  const phone = await other.open('#/settings');
  await phone.page.locator('input[type=file]').setInputFiles({ name: backup.name, mimeType: 'application/zip', buffer: backup.bytes });
  await phone.page.locator('p.letters').waitFor();
  assert.equal(await phone.page.locator('p.letters').innerText(), letters);
  assert.deepEqual(phone.faults, []);
  await other.close();
});

// The whole of a first visit at phone size, offline: the water from a laboratory's report, the machine from
// its plates, every step of the start-up, the blend set turn by turn on a simulated valve, the hand-over
// with two signatures, the papers, and the signed record verified by the command and by the app.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before } from 'node:test';
import { unzipSync } from 'fflate';
import { inOrder, profile, stage } from './support/app.mjs';
import { drawoff } from './support/serve.mjs';
import { middle, open, settle, takeReadings } from './support/steps.mjs';

const folder = mkdtempSync(join(tmpdir(), 'drawoff-visit-')); // what was shared, unpacked
let theatre, person, app, files;
const effort = { taps: 0, numbers: 0 };
const minute = 60_000;

before(async () => {
  theatre = await stage();
  person = await profile(theatre);
  app = await person.open();
  await app.page.evaluate(() => navigator.serviceWorker.ready);
  await app.page.reload();
  await person.context.clock.install();
  await person.context.setOffline(true);
});
after(async () => {
  rmSync(folder, { recursive: true });
  assert.deepEqual(app.faults, []);
  await theatre.end();
});
const step = inOrder(() => app.picture('visit-failed'));

const footer = (name) => app.page.locator('footer').getByRole('button', { name, exact: true });
const field = (label) => app.page.getByLabel(label).first();
async function put(label, text) {
  await field(label).click();
  await app.keys(text);
}

// Every substance with a limit was looked for: only then can a share of raw water be permitted.
const report = [
  'Parameter;Result;Unit',
  'Temperature;16;°C',
  'pH;7.4;',
  ...['Calcium;62', 'Magnesium;14', 'Sodium;41', 'Potassium;4', 'Bicarbonate;236', 'Chloride;52', 'Sulfate;38', 'Nitrate as NO3;9', 'Fluoride;0.3'].map((row) => `${row};mg/L`),
  ...['Nitrite as NO2;<0.02', 'Iron;<0.02', 'Manganese;<0.005', 'Ammonium;<0.05', 'Boron;<0.05', 'Barium;0.04', 'Strontium;0.3', 'Silica;12'].map((row) => `${row};mg/L`),
  ...['Arsenic;<1', 'Lead;<1', 'Uranium;<1', 'Chromium;<1', 'Cadmium;<0.2', 'Selenium;<1', 'Copper;12', 'Mercury;<0.1', 'Nickel;<1'].map((row) => `${row};µg/L`),
  'E. coli;0;CFU/100 mL',
].join('\n');

step('the site and its water, from a report', async () => {
  const { page } = app;
  await app.go('#/sites');
  await page.getByRole('button', { name: 'New site' }).click();
  await page.getByLabel('Name of the site').first().fill('Ostrel Hostel');
  await page.getByRole('button', { name: 'Done' }).click();
  await page.locator('h1', { hasText: 'Ostrel Hostel' }).waitFor();
  await page.getByRole('link', { name: 'The water' }).first().click();
  await page.locator('summary', { hasText: 'A laboratory report' }).click();
  await page.getByLabel("The report's lines").fill(report);
  await page.getByText(/lines used/).waitFor();
  await page.getByRole('button', { name: 'Take the water from this report' }).click();
  await page.getByText('Kept.', { exact: true }).waitFor();
  await app.picture('visit-water');
  await page.getByRole('button', { name: 'Done' }).click();
});

step('the machine from its plates, with a blend valve', async () => {
  const { page } = app;
  await page.getByRole('link', { name: 'The machine' }).first().click();
  await put('Pressure with nothing flowing', '3.6');
  await page.getByRole('button', { name: 'Add one' }).click();
  await page.getByRole('button', { name: 'sediment' }).click();
  await page.getByRole('button', { name: 'Add one' }).click();
  await page.getByRole('button', { name: 'carbon', exact: true }).nth(1).click();
  await page.getByLabel('Trade size').selectOption('2012');
  await put('Product flow on the plate', '14');
  await put('Test pressure', '4.1');
  await put('Flow printed on it', '420');
  await page.getByRole('button', { name: 'Next' }).click();
  await page.getByRole('checkbox', { name: 'Blend' }).check();
  await put('Flow of the open valve at 1 bar', '12');
  await put('How far it is open', '0');
  await page.getByRole('button', { name: 'Next' }).click();
  await page.getByText('All that is needed is here, and kept.').waitFor();
  await app.fits('the machine of the visit');
  await app.picture('visit-machine');
  await page.getByRole('button', { name: 'Done' }).click();
  await page.locator('.drawing').waitFor();
});

// Read by a pen without error.
const raw = 310;
let permeate;
const product = (turns) => {
  const k = 1.8 * (turns / 5) ** 1.2;
  return Math.round(permeate + (k / (1 + k)) * (raw - permeate));
};
async function readIn(text) {
  await app.page.locator('dialog input#entry-value').waitFor();
  await app.keys(text);
  await app.page.locator('dialog').getByRole('button', { name: 'Keep', exact: true }).click();
  await app.page.locator('dialog').waitFor({ state: 'detached' });
  effort.numbers += 1;
  effort.taps += 2 + text.length;
}
async function setTheBlend() {
  const { page } = app;
  await page.getByRole('link', { name: 'Set it turn by turn' }).click();
  await footer('Begin').click();
  await page.getByText('Read the raw water').waitFor();
  await page.locator('footer .first').click();
  await readIn(String(raw));
  await page.getByText('Shut the blend valve').waitFor();
  await page.locator('footer .first').click();
  await page.locator('dialog .expected').waitFor();
  permeate = Math.round(Number(middle(await page.locator('dialog .expected').innerText())));
  await readIn(String(permeate));
  await page.getByText(/^Open the valve .* from shut\.$/).waitFor();
  let turns = 0;
  while ((await footer('It is turned').count()) > 0) {
    assert.ok(++turns <= 6, 'it takes no more turns than that');
    await footer('It is turned').click();
    await page.getByRole('timer').waitFor();
    await page.clock.fastForward(40 * minute);
    await page.getByText('Time is up.').waitFor();
    await footer('Read it').click();
    await page.locator('dialog summary').click();
    const stands = Number(await page.locator('dialog').getByLabel('Turns from shut').inputValue());
    await page.locator('dialog input#entry-value').click();
    await readIn(String(product(stands)));
    await page.waitForFunction((n) => document.querySelectorAll('ol > li').length === n, turns);
  }
  assert.match(await page.locator('p.headline').innerText(), /^Done\./);
  await footer('Leave it so').click();
  await page.locator('dialog').getByRole('checkbox', { name: 'A tamper seal is fitted' }).check();
  await page.locator('dialog').getByLabel('Number on the seal').fill('4471');
  await page.locator('dialog').getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByText(/seal 4471/).waitFor();
  await page.locator('footer').getByRole('link', { name: 'Start it up' }).click();
  return turns;
}

step('the start-up, every step; the blend where it stands among them', async () => {
  const { page } = app;
  await page.locator('a.start').click();
  await footer('Begin').click();
  const count = await page.locator('.course > li').count();
  let turned = 0;
  for (let at = 1; at <= count; ++at) {
    await page.getByText(`Step ${at} of ${count}.`).waitFor();
    if ((await open(app).getByRole('link', { name: 'Set it turn by turn' }).count()) > 0) {
      turned = await setTheBlend();
      await page.getByText(`Step ${at} of ${count}.`).waitFor();
    }
    const clock = open(app).getByRole('button', { name: 'Start the clock' });
    if ((await clock.count()) > 0) {
      await clock.click();
      effort.taps += 1;
      await open(app).getByRole('timer').waitFor();
      await page.clock.fastForward(20 * minute);
    }
    await takeReadings(app, effort, { raw_quality: String(raw), temperature: '16' });
    await settle(app, effort, at);
  }
  await page.getByText('Every step is done.').waitFor();
  assert.ok(turned > 0, 'the blend was set');
  console.log(`the visit: ${count} steps, ${turned} turns of the blend, ${effort.taps} taps, ${effort.numbers} numbers`);
});

async function sign(whose, height) {
  const pad = app.page.getByRole('img', { name: new RegExp(`^Signature ${whose}`) });
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  const { mouse } = app.page;
  await mouse.move(box.x + 30, box.y + box.height / 2);
  await mouse.down();
  for (let i = 1; i <= 12; ++i) await mouse.move(box.x + 30 + 20 * i, box.y + box.height / 2 + (i % 2 ? height : -height));
  await mouse.up();
}

step('handed over: it runs as it should, and two people sign', async () => {
  const { page } = app;
  await app.go(`#/site/${app.key()}`);
  await page.locator('.headline.good').waitFor();
  await page.getByRole('link', { name: 'Hand over' }).last().click();
  await page.locator('input.field').first().fill('R. Tamsin');
  await sign('of the technician', 25);
  await page.locator('input.field').nth(1).fill('M. Orsolt');
  await sign('for the site', 12);
  await page.getByRole('button', { name: 'Keep and sign', exact: true }).click();
  await page.getByText('Ready to share').waitFor({ timeout: 90_000 });
  files = unzipSync((await app.download(() => page.getByRole('button', { name: 'Share it all', exact: true }).click())).bytes);
});

step('the command verifies it, and reads from it what was done', async () => {
  for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes);
  const record = Object.keys(files).find((name) => name.endsWith('record.txt'));
  const said = JSON.parse(spawnSync(drawoff, ['verify', join(folder, record), '--attachments', folder, '--json'], { encoding: 'utf8' }).stdout);
  assert.deepEqual([said.holds, said.signed_by, said.not_in_record], [true, 'R. Tamsin', []]);
  assert.ok(said.attachments.every(({ found }) => found === 'same'));
  const paper = Object.keys(files).find((name) => name.includes('Commissioning'));
  const text = spawnSync('pdftotext', [join(folder, paper), '-'], { encoding: 'utf8' }).stdout.replace(/\s+/g, ' ');
  for (const part of [said.fingerprint, 'M. Orsolt', 'seal 4471', 'the machine runs as it should']) assert.ok(text.includes(part), `${part} in ${text}`);
  // The entries alone are the site again: what the app says, the command says.
  const entries = Buffer.from(files[record]).toString().split('\n').slice(2).filter((line) => line.startsWith('{"id"'));
  const site = join(folder, 'again.site.json');
  writeFileSync(site, JSON.stringify({ schema: 'drawoff.site', version: 1, entries: entries.map((line) => JSON.parse(line)) }));
  const job = JSON.parse(spawnSync(drawoff, ['job', site, '--json'], { encoding: 'utf8' }).stdout);
  assert.ok(job.handed_over.holds);
  assert.ok(job.steps.length > 15 && job.steps.every(({ settled }) => settled), 'every step');
});

step('another phone checks it, without signal, and opens the site from it', async () => {
  const other = await profile(theatre);
  // A browser that cannot sign: it has the library for it, also without signal.
  await other.context.addInitScript(() => {
    const real = crypto.subtle.importKey.bind(crypto.subtle);
    crypto.subtle.importKey = (form, key, algorithm, ...more) =>
      (algorithm.name ?? algorithm) === 'Ed25519' ? Promise.reject(new DOMException('', 'NotSupportedError')) : real(form, key, algorithm, ...more);
  });
  const there = await other.open('#/check');
  await there.page.evaluate(() => navigator.serviceWorker.ready);
  await there.page.reload();
  await there.until(async () => {
    for (const name of await caches.keys()) {
      if ((await (await caches.open(name)).keys()).some(({ url }) => url.includes('ed25519'))) return true;
    }
    return false;
  });
  await other.context.setOffline(true);
  const list = Object.entries(files).map(([name, bytes]) => ({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(bytes) }));
  await there.page.locator('input[type=file]').setInputFiles(list);
  await there.page.locator('.verdict', { hasText: 'The signature holds' }).waitFor();
  await there.picture('visit-checked');
  await there.page.getByRole('button', { name: 'Open this site' }).click();
  await there.page.locator('h1', { hasText: 'Ostrel Hostel' }).waitFor();
  await there.page.locator('.headline.good').waitFor();
  assert.deepEqual(there.faults, []);
  await other.close();
});

// The app as it lies on the phone: two tabs, a newer version, a file that is none, the demo town.
import assert from 'node:assert/strict';
import { appendFileSync, cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { profile, stage } from './support/app.mjs';
import { dist, serve } from './support/serve.mjs';
import { root } from '../script/engine.mjs';

let theatre;
before(async () => (theatre = await stage()));
after(() => theatre.end());

test('two tabs show the same book', async () => {
  const person = await profile(theatre);
  const one = await person.open();
  await one.openSite('Ostrel Clinic');
  const two = await person.open(new URL(one.page.url()).hash);
  await two.page.locator('.drawing').waitFor();
  await one.page.bringToFront();
  await one.read('reject_flow', '90');
  await two.page.bringToFront();
  await two.page.locator('[data-point="reject_flow"] .value', { hasText: '90' }).waitFor();
  assert.deepEqual([...one.faults, ...two.faults], []);
  await person.close();
});

test('a newer version is offered, and taken when the person says so', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'drawoff-app-'));
  cpSync(dist, folder, { recursive: true });
  let server = await serve(folder);
  const person = await profile({ browser: theatre.browser, server });
  const app = await person.open();
  await app.page.evaluate(() => navigator.serviceWorker.ready);
  await server.end();
  const worker = readFileSync(join(folder, 'service-worker.js'), 'utf8');
  writeFileSync(join(folder, 'service-worker.js'), worker.replace(/const version = '[^']+'/, "const version = 'newer'"));
  for (const kind of ['br', 'gz']) rmSync(join(folder, `service-worker.js.${kind}`));
  appendFileSync(join(folder, 'manifest.webmanifest'), '\n');
  server = await serve(folder, server.port);
  await app.page.reload();
  await app.page.getByRole('button', { name: 'Use it now' }).waitFor();
  assert.ok((await app.page.evaluate(() => caches.keys())).some((name) => name !== 'drawoff-newer'));
  await Promise.all([
    app.page.waitForEvent('load'),
    app.page.getByRole('button', { name: 'Use it now' }).click(),
  ]);
  await app.page.locator('h1').waitFor();
  await app.until(async () => (await caches.keys()).join() === 'drawoff-newer');
  await person.close();
  await server.end();
  rmSync(folder, { recursive: true });
});

test('a file that is no site is refused with a sentence, and changes nothing', async () => {
  const person = await profile(theatre);
  const app = await person.open('#/sites');
  await app.page.locator('.sites .name').nth(2).waitFor();
  const input = app.page.locator('input[type=file]');
  const offer = (text) => input.setInputFiles({ name: 'x.site.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await offer('{"entries": 3}');
  await app.page.getByText('This is not a site file.').waitFor();
  const school = JSON.parse(readFileSync(join(root, 'examples/school.site.json'), 'utf8'));
  await offer(JSON.stringify({ ...school, version: 999 }));
  await app.page.getByText(/newer Drawoff/).waitFor();
  assert.equal(await app.page.locator('.sites .name').count(), 3);
  await person.close();
});

test('the demo town can be removed, and brought back', async () => {
  const person = await profile(theatre);
  const app = await person.open('#/settings');
  await app.page.getByRole('button', { name: 'Remove the demo sites' }).click();
  await app.page.getByText('The demo sites are gone.').waitFor();
  await app.go('#/sites');
  await app.page.getByText('No sites yet.').waitFor();
  await app.page.reload();
  await app.page.getByText('No sites yet.').waitFor();
  await person.close();
});

test('a name in another script is printed: its font is fetched once, then kept', async () => {
  const person = await profile(theatre);
  const app = await person.open();
  const { page } = app;
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.reload(); // now by the service worker
  await app.openSite('Ostrel Clinic');
  const site = `#/site/${app.key()}`;
  await app.go(`${site}/name`);
  await page.getByLabel('Name of the site').fill('क्षितिज विद्यालय');
  await page.getByRole('button', { name: 'Done' }).click();
  await page.locator('h1', { hasText: 'क्षितिज' }).waitFor();
  await app.go(`${site}/papers`);
  const record = () => app.download(() => page.getByRole('button', { name: 'Commissioning record' }).click());
  await record();
  const kept = await page.evaluate(async () => (await (await caches.open('drawoff-fonts')).keys()).map(({ url }) => url));
  assert.deepEqual(kept.map((url) => url.split('/').at(-1)).sort(), ['Deva-Bold.ttf', 'Deva-Regular.ttf']);
  await person.context.setOffline(true);
  await record();
  assert.equal(await page.locator('dialog .fault').count(), 0);
  await person.close();
});

test('a broken engine is told in plain words, and what was asked can be shared', async () => {
  const person = await profile(theatre);
  await person.context.route('**/*.wasm', (route) => route.fulfill({ body: 'no engine', contentType: 'application/wasm' }));
  const app = await person.open();
  const alert = app.page.getByRole('alert');
  await alert.waitFor();
  assert.match(await alert.innerText(), /Nothing that you entered is lost/);
  const { name, bytes } = await app.download(() => alert.getByRole('button', { name: 'Share' }).click());
  assert.equal(name, 'drawoff-fault.txt');
  assert.match(bytes.toString(), /"name":"enter"/);
  await person.close();
});

test('same as last time is one tap', async () => {
  const person = await profile(theatre);
  const app = await person.open();
  await app.openSite('Ostrel Lower School'); // its readings are of an earlier visit
  await app.read('reject_flow', '200');
  await app.page.locator('[data-point="membrane_pressure"]').click();
  await app.page.getByRole('button', { name: 'Same as last time' }).click();
  await app.page.locator('[data-point="membrane_pressure"] .value', { hasText: '5.2' }).waitFor();
  await person.close();
});

test('US customary units are those of the person throughout', async () => {
  const person = await profile(theatre);
  const app = await person.open('#/settings');
  await app.page.getByRole('button', { name: 'US customary' }).click();
  await app.openSite('Ostrel Lower School');
  assert.match(await app.shown('inlet_pressure'), /psi/);
  await app.go('#/');
  await app.page.locator('.unit', { hasText: '°F' }).waitFor();
  await person.close();
});

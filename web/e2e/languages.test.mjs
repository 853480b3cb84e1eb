// Languages: chosen once, there without signal from then on, also in a newer version; the customer's on
// papers.
import assert from 'node:assert/strict';
import { appendFileSync, cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { unzipSync } from 'fflate';
import { phone, profile, stage } from './support/app.mjs';
import { dist, serve } from './support/serve.mjs';

let theatre;
before(async () => (theatre = await stage()));
after(() => theatre.end());

const place = (page) => page.evaluate(() => document.documentElement.lang);
async function kept(page) {
  const enough = Date.now() + 5000;
  while (!(await page.evaluate(async () => Boolean(await caches.match('languages/es.json'))))) {
    assert.ok(Date.now() < enough, 'the language is not kept');
    await page.evaluate(() => new Promise(requestAnimationFrame));
  }
}
async function chooseSpanish(app) {
  await app.go('#/settings');
  await Promise.all([
    app.page.waitForEvent('load'),
    app.page.getByRole('button', { name: 'Español', exact: true }).click(),
  ]);
  await app.page.getByRole('heading', { name: 'Ajustes' }).waitFor();
}

test('a language that was chosen on the first visit is there without signal', async () => {
  const person = await profile(theatre, { ...phone, reducedMotion: 'reduce' });
  const app = await person.open();
  const { page } = app;
  await page.evaluate(() => navigator.serviceWorker.ready);
  assert.equal(await place(page), 'en');
  await chooseSpanish(app);
  assert.equal(await place(page), 'es');
  await page.getByText('todavía no lo ha revisado un hablante nativo').waitFor();
  await page.getByText('not yet read by a native speaker').waitFor();
  await kept(page);
  await person.context.setOffline(true);
  await page.reload();
  await page.getByRole('heading', { name: 'Ajustes' }).waitFor();

  // Sentences of the engine, its numbers, and the keypad.
  await app.openSite('Ostrel Lower School');
  await page.getByText('caudal de producto').first().waitFor();
  await app.go(`#/site/${app.key()}/read/membrane_pressure`);
  await page.locator('.keypad').getByRole('button', { name: 'signo decimal' }).waitFor();
  assert.equal(await page.locator('.keypad').getByRole('button', { name: 'signo decimal' }).innerText(), ',');
  for (const key of ['5', ',', '2']) await page.locator('.keypad').getByText(key, { exact: true }).click();
  await page.locator('.judged').waitFor();
  assert.match(await page.locator('dialog').innerText(), /\d,\d\u00A0bar/);

  // A form shows the sign that the keypad types, and takes either.
  await app.go(`#/site/${app.key()}/machine`);
  const pressure = page.getByLabel('Presión sin que corra nada').first();
  await pressure.waitFor();
  assert.equal(await pressure.inputValue(), '2,8');
  await pressure.fill('2.8');
  await pressure.blur();
  await page.waitForFunction((input) => input.value === '2,8', await pressure.elementHandle());
  await person.close();
});

test('every screen fits in Spanish', async () => {
  const person = await profile(theatre, { ...phone, reducedMotion: 'reduce' });
  const app = await person.open('#/', '?language=es');
  for (const at of ['#/', '#/sites', '#/settings']) {
    await app.go(at);
    await app.page.locator('h1').waitFor();
    await app.fits(`${at}, es`);
    await app.touchable(`${at}, es`);
  }
  await app.openSite('Ostrel Lower School');
  await app.fits('the site, es');
  await app.picture('site-es');
  assert.deepEqual(app.faults, []);
  await person.close();
});

test('without signal a language that is not there is told, and the app stays as it is', async () => {
  const person = await profile(theatre);
  const app = await person.open('#/settings');
  await app.page.evaluate(() => navigator.serviceWorker.ready);
  await person.context.setOffline(true);
  await app.page.getByRole('button', { name: 'Español', exact: true }).click();
  await app.page.getByText('not on this phone yet').waitFor();
  assert.equal(await place(app.page), 'en');
  await person.close();
});

test('the phone’s language is taken where it is one of ours', async () => {
  const person = await profile(theatre, { ...phone, locale: 'es-MX' });
  const app = await person.open();
  assert.equal(await place(app.page), 'es');
  await person.close();
});

test('a newer version is installed with its own words of the chosen language', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'drawoff-app-'));
  cpSync(dist, folder, { recursive: true });
  let server = await serve(folder);
  const person = await profile({ browser: theatre.browser, server });
  const app = await person.open();
  const { page } = app;
  await page.evaluate(() => navigator.serviceWorker.ready);
  await chooseSpanish(app);
  await kept(page);
  await server.end();
  const worker = readFileSync(join(folder, 'service-worker.js'), 'utf8');
  writeFileSync(join(folder, 'service-worker.js'), worker.replace(/const version = '[^']+'/, "const version = 'newer'"));
  const words = readFileSync(join(folder, 'languages/es.json'), 'utf8');
  writeFileSync(join(folder, 'languages/es.json'), words.replace('"Ajustes"', '"Ajustes nuevos"'));
  for (const file of ['service-worker.js', 'languages/es.json']) for (const kind of ['br', 'gz']) rmSync(join(folder, `${file}.${kind}`));
  appendFileSync(join(folder, 'manifest.webmanifest'), '\n');
  server = await serve(folder, server.port);
  await page.reload();
  await page.getByRole('button', { name: 'Usarla ahora' }).waitFor();
  await server.end(); // all of it is here by now
  await Promise.all([page.waitForEvent('load'), page.getByRole('button', { name: 'Usarla ahora' }).click()]);
  await page.getByRole('heading', { name: 'Ajustes nuevos' }).waitFor();
  await person.close();
  rmSync(folder, { recursive: true });
});

test('papers are in the language of those who get them', async () => {
  const person = await profile(theatre);
  const app = await person.open();
  const { page } = app;
  await page.evaluate(() => navigator.serviceWorker.ready);
  await app.openSite('Ostrel Clinic');
  const site = `#/site/${app.key()}`;
  await app.go(`${site}/name`);
  await page.getByRole('button', { name: 'Español', exact: true }).click();
  await kept(page);
  await page.getByRole('button', { name: 'Done' }).click();
  await person.context.setOffline(true);
  await app.go(`${site}/papers`);
  const { name } = await app.download(() => page.getByRole('button', { name: 'Sheet for those who drink' }).click());
  assert.match(name, /Su equipo de agua/);
  assert.equal(await place(page), 'en');
  await person.close();
});

test('papers whose language is not on the phone are in English, and are made again when there is signal', async () => {
  const person = await profile(theatre);
  const app = await person.open();
  const { page } = app;
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.reload();
  await person.context.setOffline(true);
  await app.openSite('Ostrel Clinic');
  const site = `#/site/${app.key()}`;
  await app.go(`${site}/name`);
  await page.getByRole('button', { name: 'Español', exact: true }).click();
  await page.getByText('Kept.', { exact: true }).waitFor();
  await page.getByRole('button', { name: 'Done' }).click();
  await page.reload(); // and it is shown as it is kept
  await page.locator('.headline .first').waitFor();
  await app.go(`${site}/papers`);
  const { name } = await app.download(() => page.getByRole('button', { name: 'Sheet for those who drink' }).click());
  assert.match(name, /water unit/);
  await page.getByText('so they are in English').waitFor();

  await app.go(`${site}/hand-over`);
  await page.getByLabel('Name of the technician').fill('R. Tamsin');
  await page.getByRole('group', { name: 'Signature of the technician' }).getByRole('button', { name: 'Signs on paper' }).click();
  await page.getByRole('button', { name: 'Nobody to sign', exact: true }).click();
  await page.getByRole('button', { name: 'nobody was there' }).click(); // none is chosen before a person chooses
  await page.getByRole('button', { name: 'Keep and sign' }).click();
  await page.getByText('so they are in English').waitFor();
  await app.fits('papers in English instead');
  await app.picture('hand-over-english');
  const english = await app.download(() => page.getByRole('button', { name: 'Share it all' }).click());
  const names = Object.keys(unzipSync(english.bytes));
  assert.ok(names.some((one) => one.endsWith('.record.txt')) && names.filter((one) => one.endsWith('.pdf')).length === 5, names.join());

  await person.context.setOffline(false);
  await page.getByRole('button', { name: 'Make them again' }).click();
  await page.getByText('so they are in English').waitFor({ state: 'detached' });
  const spanish = await app.download(() => page.getByRole('button', { name: 'Share it all' }).click());
  assert.ok(Object.keys(unzipSync(spanish.bytes)).some((one) => /Su equipo de agua/.test(one)));
  assert.deepEqual(app.faults.filter((fault) => !/net::ERR_/.test(fault)), []);
  await person.close();
});

// The person's own meters: added, checked at two standards, named when they are bad, read with.
import assert from 'node:assert/strict';
import { after, before } from 'node:test';
import { inOrder, profile, stage } from './support/app.mjs';

let theatre, person, app;
before(async () => {
  theatre = await stage();
  person = await profile(theatre);
  app = await person.open('#/settings');
});
after(async () => {
  assert.deepEqual(app.faults, []);
  await theatre.end();
});

const step = inOrder(() => app.picture('meters-failed'));

const entry = () => app.page.locator('.form .entry').last();
const listed = (name, raw, product) =>
  app.page.locator('.meters li', { hasText: new RegExp(`${name}.*the raw water: ${raw}.*the product: ${product}`, 's') });
const why = (purpose) => app.page.locator(`[data-purpose="${purpose}"]`);
async function put(label, text) {
  await entry().getByLabel(label).click();
  await app.keys(text);
}
async function addMeter(name, reads) {
  const { page } = app;
  await page.getByRole('button', { name: 'Add a meter' }).click();
  await page.getByLabel('Its name').fill(name);
  await page.getByRole('group', { name: 'What it reads' }).getByRole('button', { name: reads, exact: true }).click();
  await page.getByText('All that is needed is here, and kept.').waitFor();
}
async function addCheck(standard, temperature, shown) {
  const { page } = app;
  const before = await page.locator('.form .entry').count();
  await page.getByRole('button', { name: /^Add one/ }).click();
  await page.locator('.form .entry').nth(before).waitFor();
  await put('Standard, at 25 °C', standard);
  await put('Temperature in the cup', temperature);
  await put('Reading in the cup', shown);
}
async function done() {
  const { page } = app;
  if (await page.getByRole('button', { name: 'Next' }).isVisible()) await page.getByRole('button', { name: 'Next' }).click();
  await page.getByText('All that is needed is here, and kept.').waitFor();
  await page.getByRole('button', { name: 'Done' }).click();
  await page.locator('.meters').waitFor();
}
/** The page goes as if the phone had killed it, and is opened again where it was. */
async function kill() {
  const { hash } = new URL(app.page.url());
  await app.page.close({ runBeforeUnload: false });
  const { faults } = app;
  app = await person.open(hash);
  app.faults.push(...faults);
}

step('a meter is added; unchecked it vouches for nothing', async () => {
  const { page } = app;
  await app.accessible('the settings without a meter');
  await addMeter('Blue pen', 'ppm');
  await why('product').getByText('not checked there').waitFor();
  assert.match(await why('raw').innerText(), /Check it in a standard between/);
  await app.fits('a meter without checks');
  await app.accessible('a meter without checks');
  await app.picture('meter-new');
  assert.equal(await page.getByLabel('pH of the buffer').count(), 0);
});

step('checked at two standards it has its verdict, as it is typed', async () => {
  const { page } = app;
  await addCheck('84', '25', '43');
  await why('product').getByText(': good.').waitFor();
  await addCheck('1413', '25', '700');
  await why('raw').getByText(': good.').waitFor();
  await page.getByText('never back into the bottle').waitFor();
  await page.getByRole('button', { name: 'Next' }).click();
  const day = await entry().getByLabel('Day of the check').inputValue();
  assert.match(day, /^\d{4}-\d\d-\d\d$/, 'today, without typing');
  await page.getByText('What its checks say').scrollIntoViewIfNeeded();
  await app.fits('a checked meter');
  await app.accessible('a checked meter');
  await app.picture('meter-checked');
  await why('product').scrollIntoViewIfNeeded();
  await done();
  await listed('Blue pen', 'good', 'good').waitFor();
});

step('the page killed half-way through typing, and found again', async () => {
  await addMeter('Old pen', 'ppm');
  await addCheck('84', '25', '4');
  await app.drafted('4');
  await kill();
  await entry().waitFor();
  assert.equal(await entry().getByLabel('Reading in the cup').inputValue(), '4', 'as it was typed');
  assert.equal(await entry().getByLabel('Standard, at 25 °C').inputValue(), '84');
});

step('a bad meter is named, and a slip has its sentence beside the field', async () => {
  const { page } = app;
  await put('Reading in the cup', '9-'); // 49-
  await page.locator('.form .fault').waitFor();
  await entry().getByLabel('Reading in the cup').fill('90');
  await why('product').getByText('not good enough').waitFor();
  await why('raw').getByText('not checked there').waitFor();
  await page.getByRole('button', { name: 'Next' }).click();
  await why('product').scrollIntoViewIfNeeded();
  await app.fits('a bad meter');
  await app.accessible('a bad meter');
  await app.picture('meter-bad');
  await done();
  await listed('Old pen', 'not checked there', 'not good enough').waitFor();
  await page.locator('.meters').scrollIntoViewIfNeeded();
  await app.fits('the list of meters');
  await app.accessible('the list of meters');
  await app.picture('meters');
});

step('a reading is taken with one tap on a meter, its number as it was shown', async () => {
  const { page } = app;
  await app.openSite('Ostrel Lower School');
  const dialog = page.locator('dialog');
  await page.locator('[data-point="product_quality"]').click();
  await dialog.locator('#entry-value').waitFor();
  const own = (name) => dialog.getByRole('group', { name: 'Read with' }).getByRole('button', { name });
  await own('Old pen').click();
  await dialog.getByText('This meter is not good enough here.').waitFor();
  await app.keys('31');
  await app.fits('a reading with a bad meter');
  await app.accessible('a reading with a bad meter');
  await app.picture('meter-reading-bad');
  await own('Blue pen').click();
  await dialog.getByText('This meter is not good enough here.').waitFor({ state: 'detached' });
  assert.equal(await dialog.locator('#entry-value').inputValue(), '31');
  assert.match(await dialog.locator('summary').innerText(), /Blue pen/);
  await app.picture('meter-reading');
  await dialog.getByRole('button', { name: 'Keep', exact: true }).click();
  await dialog.waitFor({ state: 'detached' });
  await page.locator('[data-point="product_quality"] .value', { hasText: '31' }).waitFor();
  await page.locator('[data-point="raw_quality"]').click();
  await dialog.locator('#entry-value').waitFor();
  assert.equal(await own('Blue pen').getAttribute('aria-pressed'), 'true', 'the last one is chosen already');
  await own('Blue pen').click();
  await page.waitForFunction(() => !document.querySelector('dialog [aria-label="Read with"] [aria-pressed="true"]'));
  await own('Blue pen').click();
  await page.locator('dialog [aria-label="Read with"] [aria-pressed="true"]').waitFor();
  await dialog.getByRole('button', { name: 'Close' }).click();
  await page.locator('[data-point="reject_flow"]').click();
  await dialog.locator('#entry-value').waitFor();
  assert.equal(await dialog.getByRole('group', { name: 'Read with' }).count(), 0, 'a flow is read otherwise');
  await dialog.getByRole('button', { name: 'Close' }).click();
});

async function addGaugeCheck(against, ...values) {
  const { page } = app;
  const before = await page.locator('.form .entry').count();
  await page.getByRole('button', { name: /^Add one/ }).click();
  await page.locator('.form .entry').nth(before).waitFor();
  await entry().getByRole('group', { name: 'Checked' }).getByRole('button', { name: against }).click();
  for (const [label, text] of values) await put(label, text);
}
const listedGauge = (name, inlet, membrane, hold) =>
  app.page.locator('.meters li', {
    hasText: new RegExp(`${name}.*the inlet pressure: ${inlet}.*the pressure at the membrane: ${membrane}.*a pressure hold: ${hold}`, 's'),
  });

step('a pressure gauge is checked open to the air and beside a better one', async () => {
  const { page } = app;
  await app.go('#/settings');
  await addMeter('Van gauge', 'bar');
  for (const [label, text] of [
    ['Full scale', '10'],
    ['Class: share of full scale', '1.6'],
    ['Smallest mark', '0.2'],
  ]) {
    await page.getByLabel(label, { exact: true }).click();
    await app.keys(text);
  }
  await why('hold').getByText('not checked').waitFor();
  assert.equal(await page.getByLabel('Temperature in the cup').count(), 0);
  await addGaugeCheck('open to the air', ['This gauge', '0']);
  await why('inlet').getByText(': good.').waitFor();
  await addGaugeCheck('beside another gauge', ['The other gauge', '3'], ['This gauge', '3.1']);
  await why('membrane').getByText(': good.').waitFor();
  await page.getByRole('button', { name: 'Next' }).click();
  assert.match(await entry().getByLabel('Day of the check').inputValue(), /^\d{4}-\d\d-\d\d$/, 'today, without typing');
  await app.fits('a checked gauge');
  await app.accessible('a checked gauge');
  await app.picture('gauge-checked');
  await done();
  await listedGauge('Van gauge', 'good', 'good', 'good').waitFor();
});

step('what a pen cannot have is said by the labels of its fields', async () => {
  const { page } = app;
  await page.locator('.meters li', { hasText: 'Van gauge' }).getByRole('link').click();
  await page.getByRole('group', { name: 'What it reads' }).getByRole('button', { name: 'pH', exact: true }).click();
  await page.getByText('Checks of the gauge is entered, but the meter reads no pressure. Take it out, or set “What it reads” right.').waitFor();
  await app.fits('a gauge that became a pen');
  await app.picture('gauge-as-pen');
  await page.getByRole('group', { name: 'What it reads' }).getByRole('button', { name: 'bar', exact: true }).click();
  await page.getByText('All that is needed is here, and kept.').waitFor();
  await page.getByRole('button', { name: 'Done' }).click();
  await listedGauge('Van gauge', 'good', 'good', 'good').waitFor();
});

step('a pressure is read with it by one tap, and the pen stays the one for qualities', async () => {
  const { page } = app;
  await app.openSite('Ostrel Lower School');
  const dialog = page.locator('dialog');
  const own = (name) => dialog.getByRole('group', { name: 'Read with' }).getByRole('button', { name });
  await page.locator('[data-point="inlet_pressure"]').click();
  await dialog.locator('#entry-value').waitFor();
  assert.equal(await own('Blue pen').count(), 0, 'a pen reads no pressure');
  await own('Van gauge').click();
  await app.keys('3.1');
  assert.match(await dialog.locator('summary').innerText(), /Van gauge/);
  await app.fits('a pressure with a gauge of one\'s own');
  await app.accessible('a pressure with a gauge of one\'s own');
  await app.picture('gauge-reading');
  await dialog.getByRole('button', { name: 'Keep', exact: true }).click();
  await dialog.waitFor({ state: 'detached' });
  await page.locator('[data-point="inlet_pressure"] .value', { hasText: '3.1' }).waitFor();
  await page.locator('[data-point="membrane_pressure"]').click();
  await dialog.locator('#entry-value').waitFor();
  assert.equal(await own('Van gauge').getAttribute('aria-pressed'), 'true', 'the last one is chosen already');
  await dialog.getByRole('button', { name: 'Close' }).click();
  await page.locator('[data-point="raw_quality"]').click();
  await dialog.locator('#entry-value').waitFor();
  assert.equal(await own('Blue pen').getAttribute('aria-pressed'), 'true', 'a quality with the pen of last time');
  await dialog.getByRole('button', { name: 'Close' }).click();
});

step('a meter is taken away, and brought back as it was', async () => {
  const { page } = app;
  await app.go('#/settings');
  await page.locator('.meters li', { hasText: 'Old pen' }).getByRole('button').click();
  await page.getByText('The meter is gone.').waitFor();
  await page.locator('.meters li', { hasText: 'Old pen' }).waitFor({ state: 'detached' });
  await app.picture('meter-removed');
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await page.locator('.meters li', { hasText: 'Old pen' }).waitFor();
  await kill();
  await listed('Old pen', 'not checked there', 'not good enough').waitFor();
});

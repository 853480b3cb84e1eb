// A site's water before there is a machine: from a laboratory report, from strips; the verdict, the
// picture, the paper.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { profile, stage } from './support/app.mjs';

let theatre, person, app;
before(async () => {
  theatre = await stage();
  person = await profile(theatre);
  app = await person.open();
});
after(async () => {
  assert.deepEqual(app.faults, []);
  await theatre.end();
});

async function newSite(name) {
  const { page } = app;
  await app.go('#/sites');
  await page.getByRole('button', { name: 'New site' }).click();
  await page.getByLabel('Name of the site').first().fill(name);
  await page.getByRole('button', { name: 'Done' }).click();
  await page.locator('h1', { hasText: name }).waitFor();
  await page.getByRole('link', { name: 'The water' }).first().click();
}

// Decimal commas, degrees of hardness, a detection limit in its column; no pH.
const report = [
  'Labor;Probe 17',
  'Parameter;Ergebnis;Einheit;Bestimmungsgrenze',
  'Temperatur;12,5;°C;',
  'Calcium;115,2;mg/l;1',
  'Magnesium;12,4;mg/l;1',
  'Natrium;18,0;mg/l;',
  'Chlorid;31;mg/l;',
  'Sulfat;48;mg/l;',
  'Nitrat;72;mg/l;',
  'Säurekapazität bis pH 4,3;4,4;mmol/l;',
  'Eisen;n.n.;mg/l;0,02',
  'E. coli;0;KBE/100 ml;',
].join('\n');

test('a laboratory report is pasted, doubted and taken', async () => {
  const { page } = app;
  await newSite('Ostrel Mill');
  await page.locator('summary', { hasText: 'A laboratory report' }).click();
  await page.getByLabel("The report's lines").fill(report);
  await page.getByText('10 lines used').waitFor();
  await page.getByText('does not say as what nitrate is counted').waitFor();
  const use = page.getByRole('button', { name: 'Take the water from this report' });
  assert.ok(await use.isDisabled(), 'no water without a pH');
  await page.getByText('The report has no pH').waitFor();
  await page.getByLabel('pH, read at the tap').click();
  await app.keys('7.3');
  await page.getByRole('button', { name: 'Next' }).click();
  await app.fits('the report');
  await app.accessible('the report');
  await app.picture('report');
  await use.click();
  await page.getByText('Kept.', { exact: true }).waitFor();
  await page.getByText('The water at a glance').waitFor();
  await page.getByRole('button', { name: 'Done' }).click();
});

test('another water leaves what was said of the building', async () => {
  const { page } = app;
  await app.go(`#/site/${app.key()}/survey`);
  await page.getByRole('checkbox', { name: 'The building' }).check();
  await page.getByRole('checkbox', { name: 'Brass behind the unit' }).check();
  await page.getByText('Kept.', { exact: true }).waitFor();
  await page.locator('summary', { hasText: 'A laboratory report' }).click();
  await page.getByLabel("The report's lines").fill(`${report}\npH-Wert;7,4;;\nFreies Chlor;0,5;mg/l;\n`);
  await page.getByText('12 lines used').waitFor();
  await page.getByRole('button', { name: 'Take the water from this report' }).click();
  await page.getByText('Kept.', { exact: true }).waitFor();
  await page.getByRole('button', { name: 'Done' }).click();
  await page.getByText('There is brass behind the unit').waitFor();
  // The chlorine of a report is not that of the tap today.
  assert.ok(!/count as controlled/.test(await page.locator('main').innerText()));
});

test('the verdict stands before there is a machine, and goes on paper', async () => {
  const { page } = app;
  await page.getByText('Is reverse osmosis right here?').waitFor();
  await page.getByText('72 mg/L of nitrate').waitFor();
  await page.getByText('never').or(page.getByText('label every outlet')).first().waitFor();
  await app.fits('the verdict');
  await app.accessible('the verdict');
  await app.picture('verdict');
  assert.ok(!/\bsafe\b/i.test(await page.locator('main').innerText()), 'it never says safe');
  await page.getByRole('link', { name: 'More', exact: true }).click();
  await page.getByRole('link', { name: 'Papers', exact: true }).click();
  const paper = await app.download(() => page.getByRole('button', { name: 'Source report' }).click());
  assert.match(paper.name, /Source report\.pdf$/);
  assert.equal(paper.bytes.subarray(0, 5).toString(), '%PDF-');
  await page.getByRole('button', { name: 'Close' }).click();
});

test('a meter and strips tell what they tell', async () => {
  const { page } = app;
  await newSite('Ostrel Barn');
  await page.locator('summary', { hasText: 'A meter, drop tests or strips' }).click();
  const put = async (label, text) => {
    await page.getByLabel(new RegExp(`^${label}`)).first().click();
    await app.keys(text);
  };
  await page.getByRole('checkbox', { name: 'Conductivity or ppm meter' }).waitFor();
  await put('Temperature', '14');
  await page.getByRole('checkbox', { name: 'Conductivity or ppm meter' }).check();
  await put('Reading', '480');
  await page.getByRole('checkbox', { name: 'Nitrate, as NO3' }).check();
  await put('Strip: from', '50');
  await put('Strip: to', '100');
  await page.getByRole('button', { name: 'Next' }).click();
  await app.fits('the readings');
  await app.picture('readings');
  await page.getByRole('button', { name: 'Take the water from these readings' }).click();
  await page.getByText('Kept.', { exact: true }).waitFor();
  await page.getByText('The water at a glance').waitFor();
  await app.picture('make-up');
  await page.getByText('All that is needed is here, and kept.').waitFor();
  await page.getByRole('button', { name: 'Done' }).click();
  await page.getByText('Strips and drop tests are no analysis').waitFor();
  await page.getByText(/of nitrate; WHO allows/).waitFor();
  await app.fits('the verdict of strips');
});

test('a strip has its wait: counted down while the clock is set, through a closed page', async () => {
  const context = app.page.context();
  const { hash: before } = new URL(app.page.url());
  await app.page.close();
  const page = await context.newPage();
  await page.clock.install({ time: new Date('2026-03-03T08:00:00Z') });
  const { faults } = app;
  app = await person.attach(page);
  app.faults.push(...faults);
  await newSite('Ostrel Weir');
  await page.locator('summary', { hasText: 'A meter, drop tests or strips' }).click();
  await page.getByRole('checkbox', { name: 'Nitrate, as NO3' }).waitFor();
  await page.getByRole('checkbox', { name: 'Nitrate, as NO3' }).check();
  const start = page.getByRole('button', { name: 'Dipped: start the wait' });
  assert.equal(await start.count(), 0, 'without a wait nothing is counted');
  await page.getByLabel(/^Strip: wait before reading/).click();
  await app.keys('90');
  await page.getByRole('button', { name: 'Next' }).click();
  await start.click();
  const face = page.locator('[data-wait="nitrate.wait_s"] .big');
  await face.waitFor();
  await app.fits('the wait of a strip');
  await app.accessible('the wait of a strip');
  await app.picture('strip-wait');
  const shows = async (seconds, what) => {
    await page.waitForFunction(
      (near) => {
        const [m, s] = (document.querySelector('[data-wait] .big')?.textContent ?? '').split(':').map(Number);
        return Math.abs(60 * m + s - near) <= 3;
      },
      seconds,
      { timeout: 8000 },
    ).catch(async () => assert.fail(`${what}: ${await face.innerText()}, not ${seconds} s`));
  };
  await page.clock.runFor(20_000);
  await shows(70, 'twenty seconds on');
  await page.clock.setSystemTime(new Date('2026-03-03T05:00:20Z'));
  await page.clock.runFor(20_000);
  await shows(50, 'the clock three hours back');
  // Left and seen again.
  const { hash } = new URL(page.url());
  await app.go('#/settings');
  await page.clock.runFor(10_000);
  await app.go(hash);
  await page.locator('summary', { hasText: 'A meter, drop tests or strips' }).click();
  await shows(40, 'another screen in between');
  await page.clock.runFor(41_000);
  await page.getByText('Read the colour now.').waitFor();
  await app.picture('strip-read');
  await page.clock.runFor(70_000);
  await page.getByText('Its time was over more than a minute ago').waitFor();
  await page.getByRole('button', { name: 'Start again' }).click();
  await shows(90, 'a new strip');
  await page.close();
  const last = app.faults;
  app = await person.open(before);
  app.faults.push(...last);
});

test('a strip beside an analysis adds what it left out', async () => {
  const { page } = app;
  await newSite('Ostrel Lock');
  await page.locator('summary', { hasText: 'A laboratory report' }).click();
  await page.getByLabel("The report's lines").fill(`${report}\npH-Wert;7,4;;\n`);
  await page.getByText('11 lines used').waitFor();
  await page.getByRole('button', { name: 'Take the water from this report' }).click();
  await page.getByText('Kept.', { exact: true }).waitFor();
  const readings = page.locator('details', { hasText: 'A meter, drop tests or strips' });
  await readings.locator('summary').click();
  const put = async (label, text) => {
    await readings.getByLabel(new RegExp(`^${label}`)).first().click();
    await app.keys(text);
  };
  await page.getByRole('checkbox', { name: 'Fluoride' }).waitFor();
  await put('Temperature', '14');
  await page.getByRole('checkbox', { name: 'Fluoride' }).check();
  await put('Strip: from', '2');
  await put('Strip: to', '4');
  await page.getByRole('button', { name: 'Next' }).click();
  await app.fits('readings beside an analysis');
  await app.picture('beside');
  await page.getByRole('button', { name: 'Put them beside the analysis' }).click();
  await page.getByText('Kept.', { exact: true }).waitFor();
  await page.getByRole('button', { name: 'Done' }).click();
  await page.getByText(/of fluoride; WHO allows/).waitFor();
  await page.getByText('72 mg/L of nitrate').waitFor();
});

// The start-up as a person walks it: what a step asks for is read and kept.

/** The step that is open. */
export const open = (app) => app.page.locator('.course li.shown');

/** Settles the open step, number `at`; where its wait is not over it is asked about, and done all the same. */
export async function settle(app, effort, at) {
  await app.page.locator('footer .first').click();
  effort.taps += 1;
  const asked = await app.page.waitForFunction((n) => {
    if (document.querySelector('dialog')) return 'asked';
    return document.querySelector('.headline').textContent.startsWith(`Step ${n} of`) ? '' : 'settled';
  }, at);
  if ((await asked.jsonValue()) !== 'asked') return false;
  const dialog = app.page.locator('dialog');
  await dialog.getByText('done all the same?').waitFor();
  await dialog.locator('.row .button').last().click();
  await dialog.waitFor({ state: 'detached' });
  effort.taps += 1;
  return true;
}

/** What a good machine shows: the middle of the band in words. */
export function middle(expected) {
  const [low, high] = [...expected.matchAll(/\d[\d,]*(?:\.\d+)?/g)].slice(-2).map(([text]) => Number(text.replaceAll(',', '')));
  const value = (low + (high ?? low)) / 2;
  return String(Number(value.toPrecision(3)));
}

/** Writes down a number that the step shows: what a good machine gives, or another. */
export async function find(app, sign, effort, number) {
  const row = open(app).locator(`[data-sign="${sign}"]`);
  await row.click();
  const dialog = app.page.locator('dialog');
  await dialog.locator('input#entry-value').waitFor();
  const expected = dialog.locator('.expected');
  const bands = (await expected.count()) > 0 ? (await expected.innerText()).split(';') : ['3'];
  const value = number ?? (sign.match(/chlorine|left/) ? '0' : middle(bands.at(-1).replace(/ on a pen.*/, '')));
  await app.keys(value);
  await dialog.getByRole('status').waitFor();
  await dialog.getByRole('button', { name: 'Keep', exact: true }).click();
  await dialog.waitFor({ state: 'detached' });
  effort.numbers += 1;
  effort.taps += 2 + value.length;
  await app.page.waitForFunction((name) => document.querySelector(`[data-sign="${name}"]`)?.textContent.includes('again'), sign);
}

/** All that the open step asks for: what is known of a point, else as a good machine shows it; `effort` counts taps and numbers. */
export async function takeReadings(app, effort, known = {}) {
  const signs = await open(app).locator('[data-sign]').evaluateAll((all) => all.map((one) => one.dataset.sign));
  for (const sign of signs) await find(app, sign, effort);
  const points = await open(app).locator('[data-read]').evaluateAll((all) => all.map((one) => one.dataset.read));
  for (const point of points) {
    const row = open(app).locator(`[data-read="${point}"]`);
    await row.click();
    await app.page.locator('dialog input#entry-value').waitFor();
    const expected = app.page.locator('dialog .expected');
    const value = known[point] ?? ((await expected.count()) > 0 ? middle(await expected.innerText()) : '15');
    await app.keys(value);
    await app.page.locator('dialog').getByRole('button', { name: 'Keep', exact: true }).click();
    await app.page.locator('dialog').waitFor({ state: 'detached' });
    effort.numbers += 1;
    effort.taps += 2 + value.length;
    await app.page.waitForFunction((name) => /\d/.test(document.querySelector(`[data-read="${name}"] .read`)?.textContent ?? ''), point);
  }
}

// Every screen, as different people see it: light and dark, with larger text, in a longer language,
// by keyboard, on a desk.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from '../script/engine.mjs';
import { desk, phone, profile, stage } from './support/app.mjs';

let theatre;
before(async () => (theatre = await stage()));
after(() => theatre.end());

const school = 'Ostrel Lower School';

/** Calls `look` on each screen and sheet, with a name for it. */
async function tour(app, look) {
  const { page } = app;
  await page.locator('.values').waitFor();
  await look('quick');
  await page.locator('#quick-raw').click();
  await page.locator('.keypad').waitFor();
  await look('quick-keypad');
  await app.go('#/sites');
  await page.locator('.sites .name').nth(2).waitFor();
  await look('sites');
  await app.openSite(school);
  await page.locator('.drawing').waitFor();
  await look('site');
  const key = app.key();
  for (const [place, ready] of [
    ['read/reject_flow', '#entry-value'],
    ['part/element', 'dialog polyline'],
    ['working/membrane_pressure', '.lines li'],
    ['rest', 'dialog polyline'],
    ['own', 'dialog .words'],
    ['more', 'dialog .button'],
    ['papers', 'dialog .button'],
    ['name', 'dialog .field'],
    ['what-if', '.slider'],
    ['survey', '.form'],
    ['machine', '.form'],
  ]) {
    await app.go(`#/site/${key}/${place}`);
    await page.locator(ready).first().waitFor();
    await look(place.split('/')[0]);
  }
  await app.go('#/settings');
  await page.locator('h2').first().waitFor();
  await look('settings');
  await page.locator('section', { has: page.locator('.meters') }).locator('button').last().click();
  await page.locator('.form').waitFor();
  await look('meter');
}

for (const colorScheme of ['light', 'dark']) {
  test(`axe finds nothing, ${colorScheme}`, async () => {
    const person = await profile(theatre, { ...phone, colorScheme, reducedMotion: 'reduce' });
    const app = await person.open();
    await tour(app, async (name) => {
      await app.accessible(`${name}, ${colorScheme}`);
      await app.fits(`${name}, ${colorScheme}`);
      await app.picture(`${name}-${colorScheme}`);
    });
    assert.deepEqual(app.faults, []);
    await person.close();
  });
}

test('text of twice the size loses nothing', async () => {
  const person = await profile(theatre, { ...phone, reducedMotion: 'reduce' });
  await person.context.addInitScript(() =>
    addEventListener('DOMContentLoaded', () => (document.documentElement.style.fontSize = '200%')),
  );
  const app = await person.open();
  await tour(app, async (name) => {
    await app.fits(`${name}, 200 %`);
    await app.picture(`${name}-200`);
    if (name === 'site') {
      assert.equal(await app.page.locator('[data-point]').count(), 10);
      assert.ok(await app.page.locator('[data-point] .expected').first().isVisible());
    }
  });
  await person.close();
});

test('a longer language fits, and every word comes from the catalogue', async () => {
  const person = await profile(theatre, { ...phone, reducedMotion: 'reduce' });
  const app = await person.open('#/', '?language=en-XA');
  // Not words of the catalogue: formulas with their symbols and sources, what stands there in English on
  // purpose, and what a person typed.
  const formulas = '.lines, [lang=en]';
  const typed = ['Letter']; // a size of paper
  for (const file of readdirSync(join(root, 'examples'))) {
    const text = readFileSync(join(root, 'examples', file), 'utf8');
    JSON.parse(text, (key, value) => (/^(name|note)$/.test(key) && typed.push(value), value));
  }
  await tour(app, async (name) => {
    await app.fits(`${name}, en-XA`);
    await app.picture(`${name}-en-XA`);
    const bare = await app.page.evaluate(([skipped, own]) => {
      const found = [];
      const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      while (walk.nextNode()) {
        const { parentElement: element, data } = walk.currentNode;
        if (!element.checkVisibility() || element.closest(skipped)) continue;
        if (own.some((one) => data.includes(one))) continue;
        if (/\p{L}{4,}/u.test(data) && !/[^\u0000-\u007f]/.test(data)) found.push(data.trim());
      }
      return found;
    }, [formulas, typed]);
    assert.deepEqual(bare, [], `words of ${name} that are not of the catalogue`);
  });
  assert.deepEqual(app.faults, []);
  await person.close();
});

test('from right to left nothing is clipped, and the drawing stays as the thing on the wall', async () => {
  const person = await profile(theatre, { ...phone, reducedMotion: 'reduce' });
  const app = await person.open('#/', '?language=ar-XB');
  const { page } = app;
  assert.deepEqual(await page.evaluate(() => [document.documentElement.lang, document.documentElement.dir]), ['ar-XB', 'rtl']);
  await tour(app, async (name) => {
    await app.fits(`${name}, ar-XB`);
    await app.touchable(`${name}, ar-XB`);
    await app.picture(`${name}-ar-XB`);
    // What was rendered once and filled in again would lose its marks.
    assert.ok(!(await page.evaluate(() => document.body.innerText.includes('\uFFFD'))), `${name}: a text within a text`);
    if (name === 'site') {
      assert.equal(await page.locator('.drawing').evaluate((drawing) => getComputedStyle(drawing).direction), 'ltr');
    }
  });
  assert.deepEqual(app.faults, []);
  await person.close();
});

test('by keyboard, the water path is walked in the order of the water', async () => {
  const person = await profile(theatre, desk);
  const app = await person.open();
  await app.openSite(school);
  const { page } = app;
  await page.locator('[data-point]').first().waitFor();
  const order = await page.locator('[data-point]').evaluateAll((all) => all.map((one) => one.dataset.point));
  assert.deepEqual(order.slice(0, 3), ['temperature', 'raw_quality', 'inlet_pressure']);
  await page.locator('[data-point]').first().focus();
  const walked = [];
  for (let i = 0; i < order.length; ++i) {
    walked.push(await page.evaluate(() => document.activeElement.dataset.point));
    await page.keyboard.press('Tab');
  }
  assert.deepEqual(walked, order);

  // Read one without touching the screen: Enter opens, digits type, Enter keeps, focus comes back.
  await page.locator('[data-point="reject_flow"]').focus();
  await page.keyboard.press('Enter');
  await page.locator('#entry-value').waitFor();
  await page.keyboard.type('300');
  await page.locator('.judged').waitFor();
  await page.keyboard.press('Enter');
  await page.locator('dialog').waitFor({ state: 'detached' });
  await page.locator('[data-point="reject_flow"] .value').waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.dataset.point), 'reject_flow');
  // What is heard there: name, reading, fit, expectation.
  const heard = (await page.locator('[data-point="reject_flow"]').innerText()).replace(/\s+/g, ' ');
  assert.match(heard, /^reject flow 300 L\/h .+ should be/i);
  await person.close();
});

test('on a desk the words stand beside the drawing', async () => {
  const person = await profile(theatre, desk);
  const app = await person.open();
  await app.openSite(school);
  const drawing = await app.page.locator('.drawing').boundingBox();
  const words = await app.page.locator('.words').last().boundingBox();
  assert.ok(words.x > drawing.x + drawing.width, 'beside');
  await app.fits('the site on a desk');
  await app.accessible('the site on a desk');
  await app.picture('desk');
  await person.close();
});

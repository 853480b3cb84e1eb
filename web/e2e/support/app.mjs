// A person with a phone: what the tests do and see. Nothing here waits for a time to pass, only for
// what the person would wait for.
import assert from 'node:assert/strict';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { chromium } from 'playwright-core';
import { launch } from '../../script/browser.mjs';
import { root } from '../../script/engine.mjs';
import { serve } from './serve.mjs';

export const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
export const desk = { viewport: { width: 1280, height: 800 } };
const pictures = join(root, 'build/screenshots');
mkdirSync(pictures, { recursive: true });
const axe = readFileSync(join(root, 'web/node_modules/axe-core/axe.min.js'), 'utf8');

/** The served app and a browser; `end` closes both. */
export async function stage() {
  const server = await serve();
  const browser = await chromium.launch(launch);
  return {
    server,
    browser,
    async end() {
      await browser.close();
      await server.end();
    },
  };
}

/** Tests that stand each on those before it: after a failure, of which a picture is taken, the rest is not tried. */
export function inOrder(picture) {
  let failed = false;
  return (name, work) =>
    test(name, async () => {
      assert.ok(!failed, 'an earlier step failed');
      try {
        await work();
      } catch (error) {
        failed = true;
        await picture();
        throw error;
      }
    });
}

/** A fresh profile of a browser. */
export async function profile({ browser, server }, options = phone) {
  const context = await browser.newContext({ locale: 'en-GB', ...options });
  context.setDefaultTimeout(15_000);
  return new Profile(context, server.address);
}

class Profile {
  constructor(context, address) {
    this.context = context;
    this.address = address;
  }
  async open(place = '#/', query = '') {
    return this.attach(await this.context.newPage(), place, query);
  }
  async attach(page, place = '#/', query = '') {
    const app = new App(page);
    await page.goto(`${this.address}${query}${place}`);
    await page.locator('h1').first().waitFor();
    return app;
  }
  close = () => this.context.close();
}

export class App {
  faults = []; // what the page complained of
  constructor(page) {
    this.page = page;
    page.on('pageerror', (error) => this.faults.push(error.message));
    page.on('console', (message) => message.type() === 'error' && this.faults.push(message.text()));
  }

  async go(place) {
    await this.page.evaluate((hash) => (location.hash = hash), place);
  }
  key = () => decodeURIComponent(new URL(this.page.url()).hash.split('/')[2]);
  async openSite(name) {
    await this.go('#/sites');
    await this.page.locator('.sites a', { hasText: name }).first().click();
    await this.page.locator('.headline .first').waitFor();
  }
  /** Types by touching our own keypad; the decimal sign is whatever the keypad shows. */
  async keys(text) {
    for (const key of text) {
      const name = key === '.' ? 'decimal sign' : key === '<' ? 'less than' : key === '-' ? 'minus' : key;
      await this.page.locator('.keypad').last().getByRole('button', { name, exact: true }).click();
    }
  }
  async read(point, text, unit) {
    const { page } = this;
    await page.locator(`[data-point="${point}"]`).click();
    await page.locator('dialog input#entry-value').waitFor();
    if (unit) await page.locator('dialog .units').getByRole('button', { name: unit, exact: true }).click();
    await this.keys(text);
    await page.locator('dialog').getByRole('button', { name: 'Keep', exact: true }).click();
    await page.locator('dialog').waitFor({ state: 'detached' });
  }
  /** Waits for what takes a while to be told: page.waitForFunction takes any promise for a yes. */
  async until(predicate, argument) {
    const enough = Date.now() + 15_000;
    while (!(await this.page.evaluate(predicate, argument))) {
      assert.ok(Date.now() < enough, `it did not come: ${predicate}`);
      await this.page.evaluate(() => new Promise(requestAnimationFrame));
    }
  }
  /** Waits until the browser holds a half-typed value, or a draft like it, on its disk; or does no longer. */
  async drafted(text, there = true) {
    const pattern = text instanceof RegExp ? text.source : `^${text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`;
    await this.until(
      async ([pattern, there]) => {
        const wait = (request) => new Promise((resolve) => (request.onsuccess = () => resolve(request.result)));
        const db = await wait(indexedDB.open('drawoff'));
        const drafts = await wait(db.transaction('drafts').objectStore('drafts').getAll());
        db.close();
        return drafts.some((draft) => new RegExp(pattern).test(draft.text)) === there;
      },
      [pattern, there],
    );
  }
  /** A slow disk: nothing is said to be in the book until what is returned is called. */
  async slowBook() {
    await this.page.evaluate(() => {
      const held = [];
      const own = IDBTransaction.prototype;
      own.addEventListener = function (kind, told, ...more) {
        const late = kind === 'complete' && this.objectStoreNames.contains('entries');
        EventTarget.prototype.addEventListener.call(this, kind, late ? (event) => held.push(() => told(event)) : told, ...more);
      };
      window.letGo = () => {
        delete own.addEventListener;
        for (const tell of held) tell();
      };
    });
    return () => this.page.evaluate(() => window.letGo());
  }
  /** A slow disk of another kind: it takes so long over everything, until what is returned is called. */
  async lateBook(milliseconds) {
    await this.page.evaluate((late) => {
      const own = IDBTransaction.prototype;
      own.addEventListener = function (kind, told, ...more) {
        const held = kind === 'complete' && this.mode !== 'readonly';
        EventTarget.prototype.addEventListener.call(this, kind, held ? (event) => setTimeout(() => told(event), late) : told, ...more);
      };
    }, milliseconds);
    return () => this.page.evaluate(() => delete IDBTransaction.prototype.addEventListener);
  }
  async shown(point) {
    return (await this.page.locator(`[data-point="${point}"]`).innerText()).replace(/\s+/g, ' ');
  }
  async download(press) {
    const [file] = await Promise.all([this.page.waitForEvent('download'), press()]);
    return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) };
  }
  async picture(name) {
    await this.page.screenshot({ path: join(pictures, `${name}.png`) });
  }

  /** No violation that axe can find on what is shown now. */
  async accessible(what) {
    // A sheet that is still rising is half transparent.
    await this.page.evaluate(() => Promise.all([...document.querySelectorAll('dialog')].flatMap((one) => one.getAnimations()).map(({ finished }) => finished)));
    await this.page.evaluate(axe);
    const { violations } = await this.page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
    const said = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' ; ')}`);
    assert.deepEqual(said, [], `accessibility of ${what}`);
  }
  /** What is pressed is large enough for a thumb, and lies on the page. */
  async touchable(what) {
    const found = await this.page.evaluate(() => {
      const out = [];
      for (const element of document.querySelectorAll('button, .button, select, input:not(.unseen):not([type=checkbox])')) {
        if (!element.checkVisibility()) continue;
        const { width, height: own, left, right } = element.getBoundingClientRect();
        const height = Math.max(own, Number.parseFloat(getComputedStyle(element, '::after').height) || 0); // what it is widened by
        const name = element.outerHTML.slice(0, 120);
        if (width < 43.5 || height < 43.5) out.push(`${width.toFixed()} x ${height.toFixed()}: ${name}`);
        if (left < -0.5 || right > innerWidth + 0.5) out.push(`beside the page: ${name}`);
      }
      return out;
    });
    assert.deepEqual(found, [], `touch targets of ${what}`);
  }
  /** Nothing is cut off or sticks out, and no two words of the drawing lie on each other. */
  async fits(what) {
    const look = () => {
      const out = [];
      const { scrollWidth, clientWidth } = document.documentElement;
      if (scrollWidth > clientWidth) out.push(`the page is ${scrollWidth} wide, not ${clientWidth}`);
      for (const element of document.querySelectorAll('button, a, label, p, h1, h2, summary, td, th')) {
        if (!element.checkVisibility() || element.closest('.unseen, [data-words]')) continue;
        if (element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).display !== 'inline') {
          out.push(`cut off: ${element.outerHTML.slice(0, 120)}`);
        }
      }
      const words = [...document.querySelectorAll('[data-words]')].map((one) => [one.innerText, one.getBoundingClientRect()]);
      words.forEach(([text, a], i) =>
        words.slice(i + 1).forEach(([other, b]) => {
          const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
          const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
          if (wide > 2 && high > 2) out.push(`on each other: ${text} / ${other}`);
        }),
      );
      return out;
    };
    // A drawing may be on its way to another size: what counts is where it comes to rest.
    const enough = Date.now() + 5000;
    while ((await this.page.evaluate(look)).length > 0 && Date.now() < enough) {
      await this.page.evaluate(() => new Promise(requestAnimationFrame));
    }
    assert.deepEqual(await this.page.evaluate(look), [], `layout of ${what}`);
  }
}

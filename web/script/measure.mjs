// Measures the built app against its bounds, and fails beyond them: lighthouse, what the first load
// transfers, how soon it can be used on a slow phone, how soon a reading is judged. A slow phone is
// six times slower (lighthouse's four times) than a machine that does the reference job below in
// `reference_ms`; a machine that is itself slower is slowed down by so much less.
import lighthouse from 'lighthouse';
import { chromium } from 'playwright-core';
import { launch } from './browser.mjs';
import { serve } from '../e2e/support/serve.mjs';
import { App, phone } from '../e2e/support/app.mjs';

const bounds = {
  'transfer, kB': { most: 1000 },
  'usable at 6x slower, ms': { most: 3000 },
  'a reading judged, ms': { most: 200 },
  performance: { least: 95 },
  accessibility: { least: 95 },
  'best-practices': { least: 95 },
};
const reference_ms = 150; // estimated: one half as fast takes 230 to 370
const found = {};
const port = 9222 + (process.pid % 1000);
const server = await serve();
const browser = await chromium.launch({ ...launch, args: [...launch.args, `--remote-debugging-port=${port}`] });

try {
  // The best of three: other work on this machine only adds.
  for (let i = 0; i < 3; ++i) least('the reference job, ms', await reference());
  const speed = Math.min(1, reference_ms / found['the reference job, ms']);
  console.log(`the reference job: ${found['the reference job, ms']} ms, so slowed down ${(6 * speed).toFixed(1)} times`);
  for (let i = 0; i < 3; ++i) {
    await firstLoad(Math.max(1, 6 * speed));
    await reading();
    await quality(Math.max(1, 4 * speed));
  }
} finally {
  await browser.close();
  await server.end();
}

let failed = 0;
for (const [name, { most = Infinity, least = 0 }] of Object.entries(bounds)) {
  const good = found[name] <= most && found[name] >= least;
  if (!good) failed += 1;
  console.log(`${good ? 'ok    ' : 'BEYOND'} ${name}: ${found[name]} (${most < Infinity ? `at most ${most}` : `at least ${least}`})`);
}
console.log(`${Object.keys(bounds).length - failed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

// All that the network carries until the app is ready for use without signal; and the time until a
// first answer of the quick check could be typed.
async function firstLoad(slower) {
  const context = await browser.newContext(phone);
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: slower });
  let bytes = 0;
  const count = ({ encodedDataLength }) => (bytes += encodedDataLength);
  await session.send('Network.enable');
  session.on('Network.loadingFinished', count);
  const start = performance.now();
  await page.goto(server.address);
  await page.locator('#quick-raw').waitFor();
  least('usable at 6x slower, ms', performance.now() - start);
  await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  await page.evaluate(() => navigator.serviceWorker.ready);
  for (const worker of [...page.workers(), ...context.serviceWorkers()]) {
    bytes += await worker.evaluate(() =>
      performance.getEntriesByType('resource').reduce((sum, { transferSize }) => sum + transferSize, 0),
    );
  }
  found['transfer, kB'] = Math.round(bytes / 1000);
  await context.close();
}

function least(name, value) {
  found[name] = Math.min(found[name] ?? Infinity, Math.round(value));
}

// What starting the app is made of, fixed: elements drawn, records kept, code run.
async function reference() {
  const context = await browser.newContext(phone);
  const page = await context.newPage();
  await page.route('**/reference', (route) => route.fulfill({ contentType: 'text/html', body: '<body></body>' }));
  await page.goto(`${server.address}/reference`);
  const took_ms = await page.evaluate(async () => {
    const request = (made) =>
      new Promise((resolve, reject) => {
        made.onsuccess = () => resolve(made.result);
        made.onerror = () => reject(made.error);
      });
    const start = performance.now();
    const opening = indexedDB.open('reference', 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore('records');
    const db = await request(opening);
    for (let i = 0; i < 50; ++i) {
      const store = db.transaction('records', 'readwrite').objectStore('records');
      await request(store.put({ i }, i));
      const section = document.body.appendChild(document.createElement('section'));
      for (let k = 0; k < 50; ++k) section.appendChild(document.createElement('p')).textContent = `${i} ${k}`;
      if (section.offsetHeight === 0) throw new Error('not drawn');
    }
    return performance.now() - start;
  });
  await context.close();
  return took_ms;
}

// Lighthouse now and then misses the start of the trace, and says so: that measures nothing.
async function quality(slower, tries = 3) {
  const { lhr } = await lighthouse(server.address, {
    port,
    output: 'json',
    logLevel: 'error',
    onlyCategories: ['performance', 'accessibility', 'best-practices'],
    throttling: { cpuSlowdownMultiplier: slower },
  });
  if (lhr.runtimeError?.code === 'NO_NAVSTART' && tries > 1) return quality(slower, tries - 1);
  if (lhr.runtimeError) throw new Error(lhr.runtimeError.message);
  for (const [name, { score }] of Object.entries(lhr.categories)) {
    found[name] = Math.max(found[name] ?? 0, Math.round(score * 100));
  }
}

// From the last key to the words beside the number.
async function reading() {
  const context = await browser.newContext(phone);
  const page = await context.newPage();
  const app = new App(page);
  await page.goto(server.address);
  await app.openSite('Ostrel Lower School');
  await page.locator('[data-point="reject_flow"]').click();
  await page.locator('#entry-value').waitFor();
  await app.keys('30');
  await page.locator('.judged').waitFor();
  const judged_ms = await page.evaluate(
    () =>
      new Promise((resolve) => {
        const judged = document.querySelector('.judged strong');
        const before = judged.textContent;
        const start = performance.now();
        const watcher = new MutationObserver(() => {
          if (document.querySelector('.judged strong')?.textContent === before) return;
          watcher.disconnect();
          resolve(Math.round(performance.now() - start));
        });
        watcher.observe(document.querySelector('dialog'), { subtree: true, childList: true, characterData: true });
        [...document.querySelectorAll('.keypad button')].find(({ textContent }) => textContent === '0').click();
      }),
  );
  least('a reading judged, ms', judged_ms);
  await context.close();
}

// Draws the icons in public/icons from drawoff.svg with a browser; run by hand when that changes.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { launch } from './browser.mjs';
import { root } from './engine.mjs';

const folder = join(root, 'web/public/icons');
const drawing = readFileSync(join(folder, 'drawoff.svg'), 'utf8');
const whole = drawing.replace(' rx="96"', ''); // a maskable icon is cut to shape by the phone
const browser = await chromium.launch(launch);
for (const [name, size, svg] of [
  ['drawoff-192', 192, drawing],
  ['drawoff-512', 512, drawing],
  ['drawoff-maskable-512', 512, whole],
]) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<style>body{margin:0}svg{display:block;width:100vw}</style>${svg}`);
  writeFileSync(join(folder, `${name}.png`), await page.screenshot({ omitBackground: true }));
  await page.close();
}
await browser.close();

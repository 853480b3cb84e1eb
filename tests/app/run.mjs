// The phone app: its types, its data layer, and the whole of it in a real browser. web/ holds the
// tests; this runs them, looks for what they cannot see, and counts. Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const root = join(new URL('.', import.meta.url).pathname, '../..');
const web = join(root, 'web');
let passed = 0;
let failed = 0;

function run(title, command, ...words) {
  const start = performance.now();
  const done = spawnSync(command, words, {
    cwd: web,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    env: { ...process.env, NO_COLOR: '1' },
  });
  const seconds = ((performance.now() - start) / 1000).toFixed(1);
  console.log(`${title}: ${seconds} s`);
  return { good: done.status === 0, said: `${done.stdout}${done.stderr}${done.error ?? ''}` };
}
function count(title, good, said) {
  if (good) passed += 1;
  else failed += 1;
  if (!good) console.log(`FAILED ${title}\n${said}`);
}
const binary = (name) => join(web, 'node_modules/.bin', name);

// Names and notes are typed by people and read from files: they must never become markup. The lines
// of a drawing, too, are set as attributes.
function unsafe() {
  const found = [];
  for (const entry of readdirSync(join(web, 'src'), { recursive: true })) {
    if (!/\.(svelte|ts|js)$/.test(entry)) continue;
    const text = readFileSync(join(web, 'src', entry), 'utf8');
    for (const [use] of text.matchAll(/\{@html|innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function/g)) {
      found.push(`${entry}: ${use}`);
    }
  }
  return found;
}
// Directions follow the script: a page from right to left is mirrored by itself.
function physical() {
  const found = [];
  for (const entry of readdirSync(join(web, 'src'), { recursive: true })) {
    if (!/\.(svelte|css)$/.test(entry)) continue;
    const whole = readFileSync(join(web, 'src', entry), 'utf8');
    const text = entry.endsWith('.css') ? whole : whole.slice(whole.indexOf('<style>'));
    const words = /(?:margin|padding|border)-(?:left|right|top|bottom)\b|(?<![\w-])(?:left|right)\s*:|text-align:\s*(?:left|right)|float:/g;
    for (const [use] of text.matchAll(words)) found.push(`${entry}: ${use}`);
  }
  return found;
}

count('no markup from text', unsafe().length === 0, unsafe().join('\n'));
count('logical directions', physical().length === 0, physical().join('\n'));

const types = run('types', binary('svelte-check'), '--tsconfig', './tsconfig.json', '--fail-on-warnings');
count('types', types.good, types.said);

const unit = run('data layer', binary('vitest'), 'run');
const tests = /Tests\s+(?:(\d+) failed\s*\|\s*)?(\d+) passed/.exec(unit.said);
passed += Number(tests?.[2] ?? 0);
failed += Math.max(Number(tests?.[1] ?? 0), unit.good ? 0 : 1);
if (!unit.good) console.log(unit.said);

const scenes = readdirSync(join(web, 'e2e')).filter((name) => name.endsWith('.test.mjs')).map((name) => `e2e/${name}`);
const browser = run('in the browser', process.execPath, '--test', '--test-concurrency=2', '--test-reporter=tap', ...scenes);
const tally = (word) => Number(new RegExp(`^# ${word} (\\d+)$`, 'm').exec(browser.said)?.[1] ?? 0);
passed += tally('pass');
failed += Math.max(tally('fail'), browser.good ? 0 : 1);
if (!browser.good) console.log(browser.said);

const measured = run('measures', process.execPath, 'script/measure.mjs');
const last = /(\d+) passed, (\d+) failed\s*$/.exec(measured.said);
passed += Number(last?.[1] ?? 0);
failed += Math.max(Number(last?.[2] ?? 0), measured.good ? 0 : 1);
console.log(measured.said);

console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

// The fuzz targets, a few seconds each from the project's own files and a fixed seed; longer with
// `--seconds N` (script/validate). A find is kept in build/fuzz/found. Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const root = join(new URL('.', import.meta.url).pathname, '../..');
const built = join(root, 'build/fuzz/tests/fuzz');
const work = join(root, 'build/fuzz');
const at = process.argv.indexOf('--seconds');
const seconds = at < 0 ? 5 : +process.argv[at + 1];
const text = (file) => readFileSync(join(root, file), 'utf8');
const files = (folder, end) => readdirSync(join(root, folder)).filter((name) => name.endsWith(end)).map((name) => text(join(folder, name)));
const goldens = files('tests/golden', '.json').map((golden) => JSON.parse(golden));

// What each begins with.
const seeds = {
  analysis: goldens.filter(({ name }) => name === 'water').map(({ input }) => JSON.stringify(input)),
  jpeg: [Buffer.from('ffd8ffc0000b080010001001011100ffd9', 'hex')],
  json: goldens.map(({ input }) => JSON.stringify(input)),
  pattern: Object.values(JSON.parse(text('data/messages/en.json'))).filter((pattern) => pattern.includes('{')),
  record: files('examples', '.site.json').map((site) => {
    const entries = JSON.parse(site).entries.slice(0, 3);
    const head = { signed_by: 'R. Tamsin', at: '2026-03-03T18:00:00Z', key: '11'.repeat(32), entries: entries.length, attachments: 1 };
    const lines = [head, ...entries, { sha256: 'aa'.repeat(32), name: 'record.pdf' }, { signature: '5a'.repeat(64) }];
    return `{"schema":"drawoff.record","version":1}\n${lines.map((line) => `${JSON.stringify(line)}\n`).join('')}`;
  }),
  report: [
    ...goldens.filter(({ name }) => name === 'report').map(({ input }) => input.text),
    'Sample,pH,Ca (mg/L),NO3-N\nA,7.3,115.2,<0.02\nB,7,80,"1,234"\n',
    '[{"Characteristic Name":"Calcium","Result Value":115,"Result Unit":"mg/L"}]',
    'pH: 7.3\nCalcium 115.2 mg/L\nNitrate (as NO3) 5 - 10 mg/L\nIron ND\n',
  ],
  request: ['GET\n/\n127.0.0.1:8420\ngzip\n', 'HEAD\n/assets/app.js?x=1\nlocalhost\nbr;q=0, gzip\n"abc"'],
  site_file: files('examples', '.site.json').map((site) => JSON.stringify(JSON.parse(site))),
  typed: ['122e304', '1,234.5', '-0.5', '1e3', '<0.02', '٣'],
};

let passed = 0;
let failed = 0;
for (const [name, begun] of Object.entries(seeds)) {
  const program = join(built, `fuzz_${name}`);
  if (!existsSync(program)) {
    failed += 1;
    console.log(`FAILED ${name}: ${program} is not built`);
    continue;
  }
  const corpus = join(work, 'corpus', name);
  const found = join(work, 'found', name);
  rmSync(corpus, { recursive: true, force: true });
  for (const folder of [corpus, found]) mkdirSync(folder, { recursive: true });
  begun.forEach((seed, i) => writeFileSync(join(corpus, `${i}`), seed));
  const run = spawnSync(
    program,
    [`-max_total_time=${seconds}`, '-seed=1', '-timeout=5', '-rss_limit_mb=2048', '-print_final_stats=1', `-artifact_prefix=${found}/`, corpus],
    { encoding: 'utf8', maxBuffer: 1 << 28 },
  );
  const count = +(/number_of_executed_units: (\d+)/.exec(run.stderr)?.[1] ?? 0);
  // So few would mean that it did not look.
  const good = run.status === 0 && count >= 100;
  if (good) passed += 1;
  else failed += 1;
  console.log(`${good ? '' : 'FAILED '}${name}: ${count} inputs in ${seconds} s${good ? '' : `\n${run.stderr.slice(-3000)}`}`);
}
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

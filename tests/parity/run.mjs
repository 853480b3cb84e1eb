// One numeric truth: every golden request gives the same answer natively, in WebAssembly and on
// record. C libraries' transcendental functions differ in the last digit, so the same is within
// 1e-11 relative (docs/decisions/0004-wasm-bridge.md), or within the file's own "tolerance" where
// a solver's is wider.
//
//   tests/golden/NAME.json  {"name", "input", "output", "explain"?, "tolerance"?, "absolute"?}
//
// `node tests/parity/run.mjs --update` writes the native answers into the golden files instead;
// read the difference before you commit it. Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { differences } from './compare.mjs';
import { startEngine } from './engine.mjs';

const drawoff = process.env.DRAWOFF ?? 'build/release/apps/cli/drawoff';
const wasm = process.env.DRAWOFF_WASM ?? 'build/wasm/apps/wasm/drawoff.wasm';
const folder = process.env.DRAWOFF_GOLDEN ?? 'tests/golden';
const update = process.argv.includes('--update');
let passed = 0;
let failed = 0;

function count(title, problems) {
  if (problems.length === 0) passed += 1;
  else failed += 1;
  for (const problem of problems) console.log(`${title}: ${problem}`);
}

function native(golden) {
  const options = golden.explain ? ['--explain'] : [];
  const run = spawnSync(drawoff, ['calc', golden.name, ...options], {
    input: JSON.stringify(golden.input),
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (run.status !== 0) throw new Error(`status ${run.status}: ${run.stderr}${run.error ?? ''}`);
  return JSON.parse(run.stdout);
}

let engine;
for (const file of readdirSync(folder).filter((name) => name.endsWith('.json')).sort()) {
  const path = `${folder}/${file}`;
  const golden = JSON.parse(readFileSync(path, 'utf8'));
  const tolerance = { relative: golden.tolerance ?? 1e-11, absolute: golden.absolute };
  const { name, input, explain = false } = golden;
  let here;
  try {
    here = native(golden);
  } catch (error) {
    count(`${file}, native`, [error.message]);
    continue;
  }
  if (update) {
    const changed = differences(golden.output ?? {}, here, { relative: 0 });
    if (changed.length > 0) {
      writeFileSync(path, `${JSON.stringify({ ...golden, output: here }, null, 2)}\n`);
      console.log(`${path}: rewritten, ${changed.length} values changed`);
      for (const change of changed.slice(0, 20)) console.log(`  ${change}`);
    }
    continue;
  }
  count(`${file}, record against native`, differences(golden.output, here, tolerance));
  try {
    engine ??= startEngine(wasm);
    const there = engine.request({ name, input, explain });
    count(`${file}, native against WebAssembly`, differences(here, there, tolerance));
    count(`${file}, record against WebAssembly`, differences(golden.output, there, tolerance));
  } catch (error) {
    engine = undefined; // after a trap a module is not to be trusted: the next request gets a new one
    count(`${file}, WebAssembly`, [error.message]);
  }
}
// The whole job of each demo site, command against WebAssembly: solver and sampling between them.
for (const file of update ? [] : readdirSync('examples').sort()) {
  const site = readFileSync(`examples/${file}`, 'utf8');
  const run = spawnSync(drawoff, ['job', `examples/${file}`, '--json'], { encoding: 'utf8' });
  try {
    engine ??= startEngine(wasm);
    const there = engine.request({ job: site });
    const problems =
      run.status === 0
        ? differences(JSON.parse(run.stdout), there, { relative: 1e-8 })
        : [`status ${run.status}: ${run.stderr}`];
    count(`${file}, job native against WebAssembly`, problems);
  } catch (error) {
    engine = undefined;
    count(`${file}, job in WebAssembly`, [error.message]);
  }
}
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

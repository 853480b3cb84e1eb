// The schemas that the command prints are JSON Schema 2020-12, and the golden requests and answers
// keep to them. Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import Ajv from 'ajv/dist/2020.js';

const drawoff = process.env.DRAWOFF ?? 'build/release/apps/cli/drawoff';
const folder = process.env.DRAWOFF_GOLDEN ?? 'tests/golden';
let passed = 0;
let failed = 0;

function count(title, problems) {
  if (problems.length === 0) passed += 1;
  else failed += 1;
  for (const problem of problems) console.log(`${title}: ${problem}`);
}
function ask(...words) {
  const run = spawnSync(drawoff, ['calc', ...words], { encoding: 'utf8' });
  if (run.status !== 0) throw new Error(`drawoff calc ${words.join(' ')}: ${run.stderr}${run.error ?? ''}`);
  return run.stdout;
}

const kinds = ['input', 'output'];
const validators = new Map();
for (const line of ask('--list').split('\n').filter((text) => text.trim())) {
  const name = line.trim().split(/\s+/)[0];
  for (const kind of kinds) {
    try {
      const schema = JSON.parse(ask(name, '--schema'))[kind];
      // Strict: an unknown keyword or a type that cannot be meant is an error. x-unit is ours.
      const ajv = new Ajv({ strict: true, allowUnionTypes: true, allErrors: true, validateFormats: false });
      ajv.addKeyword('x-unit');
      validators.set(`${name} ${kind}`, ajv.compile(schema));
      count(`${name} ${kind}`, []);
    } catch (error) {
      count(`${name} ${kind}`, [error.message]);
    }
  }
}
for (const file of readdirSync(folder).filter((name) => name.endsWith('.json')).sort()) {
  const golden = JSON.parse(readFileSync(`${folder}/${file}`, 'utf8'));
  for (const kind of kinds) {
    const valid = validators.get(`${golden.name} ${kind}`);
    if (!valid) {
      count(`${file} ${kind}`, [`there is no schema of "${golden.name}"`]);
    } else {
      const good = valid(golden[kind]);
      const problems = good ? [] : valid.errors.map((e) => `${e.instancePath || 'the whole'} ${e.message}`);
      count(`${file} ${kind}`, problems);
    }
  }
}
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

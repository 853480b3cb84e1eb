// Counts the tests of one ctest run: `node script/count.mjs FOLDER`, where the folder holds
// ctest.junit and one GoogleTest report (*.xml) for each executable. A test executable without a
// report (a plain program, or one that crashed) counts as one test. Last line: "N passed, N failed".
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const folder = process.argv[2];
const attribute = (text, name) => Number(text.match(new RegExp(`\\s${name}="(\\d+)"`))?.[1] ?? 0);
const head = (file, element) =>
  readFileSync(join(folder, file), 'utf8').match(new RegExp(`<${element}\\b[^>]*>`))?.[0] ?? '';

let passed = 0;
let failed = 0;
let reports = 0;
let failedReports = 0;
for (const file of readdirSync(folder).filter((name) => name.endsWith('.xml'))) {
  const suites = head(file, 'testsuites');
  const bad = attribute(suites, 'failures') + attribute(suites, 'errors');
  failed += bad;
  passed += attribute(suites, 'tests') - bad - attribute(suites, 'disabled');
  reports += 1;
  failedReports += bad > 0 ? 1 : 0;
}
const ctest = head('ctest.junit', 'testsuite');
const failedPrograms = Math.max(0, attribute(ctest, 'failures') - failedReports);
const plainPrograms = Math.max(0, attribute(ctest, 'tests') - reports);
failed += failedPrograms;
passed += Math.max(0, plainPrograms - failedPrograms);
console.log(`${passed} passed, ${failed} failed`);

// Shows that each lint refuses a bad sample and lets the good twin of it pass. A sample is a small
// tree of files; the twins differ in one thing. Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const top = join(here, '..', '..');
let passed = 0;
let failed = 0;

// The lint's status and words on a tree of files.
function lint(command, tree) {
  const folder = mkdtempSync(join(tmpdir(), 'drawoff-lint-'));
  try {
    for (const [path, text] of Object.entries(tree)) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), text);
    }
    for (const settings of ['.clang-format', '.clang-tidy']) copyFileSync(join(top, settings), join(folder, settings));
    const [program, ...rest] = command;
    const run = spawnSync(program, rest, { cwd: folder, encoding: 'utf8' });
    return { status: run.status, words: `${run.stdout}${run.stderr}${run.error ?? ''}` };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function expect(name, command, tree, good, bad, words) {
  const result = lint(command, { ...tree, ...bad });
  const twin = lint(command, { ...tree, ...good });
  const problems = [];
  if (twin.status !== 0) problems.push(`the good sample is refused:\n${twin.words}`);
  if (result.status === 0) problems.push('the bad sample passes');
  else if (!result.words.includes(words)) problems.push(`it does not say "${words}":\n${result.words}`);
  if (problems.length === 0) passed += 1;
  else failed += 1;
  for (const problem of problems) console.log(`${name}: ${problem}`);
}
const own = (name) => ['node', join(here, `${name}.mjs`), '.'];

const stack = {
  'CMakeLists.txt': 'drawoff_room(base)\ndrawoff_room(membrane)\ndrawoff_room(plumbing)\n',
  'src/base/x.h': '#include "data/embedded.h"\n',
};
expect('layers: upward only', own('layers'), stack,
  { 'src/membrane/a.h': '#include "base/x.h"\n' },
  { 'src/base/a.h': '#include <a>\n#include "membrane/a.h"\n' }, 'src/base/a.h:2: base may not include membrane');
expect('layers: kept apart', own('layers'), stack,
  { 'src/plumbing/a.h': '#include "base/x.h"\n' },
  { 'src/plumbing/a.h': '#include "membrane/a.h"\n' }, 'plumbing may not include membrane');
expect('layers: declared rooms', own('layers'), stack,
  { 'src/base/a.h': '' }, { 'src/attic/a.h': '' }, '"attic" is not declared');

const entry = { 'docs/references.bib': '@book{pitzer1991,\n}\n' };
expect('bibliography: exists', own('bibliography'), entry,
  { 'src/base/a.h': '// [pitzer1991, eq. 3-30]\nint x[3];\n' },
  { 'src/base/a.h': '// [pitzer1991]\n// [nobody1901, table 2]\n' }, 'src/base/a.h:2: the source [nobody1901]');
expect('bibliography: in a literal', own('bibliography'), entry,
  { 'src/base/a.cc': 'auto s = "pitzer1991";\n' },
  { 'src/base/a.cc': '// [pitzer1991]\nauto s = "nobody1901";\n' }, '[nobody1901] is not in');
expect('bibliography: used', own('bibliography'), entry,
  { 'data/a.csv': 'value,source\n1,pitzer1991\n' },
  { 'data/a.csv': 'value,source\n1,common practice\n' }, 'nothing cites [pitzer1991]');

expect('sentences', own('sentences'), {},
  { 'src/base/a.cc': 'auto a = "pump.worn"; auto b = "Δp = a · µ · Q"; auto c = "two words.";\n' +
      'CHECK(x && "The solver must be enclosed.");  // "The pump is worn."\n' +
      'auto d = "Comma separated head line";  // not for people\n' },
  { 'src/base/a.cc': 'int n = 1\'000;\nauto a =\n    "The pump "\n    "is worn";\n' }, 'src/base/a.cc:3: a sentence');
expect('sentences: in a raw literal', own('sentences'), {},
  { 'apps/cli/a.cc': 'auto a = R"({"one": "two"})";\n' },
  { 'apps/cli/a.cc': 'auto a = R"(turn the valve slowly.)";\n' }, 'a sentence for people');

expect('leftovers: marks', own('leftovers'), {},
  { 'docs/a.md': 'methods\n' }, { 'docs/a.md': `one\n${'TO' + 'DO'}: two\n` }, 'docs/a.md:2: ');
expect('leftovers: paths', own('leftovers'), {},
  { 'src/a.cc': '"data/work/x"\n' }, { 'src/a.cc': `"${'/ho' + 'me'}/someone"\n` }, 'absolute path');

const catalogue = { 'data/messages/en.json': '{\n  "part.pump": "pump",\n  "restrictor.worn": "worn"\n}\n' };
expect('messages: known', own('messages'), catalogue,
  { 'src/a.cc': 'Message{"restrictor.worn", {{"part", Ref{"part.pump"}}}};\n' },
  { 'src/a.cc': 'Error{ErrorKind::kData, {"restrictor.lost", {}}};\n' }, 'src/a.cc:1: restrictor.lost is not in');
expect('messages: known reference', own('messages'), catalogue,
  { 'src/a.cc': 'base::Ref{"part.pump"};\n' }, { 'src/a.cc': '\nbase::Ref{"part.valve"};\n' }, 'src/a.cc:2: part.valve');
expect('messages: sorted', own('messages'), {}, catalogue,
  { 'data/messages/en.json': '{\n  "b.b": "",\n  "a.a": ""\n}\n' }, 'a.a is not in sorted order');
expect('messages: unique', own('messages'), {}, catalogue,
  { 'data/messages/en.json': '{\n  "b.b": "",\n  "b.b": ""\n}\n' }, 'b.b stands twice');

const format = ['clang-format', '--dry-run', '-Werror', 'a.cc'];
expect('format', format, {}, { 'a.cc': 'int a = 1;\n' }, { 'a.cc': 'int  a=1;\n' }, 'should be clang-formatted');
const tidy = ['clang-tidy', '--quiet', 'a.cc', '--', '-std=c++20'];
expect('tidy: naming', tidy, {},
  { 'a.cc': 'int good_name();\n' }, { 'a.cc': 'int BadName();\n' }, 'readability-identifier-naming');
expect('tidy: converting constructor', tidy, {},
  { 'a.cc': 'struct S {\n  explicit S(int);\n};\n' }, { 'a.cc': 'struct S {\n  S(int);\n};\n' }, 'google-explicit-constructor');
expect('shell', ['shellcheck', 'a.sh'], {},
  { 'a.sh': '#!/bin/bash\nrm -- "$1"\n' }, { 'a.sh': '#!/bin/bash\nrm -- $1\n' }, 'SC2086');

console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

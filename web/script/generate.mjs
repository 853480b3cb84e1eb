// Writes generated/: what the app takes over from the engine as it is built.
//
//   drawoff.wasm         the engine
//   questions.ts         the types of its questions, from their own JSON Schemas
//   words/en.json        the app's texts without arguments
//   languages/LANGUAGE.json  the catalogue of each other language, as the app fetches it; of a
//                        pseudo-language, which the engine makes itself, the app's texts
//   demo/NAME.site.json  the demo sites
//   sources.json         what a source's key stands for, from docs/references.bib
//   version.ts
import { compile } from 'json-schema-to-typescript';
import { copyFileSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { engine, root, version, wasmFile } from './engine.mjs';

const asked = ['say', 'words', 'quick', 'report', 'survey-water', 'meter', 'form', 'enter', 'view', 'judge', 'course', 'found', 'start-up', 'pours', 'hold', 'sanitise', 'blend_guide', 'blend_reading', 'first_glass', 'leaf', 'own_values', 'paper'];
const pseudo = ['en-XA', 'ar-XB']; // for tests of layout only
const out = join(root, 'web/generated');
const ask = engine();

rmSync(out, { recursive: true, force: true });
for (const folder of ['words', 'languages', 'demo']) mkdirSync(join(out, folder), { recursive: true });
copyFileSync(wasmFile, join(out, 'drawoff.wasm'));

const schemas = ask({ schemas: true });
const questions = { type: 'object', additionalProperties: false, required: asked, properties: {}, $defs: {} };
// Each schema stands alone, with the definitions it needs; here they share one set.
function shared({ $defs = {}, ...schema }) {
  for (const [name, definition] of Object.entries($defs)) {
    const known = (questions.$defs[name] ??= definition);
    if (JSON.stringify(known) !== JSON.stringify(definition)) throw new Error(`two definitions of ${name}`);
  }
  return schema;
}
for (const name of asked) {
  const [input, output] = [shared(schemas[name].input), shared(schemas[name].output)];
  questions.properties[name] = {
    type: 'object',
    additionalProperties: false,
    required: ['input', 'output'],
    properties: { input, output },
  };
}
const types = await compile(questions, 'Questions', {
  additionalProperties: false,
  bannerComment: '// Made by script/generate.mjs from the engine.',
  declareExternallyReferenced: true,
  ignoreMinAndMaxItems: true,
  format: false,
});
writeFileSync(join(out, 'questions.ts'), types);

const own = /^((app|choice\.(because|language|meter_purpose|meter_verdict|nobody|sign_unit|step_state))\.|paper\.(for_the_site|photos|signature|technician)$|label\.handed_over\.(firm|technician_signature|telephone)$|verify\.(does_not|line_ends|proves|row\..*)$)/;
function words(language) {
  const { texts } = ask({ name: 'words', input: {}, language });
  return Object.fromEntries(texts.filter(({ id }) => own.test(id)).map(({ id, text }) => [id, text]));
}
const keep = (place, texts) => writeFileSync(join(out, place), JSON.stringify(texts, null, 1));
keep('words/en.json', words('en'));
for (const language of pseudo) keep(`languages/${language}.json`, words(language));
const catalogues = join(root, 'data/messages');
for (const file of readdirSync(catalogues).filter((name) => name.endsWith('.json') && name !== 'en.json')) {
  keep(`languages/${file}`, JSON.parse(readFileSync(join(catalogues, file), 'utf8')));
}
for (const file of readdirSync(join(root, 'examples')).filter((name) => name.endsWith('.site.json'))) {
  copyFileSync(join(root, 'examples', file), join(out, 'demo', file));
}
// "White 2011: Fluid mechanics". Braces hold letters together in the bibliography and mean nothing here.
const plain = (text) => text.replace(/[{}]/g, '').replace(/\s+/g, ' ').trim();
const sources = {};
for (const [, key, entry] of readFileSync(join(root, 'docs/references.bib'), 'utf8').matchAll(/^@\w+\{(\S+),\n([\s\S]*?)^\}/gm)) {
  const field = (name) => plain(new RegExp(`\\b${name} = \\{((?:[^{}]|\\{(?:[^{}]|\\{[^{}]*\\})*\\})*)\\}`).exec(entry)?.[1] ?? '');
  const authors = field('author').split(' and ').map((author) => author.split(',')[0]);
  const who = authors.length > 2 ? `${authors[0]} …` : authors.join(', ');
  sources[key] = `${who} ${field('year')}: ${field('title')}`;
}
writeFileSync(join(out, 'sources.json'), JSON.stringify(sources, null, 1));
writeFileSync(join(out, 'version.ts'), `export const version = '${version}';\n`);

// The plots of docs/models/: asks the command, hands the numbers to gnuplot. Machines and waters are
// those of tests/golden/, invented.
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';

const folder = 'docs/models/plots';
mkdirSync(folder, { recursive: true });

const inputOf = (golden) => JSON.parse(readFileSync(`tests/golden/${golden}.json`, 'utf8')).input;

function ask(question, inputs) {
  const answers = execFileSync('build/release/apps/cli/drawoff', ['calc', question, '--ndjson'], {
    input: inputs.map((input) => `${JSON.stringify(input)}\n`).join(''),
    encoding: 'utf8',
  });
  return answers.trimEnd().split('\n').map((line) => JSON.parse(line));
}

const colours = ['#0b6e99', '#b3541e', '#3d7a35', '#7a3d8f', '#555555'];

const steps = (from, to, count) => Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
const table = (rows) => rows.map((row) => row.join(' ')).join('\n');

// `blocks`: named tables for `commands` to draw.
function draw(name, { across, up, blocks, commands }) {
  const data = Object.entries(blocks).map(([block, rows]) => `$${block} << EOD\n${table(rows)}\nEOD\n`);
  execFileSync('gnuplot', [], {
    input: `${data.join('')}
set terminal svg size 640,400 font 'sans-serif,13' background 'white'
set output '${folder}/${name}.svg'
set encoding utf8
set grid lc rgb '#dddddd'
${colours.map((colour, i) => `set linetype ${i + 1} lc rgb '${colour}' lw 2`).join('\n')}
set key outside right top
set xlabel '${across}'
set ylabel '${up}'
plot ${commands.join(', ')}
`,
  });
  console.log(`${folder}/${name}.svg`);
}

// One element on a chalk water: the slower the feed, the more of everything passes.
{
  const input = inputOf('element-chalk-water');
  const shown = { Ca: 'Ca', Na: 'Na', HCO3: 'HCO₃', NO3: 'NO₃', SO4: 'SO₄' };
  const answers = ask('element', steps(12, 120, 40).map((feed_flow_L_h) => ({ ...input, feed_flow_L_h })));
  const passage = (answer, key) => answer.species.find(({ species }) => species === key).passage_pct;
  draw('membrane-ions', {
    across: 'recovery, %',
    up: 'passage, %',
    blocks: { a: answers.map((answer) => [answer.recovery_pct, ...Object.keys(shown).map((key) => passage(answer, key))]) },
    commands: Object.values(shown).map((name, i) => `$a using 1:${i + 2} with lines title '${name}'`),
  });
  draw('membrane-wall', {
    across: 'recovery, %',
    up: 'strength, % of the feed',
    blocks: { a: answers.map((answer) => [answer.recovery_pct, answer.wall_strength_pct, answer.reject_strength_pct]) },
    commands: ["$a using 1:2 with lines title 'at the membrane'", "$a using 1:3 with lines title 'reject'"],
  });
}

// A school's unit from a cold to a hot supply, product into a jug.
{
  const input = inputOf('points-school');
  const at = (temperature_C) => ({ ...input, survey: { ...input.survey, water: { ...input.survey.water, temperature_C } } });
  const warm = steps(5, 35, 13);
  const bands = (point) =>
    ask('points', warm.map(at)).map(({ points }, i) => {
      const { low, middle, high } = points.find((row) => row.point === point).expected;
      return [warm[i], low, middle, high];
    });
  for (const [name, point, up] of [
    ['machine-flow', 'product_flow', 'product flow, L/h'],
    ['machine-quality', 'permeate_quality', 'permeate, µS/cm'],
  ]) {
    draw(name, {
      across: 'temperature of the raw water, °C',
      up,
      blocks: { a: bands(point) },
      commands: [
        "$a using 1:2:4 with filledcurves fc rgb '#cfe3ee' title 'nine in ten'",
        "$a using 1:3 with lines lt 1 title 'middle'",
      ],
    });
  }
}

// The first water drawn after a night.
{
  const input = inputOf('rest-night');
  const [answer] = ask('rest', [input]);
  draw('transients-first-glass', {
    across: 'drawn, L',
    up: 'what a meter shows, µS/cm',
    blocks: { a: answer.first_draw.map(({ drawn_mL, quality_uS_cm }) => [drawn_mL / 1000, quality_uS_cm]) },
    commands: ["$a using 1:2 with lines notitle"],
  });
}

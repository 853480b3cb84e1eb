// The built engine, run in node: what the app's build asks it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { startEngine } from '../../tests/parity/engine.mjs';

export const root = join(import.meta.dirname ?? new URL('.', import.meta.url).pathname, '..', '..');
export const wasmFile = process.env.DRAWOFF_WASM ?? join(root, 'build/wasm/apps/wasm/drawoff.wasm');

export function engine() {
  const { request } = startEngine(wasmFile);
  return (asked) => {
    const answer = request(asked);
    if (answer.error) throw new Error(`${JSON.stringify(asked).slice(0, 200)}: ${answer.error}`);
    return answer;
  };
}

export const version = /drawoff[^)]*VERSION\s+([\d.]+)/i.exec(readFileSync(join(root, 'CMakeLists.txt'), 'utf8'))[1];

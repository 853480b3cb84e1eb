// The built app on loopback: by the drawoff command.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { root } from '../../script/engine.mjs';

export const drawoff = process.env.DRAWOFF ?? join(root, 'build/release/apps/cli/drawoff');
export const dist = process.env.DRAWOFF_APP ?? join(root, 'web/dist');

/** Resolves to {address, port, end}. */
export async function serve(folder = dist, at = 0) {
  if (!existsSync(join(folder, 'index.html'))) throw new Error(`${folder} holds no built app`);
  const server = spawn(drawoff, ['serve', '--port', String(at), '--app', folder], { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  const address = await new Promise((resolve, reject) => {
    const heard = (bytes) => {
      said += bytes;
      const found = /http:\/\/127\.0\.0\.1:\d+\//.exec(said);
      if (found) resolve(found[0]);
    };
    server.stdout.on('data', heard);
    server.stderr.on('data', heard);
    server.on('exit', (status) => reject(new Error(`drawoff serve ended with ${status}: ${said}`)));
    server.on('error', reject);
  });
  const end = () =>
    new Promise((resolve) => {
      server.removeAllListeners('exit');
      server.on('exit', resolve);
      server.kill('SIGTERM');
    });
  return { address, port: Number(new URL(address).port), end };
}

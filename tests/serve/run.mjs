// `drawoff serve` over the loopback network: what is given, what is refused, how it ends. The app is
// a small folder made here, the certificates are made by openssl(1) and thrown away. Last line:
// "N passed, N failed".
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import http from 'node:http';
import https from 'node:https';
import net from 'node:net';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import tls from 'node:tls';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, brotliDecompressSync, gunzipSync, gzipSync } from 'node:zlib';

const here = dirname(fileURLToPath(import.meta.url));
const drawoff = process.env.DRAWOFF ?? join(here, '..', '..', 'build/release/apps/cli/drawoff');
const scratch = mkdtempSync(join(tmpdir(), 'drawoff-serve-'));
const env = { PATH: process.env.PATH, LC_ALL: 'C.UTF-8', COLUMNS: '400' };
const trace = /terminate called|what\(\)|CHECK\(|runtime error|Sanitizer|core dumped|\.cc:\d+|0x[0-9a-f]{6}/;
const running = new Set();

// ---- The folder that is served, and what lies beside it ----
const at = (name, content) => {
  mkdirSync(dirname(join(scratch, name)), { recursive: true });
  writeFileSync(join(scratch, name), content);
  return join(scratch, name);
};
const script = 'export const words = "water";\n'.repeat(400);
const photo = Buffer.alloc(3_000_000, 'drop');
at('app/index.html', '<!doctype html><title>start</title>');
at('app/sw.js', '// worker');
at('app/manifest.webmanifest', '{}');
at('app/engine.wasm', Buffer.from('0061736d01000000', 'hex'));
at('app/fonts/Latin-Regular.ttf', 'font');
at('app/assets/drop-1.svg', '<svg/>');
at('app/assets/photo-1.bin', photo);
at('app/assets/app-1.js', script);
at('app/assets/app-1.js.br', brotliCompressSync(script));
at('app/assets/app-1.js.gz', gzipSync(script));
at('app/assets/app-1.css', 'p{}');
at('secret', 'not to be had');
mkdirSync(join(scratch, 'empty'));
const app = join(scratch, 'app');

const openssl = (...words) => execFileSync('openssl', words, { cwd: scratch, stdio: ['ignore', 'pipe', 'pipe'] });
function certificate(name) {
  openssl('req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '2',
    '-subj', '/CN=ostrel', '-addext', 'subjectAltName=IP:127.0.0.1', '-keyout', `${name}.key`, '-out', `${name}.pem`);
  return [join(scratch, `${name}.pem`), join(scratch, `${name}.key`)];
}

// ---- Tools ----
let passed = 0;
let failed = 0;
async function test(title, body) {
  try {
    await body();
    passed += 1;
  } catch (error) {
    failed += 1;
    console.log(`FAILED ${title}: ${error.stack}`);
  }
}
function equal(got, wanted, what = 'result') {
  const [a, b] = [JSON.stringify(got), JSON.stringify(wanted)];
  if (a !== b) throw new Error(`${what} is ${a}, not ${b}`);
}
function match(text, pattern) {
  if (!pattern.test(text)) throw new Error(`${JSON.stringify(String(text).slice(0, 600))} does not match ${pattern}`);
}
const within = (seconds, promise, what) => {
  let timer;
  const late = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new Error(`${what}: not within ${seconds} s`)), seconds * 1000);
  });
  return Promise.race([promise, late]).finally(() => clearTimeout(timer));
};

// Starts the command; resolves when all that it says at the start has come.
async function serve(...words) {
  const child = spawn(drawoff, ['serve', ...words], { env, stdio: ['ignore', 'pipe', 'pipe'] });
  running.add(child);
  const server = { child, out: '', err: '', status: null };
  child.stderr.on('data', (data) => (server.err += data));
  server.ended = once(child, 'close').then(([status, signal]) => {
    running.delete(child);
    server.status = signal ?? status;
    if (trace.test(server.err + server.out)) throw new Error(`a trace: ${server.err}`);
    return server.status;
  });
  const ready = new Promise((resolve) => {
    child.stdout.on('data', (data) => {
      server.out += data;
      if (/\n {2}https?:[^\n]+\/\n|no address on a network/.test(server.out)) resolve();
    });
  });
  await within(20, Promise.race([ready, server.ended]), 'ready');
  if (server.status !== null) throw new Error(`it ended with ${server.status}: ${server.err}`);
  server.port = Number(server.out.match(/:(\d+)\/\n/)?.[1]);
  server.stop = (signal = 'SIGTERM') => {
    child.kill(signal);
    return within(5, server.ended, 'the end');
  };
  return server;
}
// One that must not start: status and one line on standard error, none on standard output.
function refused(words, status, pattern) {
  const done = spawnSync(drawoff, ['serve', ...words], { env, encoding: 'utf8', timeout: 20000 });
  equal(done.status, status, 'status');
  equal(done.stdout, '', 'standard output');
  match(done.stderr, /^[^\n]+\n$/);
  match(done.stderr, pattern);
  if (trace.test(done.stderr)) throw new Error(`a trace: ${done.stderr}`);
}
function ask(port, path, { method = 'GET', headers = {}, body, ca, ...more } = {}) {
  return within(20, new Promise((resolve, reject) => {
    const options = { host: '127.0.0.1', port, path, method, headers, agent: false, ca, ...more };
    const request = (ca ? https : http).request(options, (answer) => {
      const parts = [];
      answer.on('data', (part) => parts.push(part));
      answer.on('end', () => resolve({ status: answer.statusCode, headers: answer.headers, body: Buffer.concat(parts) }));
      answer.on('error', reject);
    });
    request.on('error', reject);
    request.end(body);
  }), `${method} ${path}`);
}
// Sends bytes as they are; what has come when the other side closes.
function raw(port, text, { seconds = 20, host = '127.0.0.1' } = {}) {
  return within(seconds, new Promise((resolve, reject) => {
    let got = '';
    const socket = net.connect(port, host, () => socket.write(text));
    socket.setEncoding('latin1');
    socket.on('data', (data) => (got += data));
    socket.on('end', () => socket.end());
    socket.on('close', () => resolve(got));
    socket.on('error', reject);
  }), JSON.stringify(text.slice(0, 60)));
}
const connect = async (port) => {
  const socket = net.connect(port, '127.0.0.1');
  socket.on('error', () => {});
  await once(socket, 'connect');
  return socket;
};
const line = (target, more = '') => `GET ${target} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n${more}\r\n`;

// ---- Over plain HTTP ----
const plain = await serve('--app', app, '--port', '0');
const { port } = plain;

// Started first, since they take as long as the server's patience.
const started = Date.now();
const slow = (async () => {
  const socket = await connect(port);
  socket.resume();
  const letters = line('/').slice(0, 40);
  let i = 0;
  const timer = setInterval(() => socket.write(letters[i++ % letters.length]), 400);
  await within(30, once(socket, 'close'), 'the end of a slow request');
  clearInterval(timer);
  return (Date.now() - started) / 1000;
})();
const idle = (async () => {
  const socket = await connect(port);
  socket.resume();
  await within(30, once(socket, 'close'), 'the end of an idle connection');
  return (Date.now() - started) / 1000;
})();

await test('it says where to open the app, one address, and how to end', () => {
  match(plain.out, /^The app is ready\. [^\n]*\n {2}http:\/\/127\.0\.0\.1:\d+\/\n[^\n]+\n[^\n]*Ctrl-C[^\n]*\n$/);
  equal(plain.err, '');
});
for (const [path, type, cache] of [
  ['/', 'text/html; charset=utf-8', 'no-cache'],
  ['/index.html?a=b', 'text/html; charset=utf-8', 'no-cache'],
  ['/sw.js', 'text/javascript; charset=utf-8', 'no-cache'],
  ['/manifest.webmanifest', 'application/manifest+json', 'no-cache'],
  ['/engine.wasm', 'application/wasm', 'no-cache'],
  ['/fonts/Latin-Regular.ttf', 'font/ttf', 'no-cache'],
  ['/assets/drop-1.svg', 'image/svg+xml', 'public, max-age=31536000, immutable'],
  ['/assets/app-1.css', 'text/css; charset=utf-8', 'public, max-age=31536000, immutable'],
]) {
  await test(`GET and HEAD ${path}`, async () => {
    const got = await ask(port, path);
    equal([got.status, got.headers['content-type'], got.headers['cache-control']], [200, type, cache]);
    equal(got.headers['content-length'], String(got.body.length));
    match(got.headers.date, /^\w{3}, \d\d \w{3} \d{4} \d\d:\d\d:\d\d GMT$/);
    if (Math.abs(Date.parse(got.headers.date) - Date.now()) > 60000) throw new Error(got.headers.date);
    const head = await ask(port, path, { method: 'HEAD' });
    equal([head.status, head.body.length], [200, 0]);
    equal({ ...head.headers, date: '' }, { ...got.headers, date: '' }, 'headers of HEAD');
  });
}
await test('a large file comes whole', async () => {
  const got = await ask(port, '/assets/photo-1.bin');
  equal(got.headers['content-type'], 'application/octet-stream');
  if (!got.body.equals(photo)) throw new Error('not the same bytes');
});
await test('compressed files', async () => {
  const br = await ask(port, '/assets/app-1.js', { headers: { 'accept-encoding': 'gzip, deflate, br' } });
  equal([br.headers['content-encoding'], br.headers.vary], ['br', 'Accept-Encoding']);
  equal(brotliDecompressSync(br.body).toString(), script);
  const gz = await ask(port, '/assets/app-1.js', { headers: { 'accept-encoding': 'gzip;q=1, br;q=0' } });
  equal([gz.headers['content-encoding'], gz.headers.vary], ['gzip', 'Accept-Encoding']);
  equal(gunzipSync(gz.body).toString(), script);
  const none = await ask(port, '/assets/app-1.js');
  equal([none.headers['content-encoding'], none.headers.vary], [undefined, 'Accept-Encoding']);
  equal(none.body.toString(), script);
  equal(new Set([br, gz, none].map((got) => got.headers.etag)).size, 3, 'different tags');
  equal(br.headers['content-type'], 'text/javascript; charset=utf-8');
  const several = await raw(port, line('/assets/app-1.js', 'Accept-Encoding: deflate\r\nAccept-Encoding: gzip\r\n'));
  match(several, /\r\nContent-Encoding: gzip\r\n/);
});
await test('304 when it has not changed', async () => {
  const first = await ask(port, '/');
  match(first.headers.etag, /^"[0-9a-f]{32}"$/);
  const again = await ask(port, '/', { headers: { 'if-none-match': `"x", ${first.headers.etag}` } });
  equal([again.status, again.body.length, again.headers.etag], [304, 0, first.headers.etag]);
  equal([again.headers['cache-control'], again.headers['content-length']], ['no-cache', undefined]);
  equal((await ask(port, '/', { headers: { 'if-none-match': '"x"' } })).status, 200);
  // The connection goes on after a 304: it has no body for the next answer to be lost in.
  const both = await raw(port, `GET / HTTP/1.1\r\nHost: localhost\r\nIf-None-Match: *\r\n\r\n${line('/sw.js')}`);
  match(both, /^HTTP\/1\.1 304 [\s\S]*\r\n\r\nHTTP\/1\.1 200 [\s\S]*\r\n\r\n\/\/ worker$/);
});
await test('the headers that keep the app to itself, on every answer', async () => {
  for (const [path, method] of [['/', 'GET'], ['/nothing', 'GET'], ['/', 'POST']]) {
    const { headers } = await ask(port, path, { method });
    for (const part of ["default-src 'self'", "script-src 'self' 'wasm-unsafe-eval'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'", "form-action 'none'"]) {
      if (!headers['content-security-policy'].split('; ').includes(part)) throw new Error(`no ${part}`);
    }
    equal(headers['x-content-type-options'], 'nosniff');
    equal(headers['referrer-policy'], 'no-referrer');
    equal([headers['cross-origin-opener-policy'], headers['cross-origin-resource-policy']], ['same-origin', 'same-origin']);
    match(headers['permissions-policy'], /^camera=\(self\)/);
  }
});
await test('only GET and HEAD', async () => {
  for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS', 'PATCH']) {
    const got = await ask(port, '/', { method, body: method === 'DELETE' ? undefined : 'x'.repeat(200000) });
    equal([got.status, got.headers.allow], [405, 'GET, HEAD']);
    match(got.body, /nothing can be sent or changed/);
  }
  match(await raw(port, 'BREW / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n'), /^HTTP\/1\.1 405 /);
});
await test('what is not there', async () => {
  const got = await ask(port, '/nothing');
  equal([got.status, got.headers['content-type']], [404, 'text/html; charset=utf-8']);
  match(got.body, /<p>There is no such page here\.<\/p>/);
});
for (const target of [
  '/../secret', '/..%2fsecret', '/%2e%2e/secret', '/%2e%2e%2fsecret', '/assets/../../secret', '/assets/..%2f..%2fsecret',
  '//secret', `/${scratch}/secret`, '/..\\secret', '/%c0%ae%c0%ae/secret', '/%252e%252e/secret', '/index.html%00',
  '/assets/app-1.js.br', '/assets', 'http://localhost/../secret',
]) {
  await test(`no way out by ${target.replace(scratch, 'SCRATCH')}`, async () => {
    const got = await raw(port, line(target));
    match(got, /^HTTP\/1\.1 404 /);
    if (got.includes('not to be had')) throw new Error('the secret is out');
  });
}
for (const [words, text, status] of [
  ['a bad escape', line('/%zz'), 400],
  ['no path', line('*'), 400],
  ['no Host', 'GET / HTTP/1.1\r\nConnection: close\r\n\r\n', 400],
  ['two Hosts', line('/', 'Host: localhost\r\n'), 400],
  ['no HTTP', 'hello there\r\n\r\n', 400],
  ['a newer HTTP', 'GET / HTTP/2.0\r\nHost: localhost\r\n\r\n', 400],
  ['bytes of a TLS greeting', '\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n', 400],
  ['a head that is too long', line('/', `X-Long: ${'x'.repeat(9000)}\r\n`), 431],
  ['a target that is too long', line(`/${'x'.repeat(9000)}`), 431],
  ['a host from elsewhere', 'GET / HTTP/1.1\r\nHost: rebound.example\r\nConnection: close\r\n\r\n', 421],
  ['a host from elsewhere in the target', line('http://rebound.example/'), 421],
]) {
  await test(`refused: ${words}`, async () => match(await raw(port, text), new RegExp(`^HTTP/1\\.1 ${status} [^]*<p>`)));
}
await test('hosts of this computer', async () => {
  for (const host of ['localhost', `localhost:${port}`, '127.0.0.1', '[::1]:80', 'LOCALHOST']) {
    equal((await ask(port, '/', { headers: { host } })).status, 200, host);
  }
});
await test('requests one after the other in one connection', async () => {
  const one = 'GET /sw.js HTTP/1.1\r\nHost: localhost\r\n\r\n';
  const head = 'HEAD /sw.js HTTP/1.1\r\nHost: localhost\r\n\r\n';
  const got = await raw(port, one + head + one.repeat(20) + line('/sw.js'));
  equal(got.split('HTTP/1.1 200 OK\r\n').length - 1, 23);
  equal(got.split('// worker').length - 1, 22);
  match(got, /Connection: close[\s\S]*\/\/ worker$/);
});
await test('HTTP/1.0 ends with its answer', async () => {
  match(await raw(port, 'GET /sw.js HTTP/1.0\r\nHost: localhost\r\n\r\n'), /^HTTP\/1\.[01] 200 [\s\S]*\/\/ worker$/);
});
await test('many at once', async () => {
  const all = await Promise.all(Array.from({ length: 100 }, (_, i) => ask(port, i % 2 ? '/assets/app-1.js' : '/')));
  equal(all.every((got) => got.status === 200), true);
});
await test('the other family of loopback, where there is one', async () => {
  const got = await raw(port, line('/sw.js'), { host: '::1' }).catch((error) => error.code);
  if (got !== 'EADDRNOTAVAIL' && got !== 'EAFNOSUPPORT') match(got, /^HTTP\/1\.1 200 [^]*\/\/ worker$/);
});
await test('the page of a refusal speaks the chosen language', async () => {
  const other = await serve('--app', app, '--port', '0', '--language', 'en-XA');
  const got = await ask(other.port, '/nothing');
  match(got.body, /<html lang="en-XA">/);
  if (/There is no such page/.test(got.body)) throw new Error('English');
  equal(await other.stop(), 0);
});
await test('connections are bounded, and there is room again later', async () => {
  const other = await serve('--app', app, '--port', '0');
  const held = [];
  for (let i = 0; i < 256; ++i) held.push(await connect(other.port));
  for (const socket of held) socket.resume();
  const extra = await connect(other.port);
  extra.resume();
  await within(5, once(extra, 'close'), 'the end of one too many');
  for (const socket of held) socket.destroy();
  let status = 0;
  for (let i = 0; i < 50 && status !== 200; ++i) {
    ({ status } = await ask(other.port, '/').catch(() => ({ status: 0 })));
  }
  equal(status, 200);
  equal(await other.stop(), 0);
});
await test('a client that does not read does not hold up others', async () => {
  const socket = await connect(port);
  socket.pause();
  socket.write(Array.from({ length: 20 }, () => 'GET /assets/photo-1.bin HTTP/1.1\r\nHost: localhost\r\n\r\n').join(''));
  equal((await ask(port, '/')).status, 200);
  socket.destroy();
});
await test('a slow request and an idle connection are ended', async () => {
  for (const seconds of [await slow, await idle]) {
    if (seconds < 8 || seconds > 20) throw new Error(`after ${seconds} s`);
  }
});

// ---- The end, and places that are taken ----
for (const signal of ['SIGTERM', 'SIGINT']) {
  await test(`${signal} ends it with 0, whoever is connected, and frees the port`, async () => {
    const first = await serve('--app', app, '--port', '0');
    const half = await connect(first.port);
    half.write('GET / HT');
    equal((await ask(first.port, '/')).status, 200);
    equal([await first.stop(signal), first.err], [0, '']);
    const second = await serve('--app', app, '--port', String(first.port));
    equal(second.port, first.port);
    equal(await second.stop(), 0);
  });
}
await test('a port that is taken', () => {
  refused(['--app', app, '--port', String(port)], 74, new RegExp(`^The app cannot be served at 127\\.0\\.0\\.1, port ${port}: another program .*--port`));
});

// ---- Wrong use ----
const [pem, key] = certificate('own');
const [, otherKey] = certificate('other');
openssl('ec', '-aes256', '-passout', 'pass:ostrel', '-in', key, '-out', 'locked.key');
const locked = join(scratch, 'locked.key');
openssl('genrsa', '-out', 'rsa.key', '2048');
for (const [words, status, pattern] of [
  [['--app', join(scratch, 'none')], 66, /no such folder.*script\/run.*--app/],
  [['--app', join(scratch, 'empty')], 66, /holds no index\.html/],
  [['--app', join(scratch, 'secret')], 66, /it is not a folder/],
  [['--app', 'bad\nname'], 66, /"bad\\u000aname"/],
  [['--app', app, '--port', 'x'], 2, /^--port is "x"; it must be a whole number from 0 to 65535/],
  [['--app', app, '--port', '65536'], 2, /^--port is "65536"/],
  [['--app', app, '--port', '-1'], 2, /^--port/],
  [['--app', app, '--port', ''], 2, /^--port/],
  [['--app', app, '--port', '1', '--port', '2'], 2, /^--port must be given once/],
  [['--app', app, '--address', 'ostrel.example'], 2, /^--address is "ostrel\.example"; it must be a numeric address/],
  [['--app', app, '--address', '0.0.0.0'], 2, /^--address is 0\.0\.0\.0, .*--tls CERT KEY.*without signal.*read along/],
  [['--app', app, '--address', '::'], 2, /^--address is ::, .*--tls/],
  [['--app', app, '--address', '192.0.2.1'], 2, /--tls/],
  [['--app', app, '--address', '192.0.2.1', '--tls', pem, key], 74, /192\.0\.2\.1, port 8420: this computer has no such address/],
  [['--tls', pem], 2, /^--tls must be given once, with two files/],
  [['--tls', pem, key, '--tls', pem, key], 2, /^--tls must be given once, with two files/],
  [['--app', app, '--tls', join(scratch, 'none.pem'), key], 66, /none\.pem" cannot be read: there is no such file/],
  [['--app', app, '--tls', pem, join(scratch, 'none.key')], 66, /none\.key" cannot be read/],
  [['--app', app, '--tls', join(scratch, 'secret'), key], 65, /secret" holds no certificate that can be used.*PEM/],
  [['--app', app, '--tls', key, pem], 65, /own\.key" holds no certificate/],
  [['--app', app, '--tls', pem, pem], 65, /own\.pem" holds no private key/],
  [['--app', app, '--tls', pem, locked], 65, /locked\.key" holds no private key.*without a password/],
  [['--app', app, '--tls', pem, otherKey], 65, /other\.key" is not the key of the certificate in ".*own\.pem"/],
  [['--app', app, '--tls', pem, join(scratch, 'rsa.key')], 65, /rsa\.key" is not the key/],
  [['--prot', '1'], 2, /"--prot".*Did you mean --port\?/],
  [['twice'], 2, /does not know "twice"/],
]) {
  const named = words.map((word) => word.replace(`${scratch}/`, ''));
  await test(`refused: ${JSON.stringify(named)}`, () => refused(words, status, pattern));
}

// ---- Over TLS ----
const ca = execFileSync('cat', [pem]);
const secure = await serve('--app', app, '--port', '0', '--address', '127.0.0.1', '--tls', pem, key);
await test('TLS: it says where, and that the certificate must be trusted', () => {
  match(secure.out, /\n {2}https:\/\/127\.0\.0\.1:\d+\/\n[^]*must trust the certificate/);
});
await test('TLS: the app comes, whatever name the certificate vouches for', async () => {
  for (const host of ['127.0.0.1', 'ostrel.example']) {
    const got = await ask(secure.port, '/', { ca, headers: { host }, checkServerIdentity: () => {} });
    equal([got.status, got.body.toString()], [200, '<!doctype html><title>start</title>']);
  }
  const large = await ask(secure.port, '/assets/photo-1.bin', { ca });
  if (!large.body.equals(photo)) throw new Error('not the same bytes');
  const br = await ask(secure.port, '/assets/app-1.js', { ca, headers: { 'accept-encoding': 'br' } });
  equal(brotliDecompressSync(br.body).toString(), script);
  equal((await ask(secure.port, '/', { ca, headers: { 'if-none-match': br.headers.etag } })).status, 200);
  equal((await ask(secure.port, '/', { ca, method: 'POST', body: 'x'.repeat(200000) })).status, 405);
});
const handshake = (version) => within(10, new Promise((resolve) => {
  const socket = tls.connect({ host: '127.0.0.1', port: secure.port, ca, minVersion: version, maxVersion: version, ciphers: 'DEFAULT@SECLEVEL=0' },
    () => (resolve(socket.getProtocol()), socket.destroy()));
  socket.on('error', (error) => resolve(error.code));
}), version);
await test('TLS: 1.2 and 1.3, nothing older', async () => {
  equal([await handshake('TLSv1.2'), await handshake('TLSv1.3')], ['TLSv1.2', 'TLSv1.3']);
  match(await handshake('TLSv1.1'), /PROTOCOL_VERSION|ECONNRESET|UNSUPPORTED/);
  match(await handshake('TLSv1'), /PROTOCOL_VERSION|ECONNRESET|UNSUPPORTED/);
});
await test('TLS: plain HTTP and half a greeting get nothing and hold up nobody', async () => {
  const half = await connect(secure.port);
  half.write('\x16\x03\x01');
  const got = await raw(secure.port, line('/')).catch((error) => error.code);
  if (/HTTP\/1/.test(got)) throw new Error(got);
  equal((await ask(secure.port, '/', { ca })).status, 200);
  half.destroy();
});
await test('TLS: on all addresses by default', async () => {
  const all = await serve('--app', app, '--port', '0', '--tls', pem, key);
  match(all.out, /\n {2}https:\/\/|no address on a network/);
  if (/127\.0\.0\.1|\[::1\]|0\.0\.0\.0|\[::\]/.test(all.out)) throw new Error(all.out);
  if (all.port) equal((await ask(all.port, '/', { ca })).status, 200);
  equal(await all.stop(), 0);
});
await test('TLS: SIGTERM ends it with 0', async () => {
  const half = await connect(secure.port);
  half.write('\x16\x03\x01');
  equal([await secure.stop(), secure.err], [0, '']);
});
await test('it has said nothing on standard error, and ends with 0', async () => {
  equal([await plain.stop(), plain.err], [0, '']);
});

for (const child of running) child.kill('SIGKILL');
rmSync(scratch, { recursive: true });
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);

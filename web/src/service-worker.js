// Keeps the app for use without signal. Put into dist/ by script/finish.mjs, which fills in the
// version (a hash of all files) and the list of files.
//
// The whole app is fetched before it counts as installed, so what opens is of one version. A newer
// one waits until the person takes it. Fonts of further scripts are fetched when they are asked for.
const version = '__VERSION__';
const files = __FILES__;
const shelf = `drawoff-${version}`;
const fonts = 'drawoff-fonts';

// What lies in assets/ is named by its content, so what the page has fetched already will do.
const request = (file) => new Request(file, { cache: file.startsWith('assets/') ? 'default' : 'no-cache' });

addEventListener('install', (event) => {
  event.waitUntil(caches.open(shelf).then((cache) => cache.addAll(files.map(request))));
});

addEventListener('activate', (event) => {
  const old = (name) => name.startsWith('drawoff-') && name !== shelf && name !== fonts;
  event.waitUntil(caches.keys().then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name)))));
});

addEventListener('message', ({ data }) => {
  if (data === 'take over') skipWaiting();
});

addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== location.origin) return;
  event.respondWith(pathname.includes('/fonts/') ? kept(fonts, request) : whole(request));
});

async function whole(request) {
  const cache = await caches.open(shelf);
  const page = request.mode === 'navigate' ? './' : request;
  return (await cache.match(page, { ignoreSearch: true })) ?? fetch(request);
}

async function kept(name, request) {
  const cache = await caches.open(name);
  const known = await cache.match(request);
  if (known) return known;
  const response = await fetch(request);
  if (response.ok) await cache.put(request, response.clone());
  return response;
}

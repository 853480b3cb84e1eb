// Keeps the app for use without signal. Put into dist/ by script/finish.mjs, which fills in the
// version (a hash of all files) and the list of files.
//
// The whole app is fetched before it counts as installed, so what opens is of one version. A newer
// one waits until the person takes it. Fonts of further scripts are fetched when they are asked for.
//
// Languages, too; but one that was chosen once belongs to the whole from then on: a newer version
// is installed with its own words of it. So does what signs records where the browser cannot.
const version = '__VERSION__';
const files = __FILES__;
const languages = __LANGUAGES__;
const signing = __SIGNING__;
const shelf = `drawoff-${version}`;
const fonts = 'drawoff-fonts';

// What lies in assets/ is named by its content, so what the page has fetched already will do.
const request = (file) => new Request(file, { cache: file.startsWith('assets/') ? 'default' : 'no-cache' });

addEventListener('install', (event) => event.waitUntil(install()));
async function install() {
  const cache = await caches.open(shelf);
  await cache.addAll([...files, ...(await chosen())].map(request));
}

addEventListener('activate', (event) => event.waitUntil(activate()));
async function activate() {
  await Promise.all((await chosen()).map(bring));
  for (const name of await older()) await caches.delete(name);
}

addEventListener('message', (event) => {
  if (event.data === 'take over') skipWaiting();
  const wanted = event.data.keep === 'signing' ? signing : event.data.keep;
  if (wanted) event.waitUntil(Promise.all(wanted.map(keep)));
});

async function older() {
  return (await caches.keys()).filter((name) => name.startsWith('drawoff-') && name !== shelf && name !== fonts);
}
async function found(names, file) {
  for (const name of names) {
    const known = await (await caches.open(name)).match(file);
    if (known) return known;
  }
}
/** What an earlier version kept beside the app. */
async function chosen() {
  const names = await older();
  const further = [...languages, ...signing];
  const kept = await Promise.all(further.map((file) => found(names, file)));
  return further.filter((_, i) => kept[i]);
}
// One that was chosen while this version waited. Where it cannot be fetched now, its earlier words
// are better than none.
async function bring(file) {
  const cache = await caches.open(shelf);
  if (await cache.match(file)) return;
  await cache.add(request(file)).catch(async () => cache.put(file, await found(await older(), file)));
}
async function keep(file) {
  const cache = await caches.open(file.startsWith('fonts/') ? fonts : shelf);
  if (!(await cache.match(file))) await cache.add(request(file));
}

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

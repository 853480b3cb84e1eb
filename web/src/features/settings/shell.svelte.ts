// The app as it lies on the phone: whether it opens without signal, and whether a newer one waits.
import { ed25519, library } from '../../data/signature';

type Offline = 'ready' | 'getting_ready' | 'not_secure' | 'not_here';

export const shell: { offline: Offline; waiting: ServiceWorker | null } = $state({
  offline: 'getting_ready',
  waiting: null,
});

export async function install() {
  if (!isSecureContext) {
    shell.offline = 'not_secure';
    return;
  }
  if (!('serviceWorker' in navigator)) {
    shell.offline = 'not_here';
    return;
  }
  const workers = navigator.serviceWorker;
  let asked = false;
  workers.addEventListener('controllerchange', () => {
    if (asked) location.reload(); // the person chose the newer version
  });
  try {
    const registration = await workers.register('service-worker.js');
    const look = () => {
      // One that waits although none is in charge is the first: it will be, without asking.
      shell.waiting = registration.active ? registration.waiting : null;
    };
    registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', look));
    look();
    await workers.ready;
    shell.offline = 'ready';
    // This browser signs and checks by a library, which must be here without signal too.
    if ((await ed25519()) === library) (await workers.ready).active?.postMessage({ keep: 'signing' });
  } catch {
    shell.offline = 'not_here';
  }
  useWaiting = () => {
    asked = true;
    shell.waiting?.postMessage('take over');
  };
}

export let useWaiting = () => {};

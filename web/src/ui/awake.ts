/** Keeps the screen on while it is wanted, as far as the phone lets a page; tells whether it does. */
export function stayAwake(tell: (awake: boolean) => void): () => void {
  let lock: Promise<WakeLockSentinel | undefined> = Promise.resolve(undefined);
  const ask = () => {
    lock = (async () => {
      try {
        const held = await navigator.wakeLock?.request('screen');
        tell(!!held);
        held?.addEventListener('release', () => tell(false));
        return held;
      } catch {
        tell(false); // not allowed: low battery, or hidden
        return undefined;
      }
    })();
  };
  // The phone drops the lock when the page is hidden: asked again when it is seen.
  const again = () => document.visibilityState === 'visible' && ask();
  document.addEventListener('visibilitychange', again);
  ask();
  return () => {
    document.removeEventListener('visibilitychange', again);
    void lock.then((held) => held?.release());
  };
}

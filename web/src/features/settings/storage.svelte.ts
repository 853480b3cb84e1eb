// How safe the book is on this phone: a browser may clear what it was not asked to keep.
export const storage: { persistent: boolean | undefined; used: number } = $state({
  persistent: undefined, // unknown
  used: 0, // bytes
});

export async function look() {
  storage.persistent = await navigator.storage?.persisted?.();
  storage.used = (await navigator.storage?.estimate?.())?.usage ?? 0;
}

/** Asks the browser to keep the book: at the first site that is kept, when there is something to lose. */
export async function askToPersist() {
  if (!(await navigator.storage?.persisted?.())) await navigator.storage?.persist?.();
  await look();
}

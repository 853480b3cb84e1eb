// A touch that comes as the screen changes was meant for what was there before.
const settles_ms = 700; // a second tap of a double tap comes within it [common practice, no source]

/** Whether what `shown` names has only just appeared. */
export function fresh(shown: () => string): { readonly now: boolean } {
  const name = $derived(shown());
  let now = $state(true);
  $effect(() => {
    void name;
    now = true;
    const timer = setTimeout(() => (now = false), settles_ms);
    return () => clearTimeout(timer);
  });
  return {
    get now() {
      return now;
    },
  };
}

// The number field that the keypad types into.
export const focus: { field?: HTMLInputElement } = $state({});

const touch = matchMedia('(any-pointer: coarse)').matches;
/** The keypad stands at the bottom of the page, in place of the actions; not where there are keys. */
export const keypadUp = (): boolean => touch && focus.field !== undefined;

let pressed = false;
for (const kind of ['pointerdown', 'pointerup', 'pointercancel']) {
  addEventListener(kind, () => (pressed = kind === 'pointerdown'), { capture: true });
}

/**
 * The field is left. The keypad goes when the touch that left it has done its work: it must not
 * pull the page from under the finger.
 */
export function left(field: HTMLInputElement) {
  const gone = () => {
    if (focus.field === field) delete focus.field;
  };
  if (pressed) addEventListener('pointerup', () => setTimeout(gone), { capture: true, once: true });
  else setTimeout(gone);
}

/** Moves to the next number field of the page, or ends typing after the last. */
export function next() {
  const all = [...document.querySelectorAll<HTMLInputElement>('input[data-number]')];
  const here = all.indexOf(focus.field!);
  const to = all.slice(here + 1).find((input) => input.checkVisibility());
  if (to) to.focus();
  else focus.field?.blur();
}

// The one line at the bottom that says what was just done, with the way to take it back.
interface Notice {
  text: string;
  undo?: () => Promise<void>;
  /** Of what was taken back: what stands before it, by name, and the way to take that back too. */
  further?: { what: string; undo: () => Promise<void> };
}

export const notice: { now?: Notice } = $state({});

export function tell(text: string, undo?: () => Promise<void>) {
  notice.now = undo ? { text, undo } : { text };
}

// A form as the engine describes it, while a person fills it in. What is typed is kept at every key
// (a draft); the body grows by what the engine could take; a whole and faultless body is handed to
// `keep` as soon as a field is left.
import type { Body, Fault, FormField, FormName } from '../../engine/questions';
import { ask, book, newest, settings } from '../../session.svelte';

const whole = ''; // the draft path of the body itself; fields have paths that are not empty
// What is typed means what the units of the moment say, so drafts are apart by units.
const typedAt = (place: string) => `${place}/${settings.units}`;

// What the forms of a place still have to write, one thing at a time. It is the place's, not the form's:
// on a slow phone a form that was left is still writing when the place is opened again.
const writing = new Map<string, Promise<void>>();
const written = (place: string) => writing.get(place) ?? Promise.resolve();

export class Form {
  fields: FormField[] = $state.raw([]);
  errors: Fault[] = $state.raw([]);
  /** What is typed and not taken over yet, by path. */
  typed: Record<string, string> = $state({});
  body: Body = $state.raw({});
  ready = $state(false);

  #kept: string;
  #refresh = newest(() => this.#ask());

  constructor(
    readonly name: FormName,
    readonly place: string, // where its drafts are kept
    body: Body,
    readonly keep?: (body: Body) => Promise<void>, // without one the body stays a draft
  ) {
    this.body = body;
    this.#kept = JSON.stringify(body);
  }

  /** Takes up what was half typed last time. */
  async open(): Promise<void> {
    await written(this.place);
    const drafts = [book.drafts(this.place), book.drafts(typedAt(this.place))] as const;
    const [{ [whole]: body }, typed] = await Promise.all(drafts);
    if (body !== undefined) this.body = JSON.parse(body);
    this.typed = { ...typed, ...this.typed };
    await this.#refresh();
    this.ready = true;
  }

  /** The body that was handed to `keep` last, or that the form began with, as JSON. */
  get kept(): string {
    return this.#kept;
  }
  /** Resolves when what was typed last has been taken over or refused. */
  settle = (): Promise<void> => this.#refresh();
  field = (path: string): FormField | undefined => this.fields.find((field) => field.path === path);
  shown = (field: FormField): string => this.typed[field.path] ?? field.shown;
  fault = (path: string): string =>
    this.errors.find((error) => error.path === path && error.kind === 'fault')?.sentence ?? '';
  /** What is wrong with the whole rather than with one field. */
  get others(): string[] {
    const paths = new Set(this.fields.map(({ path }) => path));
    return this.errors.filter(({ path, kind }) => kind === 'fault' && !paths.has(path)).map(({ sentence }) => sentence);
  }
  get missing(): Fault[] {
    return this.errors.filter(({ kind }) => kind === 'missing');
  }
  /** Nothing is missing and nothing is wrong. */
  get whole(): boolean {
    return this.ready && this.errors.length === 0;
  }

  async type(path: string, text: string): Promise<void> {
    this.typed[path] = text;
    await Promise.all([book.draft(typedAt(this.place), path, text), this.#refresh()]);
  }
  /** The field is left: what was taken over is shown as the body has it, and kept when all is well. */
  commit(path: string): Promise<void> {
    return this.#write(() => this.#commit(path));
  }
  #write(work: () => Promise<void>): Promise<void> {
    const after = written(this.place).then(work);
    writing.set(this.place, after.catch(() => {})); // told by `after`
    return after;
  }
  async #commit(path: string): Promise<void> {
    await this.#refresh();
    if (!this.fault(path) && path in this.typed) {
      delete this.typed[path];
      await this.#save();
      await book.forget(typedAt(this.place), [path]);
    }
    if (this.keep && this.whole && JSON.stringify(this.body) !== this.#kept) {
      this.#kept = JSON.stringify(this.body);
      await this.keep(this.body);
      await book.forget(this.place);
    }
  }
  /** Forgets what was half typed: it has served. */
  async clear(): Promise<void> {
    await written(this.place); // what is on its way comes first
    await book.forget(this.place);
    await book.forget(typedAt(this.place));
  }
  async choose(path: string, text: string): Promise<void> {
    await this.type(path, text);
    await this.commit(path);
  }
  /** Takes over what is known already, members of the body. */
  async put(known: Body): Promise<void> {
    const heads = Object.keys(known);
    const over = Object.keys(this.typed).filter((path) => heads.includes(head(path)));
    for (const one of over) delete this.typed[one];
    await book.forget(typedAt(this.place), over);
    this.body = { ...this.body, ...known };
    await this.#write(() => this.#save());
    await this.commit('');
  }
  /** Parts and entries of lists that come and go: "true", "false", "add", "remove". */
  async restructure(path: string, text: string): Promise<void> {
    const below = Object.keys(this.typed).filter((typed) => typed.startsWith(path.replace(/\[\d+\]$/, '')));
    for (const one of below) delete this.typed[one];
    await book.forget(typedAt(this.place), below);
    for (let before: Body | undefined; before !== this.body; ) {
      before = this.body;
      const { body } = await ask('enter', this.#input([{ path, text }]));
      if (this.body !== before) continue; // what was typed meanwhile has been taken over: again on that
      this.body = before = body;
    }
    await this.#write(() => this.#save());
    await this.commit(path);
  }

  async #save() {
    await book.draft(this.place, whole, JSON.stringify(this.body));
  }
  #input = (typed: { path: string; text: string }[]) => ({
    form: this.name,
    units: settings.units,
    body: this.body,
    typed,
  });
  async #ask(): Promise<void> {
    const before = this.body;
    const typed = Object.entries(this.typed).map(([path, text]) => ({ path, text }));
    const filled = await ask('enter', this.#input(typed));
    const { fields } = await ask('form', { form: this.name, units: settings.units, body: filled.body });
    // A part has come or gone meanwhile: that must not be overwritten with what was before it.
    if (this.body !== before) return this.#ask();
    this.body = filled.body;
    this.errors = filled.errors;
    this.fields = fields;
  }
}

/** The first step of a path: "filters" of "filters[0].kind". */
export const head = (path: string): string => /^[^.[]*/.exec(path)![0];

/** Fields in blocks by the part of the machine they speak of, in the order of the form. */
export interface Block {
  head: string;
  label: string;
  /** Its own; those of lists below it stand in `entries` and `nested`. */
  fields: FormField[];
  /** The block is a list: what adds to it, and its entries. */
  list?: FormField;
  entries: Block[];
  /** Lists within the block. */
  nested: Block[];
}
export function blocks(fields: FormField[]): Block[] {
  const out: Block[] = [];
  const make = (head: string, label: string): Block => ({ head, label, fields: [], entries: [], nested: [] });
  const lists: Block[] = [];
  for (const field of fields) {
    const list = lists.find(({ head: path }) => field.path.startsWith(`${path}[`));
    if (list && field.kind === 'entry') {
      list.entries.push(make(field.path, field.label));
      continue;
    }
    if (list) {
      list.entries.find(({ head: path }) => field.path.startsWith(`${path}.`))?.fields.push(field);
      continue;
    }
    const own = /[.[]/.test(field.path) || ['part', 'list'].includes(field.kind) ? head(field.path) : '';
    let block = out.find((one) => one.head === own);
    if (!block) out.push((block = make(own, '')));
    if (field.kind === 'list') {
      const home = field.path === own ? block : make(field.path, field.label);
      home.list = field;
      lists.push(home);
      if (home === block) block.label = field.label;
      else block.nested.push(home);
      continue;
    }
    if (own && !block.label) block.label = field.kind === 'part' ? field.label : field.group;
    block.fields.push(field);
  }
  return out;
}

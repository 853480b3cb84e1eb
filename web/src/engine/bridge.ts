// The door to the engine: ask('view', input) resolves to the answer's object, or rejects with an
// EngineError that carries the sentence to show.
//
// Requests queue and go one at a time. A worker that fails, or that does not answer in time, is
// ended; the request that it failed on is reported, the rest goes to a fresh worker. Nothing
// entered depends on it: the book is kept on this side.
import type { Input, Output, Question } from './questions';

export type Kind = 'data' | 'usage' | 'version' | 'broken';

export class EngineError extends Error {
  override name = 'EngineError';
  constructor(
    readonly kind: Kind,
    sentence: string, // empty when broken: the engine can say nothing then
    readonly request: string,
    readonly heard = '',
  ) {
    super(sentence);
  }
}

export interface Post {
  postMessage(message: { id: number; text: string }): void;
  addEventListener(kind: 'message', listener: (event: { data: Reply }) => void): void;
  addEventListener(kind: 'error', listener: (event: { message?: string; preventDefault?(): void }) => void): void;
  terminate(): void;
}
type Reply = { id: number; text?: string; broken?: string };
type Waiting = { id: number; text: string; resolve(text: string): void; reject(error: EngineError): void };

const lesson = 0; // the id of what needs no answer: a worker takes its messages in order

export interface Bridge {
  ask<Q extends Question>(name: Q, input: Input<Q>, options?: { explain?: boolean; language?: string }): Promise<Output<Q>>;
  /** Hands the words of a language to the engine, and to each that takes its place. */
  learn(language: string, catalogue: string): void;
}

/**
 * A bridge to workers made by `spawn`, the first at once: the engine gets ready while the page does.
 * `language` is asked at each request.
 */
export function bridge(spawn: () => Post, language: () => string, patience_ms = 30_000): Bridge {
  const queue: Waiting[] = [];
  const lessons: string[] = [];
  let current: Waiting | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let count = 0;
  let worker: Post | undefined = hire();

  function fail(heard: string) {
    const failed = current;
    worker?.terminate();
    worker = undefined;
    settle();
    failed?.reject(new EngineError('broken', '', failed.text, heard));
    next();
  }
  // Piece by piece: however long the phone slept meanwhile, the worker slept too, and only one piece is over.
  function wait(left_ms: number) {
    if (left_ms <= 0) return fail(`no answer in ${patience_ms} ms`);
    const piece = Math.min(left_ms, 1000);
    timer = setTimeout(() => wait(left_ms - piece), piece);
  }
  function settle() {
    clearTimeout(timer);
    current = undefined;
  }
  function hire(): Post {
    const made = spawn();
    made.addEventListener('message', ({ data }) => {
      if (made !== worker || data.id !== current?.id) return;
      if (data.text === undefined) return fail(data.broken ?? '');
      const { resolve } = current;
      settle();
      resolve(data.text);
      next();
    });
    made.addEventListener('error', (event) => {
      event.preventDefault?.();
      if (made === worker) fail(event.message ?? '');
    });
    for (const text of lessons) made.postMessage({ id: lesson, text });
    return made;
  }
  function next() {
    if (current || queue.length === 0) return;
    current = queue.shift()!;
    worker ??= hire();
    wait(patience_ms);
    worker.postMessage({ id: current.id, text: current.text });
  }
  function send(text: string): Promise<string> {
    return new Promise((resolve, reject) => {
      queue.push({ id: ++count, text, resolve, reject });
      next();
    });
  }

  return {
    learn(taught, catalogue) {
      const text = JSON.stringify({ catalogue, language: taught });
      lessons.push(text);
      worker?.postMessage({ id: lesson, text });
    },
    async ask(name, input, { explain = false, language: own } = {}) {
      const text = JSON.stringify({ name, input, language: own ?? language(), explain });
      const answer = JSON.parse(await send(text));
      if (typeof answer.error === 'string') throw new EngineError(answer.kind, answer.error, text);
      return answer;
    },
  };
}

import { expect, test, vi } from 'vitest';
import { bridge, EngineError, type Post } from './bridge';

type Behaviour = (request: { name: string; language: string; catalogue?: string }) => string | undefined;

// A worker whose answers the test decides; undefined is no answer at all.
function office(behave: Behaviour) {
  const hired: { ended: boolean }[] = [];
  const spawn = (): Post => {
    const record = { ended: false };
    hired.push(record);
    const listeners: ((event: { data: { id: number; text?: string; broken?: string } }) => void)[] = [];
    return {
      addEventListener(kind: string, listener: never) {
        if (kind === 'message') listeners.push(listener);
      },
      postMessage({ id, text }: { id: number; text: string }) {
        const said = behave(JSON.parse(text));
        if (said === undefined) return;
        const data = said.startsWith('!') ? { id, broken: said } : { id, text: said };
        queueMicrotask(() => record.ended || listeners.forEach((listener) => listener({ data })));
      },
      terminate() {
        record.ended = true;
      },
    } as Post;
  };
  return { spawn, hired };
}

test('answers come in the order of the questions, in the language of the moment', async () => {
  let language = 'en';
  const { spawn, hired } = office(({ name, language: asked }) => JSON.stringify({ text: `${name} ${asked}` }));
  const { ask } = bridge(spawn, () => language);
  const first = ask('say', { id: 'a' });
  language = 'en-XA';
  const second = ask('say', { id: 'b' });
  expect(await Promise.all([first, second])).toEqual([{ text: 'say en' }, { text: 'say en-XA' }]);
  expect(hired).toHaveLength(1);
});

test('an error of the engine carries its sentence', async () => {
  const { spawn } = office(() => JSON.stringify({ error: 'Too strong.', kind: 'data' }));
  const failure = await bridge(spawn, () => 'en').ask('words', {}).catch((error: unknown) => error);
  expect(failure).toBeInstanceOf(EngineError);
  expect(failure).toMatchObject({ kind: 'data', message: 'Too strong.' });
});

test('after a trap the request is reported and the next goes to a fresh worker', async () => {
  const { spawn, hired } = office(({ name }) => (name === 'words' ? '!unreachable' : JSON.stringify({ text: name })));
  const { ask } = bridge(spawn, () => 'en');
  const [bad, good] = await Promise.allSettled([ask('words', {}), ask('say', { id: 'x' })]);
  expect(bad).toMatchObject({ status: 'rejected', reason: { kind: 'broken', heard: '!unreachable' } });
  expect(JSON.parse((bad as PromiseRejectedResult).reason.request)).toMatchObject({ name: 'words' });
  expect(good).toEqual({ status: 'fulfilled', value: { text: 'say' } });
  expect(hired.map(({ ended }) => ended)).toEqual([true, false]);
});

test('a worker that does not answer in time is ended', async () => {
  vi.useFakeTimers();
  const { spawn, hired } = office(({ name }) => (name === 'words' ? undefined : JSON.stringify({ text: 'late' })));
  const { ask } = bridge(spawn, () => 'en', 1000);
  const both = Promise.allSettled([ask('words', {}), ask('say', { id: 'x' })]);
  await vi.advanceTimersByTimeAsync(1001);
  vi.useRealTimers();
  expect(await both).toMatchObject([{ reason: { kind: 'broken' } }, { value: { text: 'late' } }]);
  expect(hired).toHaveLength(2);
});

test('a phone that slept for an hour lets the worker go on', async () => {
  vi.useFakeTimers();
  let answer = (_: string) => {};
  const post: Post = {
    postMessage: ({ id }) => (answer = (text) => heard({ data: { id, text } })),
    addEventListener: (kind: string, listener: unknown) => kind === 'message' && (heard = listener as typeof heard),
    terminate: () => {},
  };
  let heard: (event: { data: { id: number; text: string } }) => void = () => {};
  const asked = bridge(() => post, () => 'en').ask('say', { id: 'x' });
  await vi.advanceTimersByTimeAsync(500);
  vi.setSystemTime(Date.now() + 3_600_000); // the clock went on, the timers did not
  await vi.advanceTimersToNextTimerAsync();
  answer(JSON.stringify({ text: 'here' }));
  vi.useRealTimers();
  expect(await asked).toEqual({ text: 'here' });
});

test('a worker that takes the place of another learns the languages too', async () => {
  const heard: string[] = [];
  const { spawn, hired } = office(({ name, language, catalogue }) => {
    heard.push(catalogue ? `${language}: ${catalogue}` : name);
    return name === 'words' ? '!unreachable' : JSON.stringify({ text: name });
  });
  const { ask, learn } = bridge(spawn, () => 'es');
  learn('es', '{}');
  await Promise.allSettled([ask('words', {}), ask('say', { id: 'x' })]);
  expect(heard).toEqual(['es: {}', 'words', 'es: {}', 'say']);
  expect(hired).toHaveLength(2);
});

test('a paper may speak another language than the screens', async () => {
  const { spawn } = office(({ language }) => JSON.stringify({ text: language }));
  expect(await bridge(spawn, () => 'en').ask('say', { id: 'x' }, { language: 'es' })).toEqual({ text: 'es' });
});

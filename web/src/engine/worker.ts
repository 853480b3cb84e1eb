// The worker that holds the engine. In: {id, text}, the request. Out: {id, text}, the answer, or
// {id, broken}, what was heard of the module before it failed; then the page ends this worker.
import wasm from '../../generated/drawoff.wasm?url';
import { start, type Answer } from './module';

async function compile(): Promise<WebAssembly.Module> {
  const response = await fetch(wasm);
  if (!response.ok) throw new Error(`drawoff.wasm: ${response.status}`);
  // A host that sends another content type than application/wasm is served by the slower way.
  if (response.headers.get('content-type')?.startsWith('application/wasm')) {
    return WebAssembly.compileStreaming(response);
  }
  return WebAssembly.compile(await response.arrayBuffer());
}

const engine: Promise<Answer> = compile().then(start);

addEventListener('message', async ({ data }: MessageEvent<{ id: number; text: string }>) => {
  try {
    const answer = await engine;
    postMessage({ id: data.id, text: answer(data.text) });
  } catch (error) {
    postMessage({ id: data.id, broken: String(error) });
  }
});

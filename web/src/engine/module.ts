// Runs drawoff.wasm: one JSON text in, one out. The module asks the system for very little (WASI):
// to write a line before it aborts, to know that it has no environment, to stop; whatever else it
// might ask is answered with "not supported". What it offers: docs/decisions/0004-wasm-bridge.md.

const notSupported = 52; // WASI errno ENOSYS

interface Exports {
  memory: WebAssembly.Memory;
  _initialize(): void;
  drawoff_alloc(size: number): number;
  drawoff_free(address: number): void;
  drawoff_request(address: number, size: number): number;
}

export type Answer = (request: string) => string;

/** Starts the module. The answer function throws when the module traps: then throw it away. */
export async function start(compiled: WebAssembly.Module): Promise<Answer> {
  let memory: WebAssembly.Memory;
  let lastWords = '';
  const view = () => new DataView(memory.buffer); // made anew: the memory moves when it grows
  const text = (address: number, size: number) =>
    new TextDecoder().decode(new Uint8Array(memory.buffer, address, size));
  const known: Record<string, (...values: number[]) => number | void> = {
    proc_exit(status = 0) {
      throw new Error(`exit ${status}: ${lastWords}`);
    },
    environ_sizes_get(count = 0, size = 0) {
      view().setUint32(count, 0, true);
      view().setUint32(size, 0, true);
      return 0;
    },
    environ_get: () => 0,
    fd_write(_descriptor = 0, pieces = 0, count = 0, written = 0) {
      let total = 0;
      for (let i = 0; i < count; ++i) {
        const address = view().getUint32(pieces + 8 * i, true);
        const size = view().getUint32(pieces + 8 * i + 4, true);
        lastWords += text(address, size);
        total += size;
      }
      view().setUint32(written, total, true);
      return 0;
    },
    emscripten_notify_memory_growth() {},
  };
  const imports: Record<string, Record<string, WebAssembly.ImportValue>> = {};
  for (const { module, name } of WebAssembly.Module.imports(compiled)) {
    (imports[module] ??= {})[name] = known[name] ?? (() => notSupported);
  }
  const instance = await WebAssembly.instantiate(compiled, imports);
  const engine = instance.exports as unknown as Exports;
  memory = engine.memory;
  engine._initialize(); // constructors of static tables

  return (request) => {
    const bytes = new TextEncoder().encode(request);
    const asked = engine.drawoff_alloc(bytes.length);
    if (asked === 0) throw new Error('out of memory');
    new Uint8Array(memory.buffer, asked, bytes.length).set(bytes);
    const reply = engine.drawoff_request(asked, bytes.length);
    engine.drawoff_free(asked);
    if (reply === 0) throw new Error('out of memory');
    const answer = text(reply + 4, view().getUint32(reply, true));
    engine.drawoff_free(reply);
    return answer;
  };
}

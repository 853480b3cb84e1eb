// Starts drawoff.wasm and answers requests: what a page does in its worker, without a browser.
//
// The module asks the system for very little (WASI): to write a line before it aborts, to know that
// it has no environment, to stop. Whatever else it might ask is answered with "not supported".
import { readFileSync } from 'node:fs';

const notSupported = 52; // WASI errno ENOSYS

export function startEngine(file) {
  let memory;
  const view = () => new DataView(memory.buffer);
  const text = (address, size) => new TextDecoder().decode(new Uint8Array(memory.buffer, address, size));
  const known = {
    proc_exit(status) {
      throw new Error(`the engine stopped with status ${status}`);
    },
    environ_sizes_get(count, size) {
      view().setUint32(count, 0, true);
      view().setUint32(size, 0, true);
      return 0;
    },
    environ_get: () => 0,
    fd_write(descriptor, pieces, count, written) {
      let total = 0;
      for (let i = 0; i < count; ++i) {
        const address = view().getUint32(pieces + 8 * i, true);
        const size = view().getUint32(pieces + 8 * i + 4, true);
        process.stderr.write(text(address, size));
        total += size;
      }
      view().setUint32(written, total, true);
      return 0;
    },
    emscripten_notify_memory_growth() {},
  };
  const module = new WebAssembly.Module(readFileSync(file));
  const imports = {};
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] = known[name] ?? (() => notSupported);
  }
  const { exports } = new WebAssembly.Instance(module, imports);
  memory = exports.memory;
  exports._initialize(); // constructors of static tables

  return {
    // One request object to one answer object (api/api.h).
    request(request) {
      const bytes = new TextEncoder().encode(JSON.stringify(request));
      const asked = exports.drawoff_alloc(bytes.length);
      if (asked === 0) throw new Error('the engine is out of memory');
      new Uint8Array(memory.buffer, asked, bytes.length).set(bytes);
      const reply = exports.drawoff_request(asked, bytes.length);
      exports.drawoff_free(asked);
      if (reply === 0) throw new Error('the engine is out of memory');
      const answer = text(reply + 4, view().getUint32(reply, true));
      exports.drawoff_free(reply);
      return JSON.parse(answer);
    },
    // For tests: how much memory the module holds [bytes].
    size: () => memory.buffer.byteLength,
  };
}

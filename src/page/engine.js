// The engine: Holdfast's program as WebAssembly. Files and words go in, what it wrote and the files come out.
// Runs in the worker; a trap costs this instance and nothing else.

const decoder = new TextDecoder(), encoder = new TextEncoder();

function Engine(module, progress) {
  let memory, out, notes, exports;
  const view = () => new DataView(memory.buffer);
  const bytesAt = (at, length) => new Uint8Array(memory.buffer, at, length);

  // What wasi-libc asks of its host: two streams to write to, two clocks, no environment but the width of texts.
  const environment = encoder.encode("COLUMNS=80\0");
  const wasi = {
    environ_sizes_get(count, size) {
      view().setUint32(count, 1, true);
      view().setUint32(size, environment.length, true);
      return 0;
    },
    environ_get(list, at) {
      view().setUint32(list, at, true);
      bytesAt(at, environment.length).set(environment);
      return 0;
    },
    clock_time_get(clock, precision, at) {
      const milliseconds = clock === 0 ? Date.now() : performance.now();
      view().setBigUint64(at, BigInt(Math.round(1e6 * milliseconds)), true);
      return 0;
    },
    fd_write(file, pieces, count, written) {
      let total = 0;
      for (let i = 0; i < count; i++) {
        const at = view().getUint32(pieces + 8 * i, true), length = view().getUint32(pieces + 8 * i + 4, true);
        (file === 1 ? out : notes).push(bytesAt(at, length).slice());
        total += length;
      }
      view().setUint32(written, total, true);
      return 0;
    },
    fd_fdstat_get(file, at) {
      bytesAt(at, 24).fill(0);
      return file < 3 ? 0 : 8;
    },
    fd_read: () => 8,
    fd_seek: () => 8,
    fd_close: () => 8,
    proc_exit(code) {
      throw new Error("the engine ended with " + code);
    },
  };
  const holdfast = {progress, zone_minutes: seconds => -new Date(1000 * seconds).getTimezoneOffset()};

  exports = new WebAssembly.Instance(module, {wasi_snapshot_preview1: wasi, holdfast}).exports;
  memory = exports.memory;
  exports._initialize();

  function give(bytes) {
    const at = exports.take(bytes.length);
    if (!at) throw new Error("not enough memory");
    bytesAt(at, bytes.length).set(bytes);
    return at;
  }

  function put(name, content) {
    const words = encoder.encode(name + "\0"), bytes = typeof content === "string" ? encoder.encode(content) : content;
    const nameAt = give(words), at = give(bytes);
    if (!exports.put(nameAt, at, bytes.length)) throw new Error("not enough memory");
    exports.free(nameAt);
    exports.free(at);
  }

  function textAt(at) {
    const all = new Uint8Array(memory.buffer);
    return decoder.decode(all.subarray(at, all.indexOf(0, at)));
  }

  function joined(pieces) {
    const all = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
    let at = 0;
    for (const piece of pieces) {
      all.set(piece, at);
      at += piece.length;
    }
    return decoder.decode(all);
  }

  // files: {name: text}. What comes back: {code, out, notes, files}, all texts.
  this.run = function (words, files) {
    out = [];
    notes = [];
    exports.forget();
    for (const name of Object.keys(files)) put(name, files[name]);
    const line = encoder.encode(words.map(word => word + "\0").join("")), at = give(line);
    const code = exports.run(at, line.length);
    exports.free(at);
    const left = {};
    for (let i = 0, name; (name = exports.file_name(i)); i++)
      left[textAt(name)] = decoder.decode(bytesAt(exports.file_bytes(i), exports.file_length(i)).slice());
    return {code, out: joined(out), notes: joined(notes), files: left};
  };
}

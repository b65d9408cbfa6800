"use strict";
/*
 * The Python worker: boots the browser's Python and answers one call at a time.
 *
 *   page -> worker   {type: "start", mode, names, lock, snapshotBytes, memory}
 *                                              mode: "snapshot" or "plain"
 *                                              names: the files that will come
 *                    {type: "file", name, bytes}
 *                    {type: "call", text}      a request for baycalc.api
 *   worker -> page   {type: "ready"}, {type: "failed", reason},
 *                    {type: "result", text}, {type: "error", reason, fatal}
 */
{
  // No such address exists: whatever Pyodide asks for is answered from the files.
  const INDEX = "baybook:/python/";
  const WASM = "pyodide.asm.wasm";
  const STDLIB = "python_stdlib.zip";
  const EMPTY_ZIP = Uint8Array.of(0x50, 0x4b, 5, 6, ...new Array(18).fill(0));
  const REASON_LENGTH = 300; // messages of the engine can carry a source line of 1 MB

  /** The files of the runtime, which may be asked for before they have come. */
  class Files {
    constructor() {
      this.slots = new Map();
    }

    expect(names) {
      for (const name of names) {
        const slot = {};
        slot.bytes = new Promise((resolve) => {
          slot.put = resolve;
        });
        this.slots.set(name, slot);
      }
    }

    put(name, bytes) {
      this.slots.get(name).put(bytes);
    }

    async get(name) {
      if (!this.slots.has(name)) {
        throw new TypeError(`${name} is not part of the browser's Python`);
      }
      return this.slots.get(name).bytes;
    }

    async text(name) {
      return new TextDecoder().decode(await this.get(name));
    }
  }

  const files = new Files();

  self.fetch = async (address) => {
    const name = String(address?.url ?? address).split("/").pop();
    // The WebAssembly is compiled already: loadEngine() has the module.
    return name === WASM ? new Response() : new Response(await files.get(name));
  };

  function reasonOf(error) {
    const lines = String(error?.message ?? error).slice(-20000).trim().split("\n");
    const last = lines[lines.length - 1].trim();
    return last.length > REASON_LENGTH ? `${last.slice(0, REASON_LENGTH)}…` : last;
  }

  function fail(error) {
    postMessage({ type: "failed", reason: reasonOf(error) });
  }

  /** Let the browser compile the WebAssembly while Pyodide gets ready. */
  function compile() {
    const module = files.get(WASM).then((bytes) => WebAssembly.compile(bytes));
    module.catch(fail); // Pyodide would wait for ever
    WebAssembly.instantiateStreaming = async (response, imports) => {
      const compiled = await module;
      return { module: compiled, instance: await WebAssembly.instantiate(compiled, imports) };
    };
  }

  /**
   * The image of the memory. What the WebAssembly holds of it already was taken out, byte by byte
   * with an exclusive or, and is put in again: it need not come twice.
   */
  async function fill(image, memory) {
    image.set(await files.get("snapshot.bin"));
    const engine = await files.get(WASM);
    for (const [place, from, length] of memory) {
      for (let byte = 0; byte < length; byte += 1) {
        image[place + byte] ^= engine[from + byte];
      }
    }
  }

  /**
   * Python from the memory snapshot: the units and every calculator are in it already.
   *
   * Pyodide wants the size of the snapshot first and its bytes much later: an empty image goes in
   * at once and is filled while the module is made.
   */
  async function fromSnapshot(lock, snapshotBytes, memory) {
    const image = new Uint8Array(snapshotBytes);
    files.expect([STDLIB]);
    files.put(STDLIB, EMPTY_ZIP);
    compile();
    const python = await loadPyodide({
      indexURL: INDEX,
      packageBaseUrl: INDEX,
      lockFileContents: lock,
      fsInit: () => fill(image, memory),
      _loadSnapshot: image,
    });
    const random = python.pyimport("random");
    random.seed();
    random.destroy();
    return python;
  }

  /** Python by the ordinary way: slower, and free of Pyodide's private options. */
  async function fromParts() {
    compile();
    const python = await loadPyodide({
      indexURL: INDEX,
      packageBaseUrl: INDEX,
      lockFileContents: JSON.parse(await files.text("pyodide-lock.json")),
    });
    await python.loadPackage("baycalc", { messageCallback() {} });
    const api = python.pyimport("baycalc.api");
    api.install(await files.text("units.json"));
    api.destroy();
    return python;
  }

  let api = null;

  async function start({ mode, names, lock, snapshotBytes, memory }) {
    files.expect(names);
    try {
      const python = await (mode === "snapshot" ? fromSnapshot(lock, snapshotBytes, memory) : fromParts());
      api = python.pyimport("baycalc.api");
      postMessage({ type: "ready" });
    } catch (error) {
      fail(error);
    }
  }

  function answer(text) {
    try {
      postMessage({ type: "result", text: api.call(text) });
    } catch (error) {
      // Anything but a Python exception has broken the interpreter: it cannot go on.
      const fatal = error?.name !== "PythonError";
      postMessage({ type: "error", reason: reasonOf(error), fatal });
    }
  }

  self.onmessage = ({ data }) => {
    if (data.type === "start") {
      start(data);
    } else if (data.type === "file") {
      files.put(data.name, data.bytes);
    } else {
      answer(data.text);
    }
  };
}

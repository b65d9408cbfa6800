// Makes the memory snapshot of the browser's Python.
//
//   node snapshot.mjs PYODIDE WHEEL UNITS SNAPSHOT
//
//   PYODIDE   folder of the npm package pyodide
//   WHEEL     the wheel of baycalc
//   UNITS     the unit table, a JSON file
//   SNAPSHOT  file to write; beside it, as .json, which bytes of it the WebAssembly holds
//
// The file system is not part of a snapshot, so everything is imported and read here.

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [pyodideFolder, wheelFile, unitsFile, snapshotFile] = process.argv.slice(2);

// A Node with garbage collection in WebAssembly would make a snapshot that crashes wherever that
// is off (iOS, Node 20). Pyodide leaves it alone on an iPhone; it looks while it is imported.
Object.defineProperty(globalThis, "navigator", {
  value: { userAgent: "iPhone" },
  configurable: true,
});
const { loadPyodide } = await import(pathToFileURL(join(pyodideFolder, "pyodide.mjs")).href);

const { info } = JSON.parse(readFileSync(join(pyodideFolder, "pyodide-lock.json"), "utf8"));

// Without these two Pyodide would turn to another host for packages.
const isolated = { lockFileContents: { info, packages: {} }, packageBaseUrl: "baybook:/python/" };

// random is seeded again after the start; the others are what Python imports late, when it
// writes of an exception or a warning.
const BAKE = `
import gc, linecache, random, traceback, tracemalloc, warnings
import baycalc.api
def bake(units):
    baycalc.api.install(units)
    gc.collect()
bake
`;

async function makeSnapshot() {
  const python = await loadPyodide({ ...isolated, _makeSnapshot: true });
  // loadPackage() would leave a live JavaScript reference, which a snapshot cannot hold.
  const extractDir = python.runPython("import site; site.getsitepackages()[0]");
  python.unpackArchive(new Uint8Array(readFileSync(wheelFile)), "wheel", { extractDir });
  const bake = python.runPython(BAKE);
  bake(readFileSync(unitsFile, "utf8"));
  bake.destroy();
  python.runPython("del bake");
  clearFreeMemory(python._module);
  return python.makeMemorySnapshot();
}

// What was freed still lies in the memory; as zeros it takes no room.
function clearFreeMemory(engine) {
  const end = engine._sbrk(0);
  const taken = [];
  for (let size = 1 << 18; size >= 16; size >>= 1) {
    let place = engine._emscripten_builtin_malloc(size);
    while (place !== 0 && place + size <= end) {
      engine.HEAPU8.fill(0, place, place + size);
      taken.push(place);
      place = engine._emscripten_builtin_malloc(size);
    }
    taken.push(place);
  }
  taken.forEach((place) => engine._emscripten_builtin_free(place));
}

// The bytes with which the memory begins stand in the WebAssembly too (its section 11): where each
// run of them lies in the snapshot, where in the WebAssembly, and how long it is.
function initialMemory(wasm, header) {
  const BASE = 1024; // where Emscripten puts them
  const found = [];
  let at = 8;
  const number = () => {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = wasm[at];
      at += 1;
      value |= (byte & 0x7f) << shift;
      if (byte < 0x80) return value;
    }
  };
  while (at < wasm.length) {
    const section = wasm[at];
    at += 1;
    const end = number() + at;
    if (section === 11) {
      for (let left = number(); left > 0; left -= 1) {
        // 0: active, at the address of the global 0 (0x23 0x00 0x0b).
        if (number() !== 0 || wasm[at] !== 0x23 || wasm[at + 1] !== 0 || wasm[at + 2] !== 0x0b) {
          return [];
        }
        at += 3;
        const length = number();
        found.push([header + BASE, at, length]);
        at += length;
      }
    }
    at = end;
  }
  return found.length === 1 ? found : [];
}

// The snapshot without what the WebAssembly holds: most of it is the same, and turns to zeros.
function without(snapshot, wasm, memory) {
  const lean = snapshot.slice();
  for (const [place, from, length] of memory) {
    for (let byte = 0; byte < length; byte += 1) {
      lean[place + byte] ^= wasm[from + byte];
    }
  }
  return lean;
}

// A snapshot that does not start must fail the build, not the reader's page.
async function prove(snapshot) {
  const python = await loadPyodide({ ...isolated, _loadSnapshot: snapshot });
  try {
    python.pyimport("baycalc.api").call("{}");
  } catch (error) {
    // A refusal in Python is an answer too: it shows that Python runs.
    if (error.name !== "PythonError") {
      throw error;
    }
  }
}

try {
  const snapshot = await makeSnapshot();
  await prove(snapshot);
  const wasm = readFileSync(join(pyodideFolder, "pyodide.asm.wasm"));
  const memory = initialMemory(wasm, snapshot.length % 65536); // the heap is whole pages of 64 KiB
  writeFileSync(snapshotFile, without(snapshot, wasm, memory));
  writeFileSync(snapshotFile.replace(/\.bin$/, ".json"), JSON.stringify(memory));
} catch (error) {
  // The message of a Python exception is its traceback; the engine's can hold a line of 1 MB.
  console.error(String(error.message).slice(-2000));
  process.exit(1);
}

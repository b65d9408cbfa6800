// Makes the memory snapshot of the browser's Python.
//
//   node snapshot.mjs PYODIDE WHEEL UNITS SNAPSHOT
//
//   PYODIDE   folder of the npm package pyodide
//   WHEEL     the wheel of baycalc
//   UNITS     the unit table, a JSON file
//   SNAPSHOT  file to write
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
  return python.makeMemorySnapshot();
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
  writeFileSync(snapshotFile, snapshot);
} catch (error) {
  // The message of a Python exception is its traceback; the engine's can hold a line of 1 MB.
  console.error(String(error.message).slice(-2000));
  process.exit(1);
}

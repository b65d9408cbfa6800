// Mutated bench sheets through the reader of records: node tests/fuzz/sheets.mjs COUNT SEED
// A sheet is taken or refused in a sentence; whatever is taken can be told to the engine.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const require = createRequire(new URL("../scripts/package.json", import.meta.url));
const { Ajv2020 } = require("ajv/dist/2020.js");

const ASSETS = new URL("../../build/baybook/assets/", import.meta.url);
const schema = JSON.parse(readFileSync(new URL("bench-sheet.schema.json", ASSETS)));
globalThis.carriedLibraries = { schema: new Ajv2020({ discriminator: true, strict: false }).compile(schema) };
const { beginRecord, engineHistory, readRecord, tagOf } = await import(new URL("scripts/record.js", ASSETS));

const [count, seed] = process.argv.slice(2).map(Number);
let state = seed || 1;

// A small generator with a seed: mulberry32.
function chance() {
  state = (state + 0x6d2b79f5) | 0;
  let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
  mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
  return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
}

const one = (list) => list[Math.floor(chance() * list.length)];
const ODD = [null, 0, -1, 1e308, "", " ", "x", "__proto__", "constructor", "toString", [], {}, [[]], [null], { a: 1 }, true, "<img onerror=x>", "\u202e", "2026-13-45", "1", 5, ["a", "b"]];
const NOW = "2026-11-25T09:40:00.000Z";
const EVENTS = [
  { type: "intake", at: NOW, procedure: "air", codes: { P0411: "stored" }, read: true, complaints: ["idle"], words: "" },
  { type: "result", at: NOW, procedure: "air", test: "look", testTitle: "Look", observation: "wet", asked: "Wet?", text: "yes", outcome: "fail" },
  { type: "skipped", at: NOW, procedure: "air", test: "look", testTitle: "Look", why: "cold" },
  { type: "repair", at: NOW, procedure: "air", fault: "valve", says: "Valve" },
  { type: "recheck", at: NOW, procedure: "air", result: "cured" },
  { type: "left", at: NOW, procedure: "air", fault: "valve", says: "Valve", why: "x" },
];
const DATA = { codes: { P0411: "flow" }, faults: { valve: {} }, tests: { look: { title: "Look", observations: { wet: {} } } } };

function begun() {
  const car = { plate: "AB 123", order: "", vin: "", odometer: "" };
  const events = EVENTS.filter(() => chance() < 0.6);
  return { ...beginRecord({ book: "demo", vehicle: "finch", vehicleName: "Halden Finch", car }), events };
}

// All places of a value: the object that holds it and its name there.
function places(value) {
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([name, inner]) => [[value, name], ...places(inner)]);
}

function mutate(record) {
  const found = places(record);
  const [holder, name] = one(found);
  if (typeof holder[name] === "string" && chance() < 0.7) {
    holder[name] = one(ODD.filter((odd) => typeof odd === "string"));
    return;
  }
  const turn = chance();
  if (turn < 0.2) delete holder[name];
  else if (turn < 0.3) Object.defineProperty(holder, one(["__proto__", "extra", "type"]), { value: one(ODD), enumerable: true, configurable: true, writable: true });
  else if (turn < 0.35) record.events = structuredClone(one(ODD));
  else holder[name] = structuredClone(one(ODD));
}

let taken = 0;
let wrong = 0;
for (let number = 0; number < count; number += 1) {
  const record = begun();
  for (let turns = one([1, 1, 1, 2, 3]); turns > 0; turns -= 1) mutate(record);
  let text = "";
  text = JSON.stringify(record);
  if (chance() < 0.1) text = text.slice(0, Math.floor(chance() * text.length));
  try {
    const read = readRecord(text, "demo");
    if (read.record) {
      taken += 1;
      tagOf(read.record);
      JSON.stringify(engineHistory(read.record.events, DATA));
    } else if (!read.problem?.endsWith(".")) {
      throw new Error(`no sentence: ${read.problem}`);
    }
  } catch (error) {
    wrong += 1;
    console.log(`${error.name}: ${error.message}: ${text.slice(0, 600)}`);
  }
}
console.log(`${count} bench sheets, ${taken} taken, ${wrong} that went wrong`);
process.exit(wrong ? 1 : 0);

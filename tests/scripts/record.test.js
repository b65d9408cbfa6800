// A record begins sound, an older one is taken over, a foreign one is refused in one sentence, and
// the engine is told what the record holds.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { Ajv2020 } from "ajv/dist/2020.js";

const schema = JSON.parse(readFileSync(new URL("../../build/baybook/assets/bench-sheet.schema.json", import.meta.url)));
const ajv = new Ajv2020({ discriminator: true, strict: false });
globalThis.carriedLibraries = { schema: ajv.compile(schema) };
const { beginRecord, engineHistory, followNames, knows, readRecord, tagOf } = await import("../../build/baybook/assets/scripts/record.js");

const NOW = "2026-11-25T09:40:00.000Z";
const DATA = {
  codes: { P0411: "flow" },
  faults: { valve: {} },
  tests: { look: { title: "Look", observations: { wet: {}, split: {} } } },
};
const RESULT = { type: "result", at: NOW, procedure: "air", test: "look", testTitle: "Look", observation: "wet", asked: "Wet?", text: "yes", outcome: "fail" };

function begun(events = []) {
  return { ...beginRecord({ book: "demo", vehicle: "finch", vehicleName: "Halden Finch", car: { plate: "AB 123" } }), events };
}

function problemOf(record) {
  return readRecord(JSON.stringify(record), "demo").problem;
}

test("a new record is read back as it was", () => {
  const record = begun([RESULT]);
  assert.deepEqual(readRecord(JSON.stringify(record), "demo"), { record });
});

test("the tag of a job is its plate, else its order, else the model", () => {
  assert.equal(tagOf(begun()), "AB 123");
  assert.equal(tagOf({ ...begun(), car: { plate: "", order: "2611-044", vin: "", odometer: "" } }), "2611-044");
  assert.equal(tagOf({ ...begun(), car: { plate: "", order: "", vin: "", odometer: "" } }), "Halden Finch");
});

test("a sheet of version 1 is taken over with all its entries", () => {
  const code = { type: "code", at: NOW, procedure: "air", code: "P0411", stored: true };
  const old = { form: "baybook/bench-sheet", version: 1, id: "1234-5678-abcd", begun: NOW, changed: NOW, car: "AB 123", vehicle: "finch", vehicleName: "Halden Finch", remarks: "x", events: [code, RESULT] };
  const { record } = readRecord(JSON.stringify(old), "demo");
  assert.equal(record.version, 2);
  assert.equal(record.car.plate, "AB 123");
  assert.deepEqual([record.id, record.book, record.events], [old.id, "demo", old.events]);
});

test("what is no sound record is refused", () => {
  assert.match(readRecord("{", "demo").problem, /cannot be read/);
  assert.match(problemOf({ form: "other" }), /not a bench sheet/);
  assert.match(problemOf({ ...begun(), version: 9 }), /version 9/);
  assert.match(problemOf({ ...begun(), version: "1" }), /version "1"/);
  for (const wrong of [
    { id: "" },
    { changed: "not a date" },
    { begun: null },
    { car: "AB 123" },
    { page: "https://elsewhere.example/" },
    { page: "../../etc.html" },
    { events: [{ ...RESULT, type: "toString" }] },
    { events: [{ ...RESULT, type: "__proto__" }] },
    { events: [{ ...RESULT, text: {} }] },
    { events: [{ ...RESULT, figures: 5 }] },
    { events: [{ ...RESULT, likelihood: ["a", null] }] },
    { photos: [{ id: "1234-5678", at: NOW, about: "", data: "javascript:alert(1)" }] },
  ]) {
    assert.match(problemOf({ ...begun(), ...wrong }) ?? "accepted", /damaged/, JSON.stringify(wrong));
  }
});

test("the engine is told codes, complaints, results and repairs, and nothing of the page's own steps", () => {
  const at = { at: NOW, procedure: "air" };
  const events = [
    { type: "intake", codes: { P0411: "stored" }, read: true, complaints: ["howls"], words: "", ...at },
    { type: "safety", ...at },
    RESULT,
    { ...RESULT, observation: "split", outcome: "too close to call", likelihood: [0.4, 0.6] },
    { type: "step", step: "fit", ...at },
    { type: "repair", fault: "valve", says: "valve", ...at },
    { type: "recheck", result: "cured", ...at },
  ];
  assert.deepEqual(engineHistory(events, DATA), [
    { code: "P0411", state: "stored" },
    { codes: "all" },
    { complaint: "howls" },
    { test: "look", observation: "wet", result: "abnormal" },
    { test: "look", observation: "split", result: { likelihood: [0.4, 0.6] } },
    { repair: "valve" },
    { recheck: "cured" },
  ]);
});

test("an entry that this edition does not know is kept and not weighed", () => {
  const renamed = { ...RESULT, test: "renamed" };
  assert.equal(knows(renamed, DATA), false);
  assert.equal(knows({ ...RESULT, test: "toString" }, DATA), false);
  assert.equal(knows({ type: "code", code: "__proto__", stored: true }, DATA), false);
  assert.deepEqual(engineHistory([renamed, RESULT], DATA).length, 1);
});

test("an open job follows what was renamed; a closed one and other procedures stay as they were", () => {
  const data = {
    procedure: "air",
    codes: {},
    faults: { valve: { was: ["flap"] }, pump: {} },
    tests: { look: { was: ["see"], observations: { wet: { was: ["damp"] }, split: {} } }, hold: { was: ["look"], observations: {} } },
  };
  const at = { at: NOW, procedure: "air" };
  const events = [
    { ...RESULT, test: "see", observation: "damp" },
    { ...RESULT, observation: "split" }, // "look" is an id of today: its earlier bearer does not take it
    { ...RESULT, procedure: "fuel", test: "see", observation: "damp" },
    { ...RESULT, test: "gone", observation: "damp" },
    { type: "repair", fault: "flap", says: "flap", ...at },
    { type: "left", fault: "pump", tests: ["see", "hold"], ...at },
  ];
  const record = { ...begun(events), networks: { air: "1" }, drafts: { "see.damp": { text: "5", unit: "V" } } };
  const closed = structuredClone({ ...record, closed: NOW });
  followNames(record, data);
  assert.deepEqual(record.events.map(({ test, observation, fault, tests }) => [test, observation, fault, tests].filter(Boolean).join(" ")), [
    "look wet",
    "look split",
    "see damp",
    "gone damp",
    "valve",
    "pump look,hold",
  ]);
  assert.deepEqual(record.drafts, { "look.wet": { text: "5", unit: "V" } });
  const two = { ...structuredClone(closed), closed: "", networks: { air: "1", fuel: "2" } };
  followNames(two, data);
  assert.deepEqual(two.drafts, { "see.damp": { text: "5", unit: "V" } }); // it may be the other's
  const before = structuredClone(closed);
  followNames(closed, data);
  assert.deepEqual(closed, before);
  assert.deepEqual(engineHistory(record.events.slice(4, 5), data), [{ repair: "valve" }]);
});

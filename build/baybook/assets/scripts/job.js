// @ts-nocheck
// The job on a procedure's page: takes in codes, results, repairs and rechecks, keeps them on the
// sheet in hand, puts them back after a reload, and tells the panel when something has changed.
import { car } from "./car.js";
import { readings } from "./reading.js";
import { sheetFormat } from "./sheet-format.js";
import { sheets } from "./sheet-store.js";

const BARE = /^[-+−]?[\d.,\s]+(e[-+]?\d+)?$/i; // a number without a unit of its own
const listeners = [];
let data = null; // what the page says of itself
let sheet = null;

function own(event) {
  return event.procedure === data.procedure;
}

function events() {
  return sheet ? sheet.events.filter(own) : [];
}

function tell() {
  for (const listener of listeners) listener();
}

function keep() {
  sheets.put(sheet);
  sheets.setCurrent(sheet.id);
}

function sheetInHand() {
  sheet ??= sheetFormat.begin(data.vehicle, data.car);
  return sheet;
}

function add(event) {
  sheetInHand().events.push({ at: new Date().toISOString(), procedure: data.procedure, ...event });
  keep();
  if (event.type === "repair") fill(); // what was seen before it may be different now
  tell();
}

// Where the same thing was already said since the last repair, it is corrected in its place.
function enter(event, same) {
  const all = sheetInHand().events;
  const repaired = all.findLastIndex((entry) => own(entry) && entry.type === "repair");
  const place = all.findLastIndex((entry, at) => at > repaired && own(entry) && same(entry));
  if (place < 0) {
    if (event) add(event);
    return;
  }
  if (event) all[place] = { ...all[place], ...event, at: new Date().toISOString() };
  else all.splice(place, 1);
  keep();
  tell();
}

function takeResult({ test, observation, result, text, unit }) {
  const same = (entry) => entry.type === "result" && entry.test === test && entry.observation === observation;
  if (!result) {
    enter(null, same);
    return;
  }
  const told = data.tests[test];
  const verdict = result.verdict ?? result;
  enter(
    {
      type: "result",
      test,
      testTitle: told.title,
      observation,
      asked: told.observations[observation].asked,
      gauge: told.observations[observation].gauge,
      text: unit && BARE.test(text.trim()) ? `${text} ${unit}` : text,
      entry: text,
      unit: unit ?? "",
      outcome: verdict.outcome,
      figures: verdict.us ? { us: verdict.us, metric: verdict.metric } : undefined,
      likelihood: result.likelihood,
    },
    same,
  );
}

function setCode(code, stored) {
  const same = (entry) => entry.type === "code" && entry.code === code;
  enter(stored === null ? null : { type: "code", code, stored, title: data.codes[code] }, same);
}

function skip(test) {
  add({ type: "skipped", test, testTitle: data.tests[test].title });
}

// The job as `baycalc.isolation` reads it.
function history() {
  return events().flatMap((event) => {
    switch (event.type) {
      case "code":
        return [{ code: event.code, stored: event.stored }];
      case "result":
        return [{ test: event.test, observation: event.observation, result: resultOf(event) }];
      case "skipped":
        return Object.keys(data.tests[event.test]?.observations ?? {}).map((observation) => ({
          test: event.test,
          observation,
          result: "not done",
        }));
      case "repair":
        return [{ repair: event.fault }];
      default:
        return [{ recheck: event.result }];
    }
  });
}

function resultOf(event) {
  if (event.likelihood) return { likelihood: event.likelihood };
  return event.outcome === "fail" ? "shown" : "not shown";
}

function back() {
  const all = sheet?.events ?? [];
  const place = all.findLastIndex(own);
  if (place < 0) return;
  all.splice(place, 1);
  keep();
  fill();
  tell();
}

function startAgain() {
  sheet = null;
  sheets.setCurrent("");
  fill();
  tell();
}

function open(id) {
  sheet = sheets.get(id);
  if (sheet) sheets.setCurrent(id);
  fill();
  tell();
}

// Puts what the sheet says back where it was entered; only what was said since the last repair.
function fill() {
  const mine = events();
  const since = mine.slice(mine.findLastIndex((event) => event.type === "repair") + 1);
  for (const name of readings.names()) {
    const found = since.findLast((event) => event.type === "result" && `${event.test}.${event.observation}` === name);
    readings.get(name).set(found ? (found.entry ?? found.text) : "", found?.unit);
  }
  fillCodes();
}

function fillCodes() {
  for (const box of document.querySelectorAll("[data-code]")) {
    const found = events().findLast((event) => event.type === "code" && event.code === box.dataset.code);
    box.checked = found?.stored === true;
  }
}

function codeFromAddress() {
  const code = new URLSearchParams(location.search).get("code");
  if (code && code in data.codes && events().length === 0) setCode(code, true);
}

export function startJob() {
  const place = document.getElementById("procedure-data");
  if (!place) return;
  data = {
    ...JSON.parse(place.textContent),
    get vehicle() {
      return car.chosen()?.id ?? "";
    },
    get car() {
      return car.chosen()?.name ?? "";
    },
  };
  document.addEventListener("baybook:result", ({ detail }) => {
    if (!detail.filled) takeResult(detail);
  });
  for (const box of document.querySelectorAll("[data-code]")) {
    box.addEventListener("change", () => setCode(box.dataset.code, box.checked ? true : null));
  }
  for (const button of document.querySelectorAll("[data-skip]")) {
    button.addEventListener("click", () => skip(button.dataset.skip));
  }
  sheets.onChange((id) => {
    if (sheet?.id === id && sheets.get(id)?.changed !== sheet.changed) open(id);
  });
  const kept = sheets.get(sheets.current());
  if (kept?.vehicle === data.vehicle) sheet = kept;
  if (sheet) fill();
  codeFromAddress();
  fillCodes();
  tell();
}

export const job = {
  add,
  back,
  data: () => data,
  events,
  history,
  keep: () => sheet && keep(),
  onChange: (listener) => listeners.push(listener),
  open,
  sheet: () => sheet,
  sheetInHand,
  startAgain,
};

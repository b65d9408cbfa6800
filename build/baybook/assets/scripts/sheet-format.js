// A bench sheet as data: what it holds, how a new one begins, and whether a foreign one is sound.
// The same form is written down in bench-sheet.schema.json beside this file.
const FORM = "baybook/bench-sheet";
const VERSION = 1;
const TEXTS = {
  code: ["procedure", "code"],
  result: ["procedure", "test", "testTitle", "observation", "asked", "text", "outcome"],
  skipped: ["procedure", "test", "testTitle"],
  repair: ["procedure", "fault", "says"],
  recheck: ["procedure", "result"],
};
const OUTCOMES = ["pass", "fail", "too close to call"];

function begin(vehicle, vehicleName) {
  const now = new Date().toISOString();
  const id = crypto.randomUUID?.() ?? `${Date.now()}-${Math.random().toString(16).slice(2)}`;
  return { form: FORM, version: VERSION, id, begun: now, changed: now, car: "", vehicle, vehicleName, remarks: "", events: [] };
}

function isText(value) {
  return typeof value === "string" && value.length <= 20000;
}

function eventProblem(event, place) {
  const where = `entry ${place + 1}`;
  if (typeof event !== "object" || event === null || !(event.type in TEXTS)) return `${where} is of no known type`;
  if (!isText(event.at) || Number.isNaN(Date.parse(event.at))) return `${where} has no time`;
  const missing = TEXTS[event.type].find((name) => !isText(event[name]));
  if (missing) return `${where} has no ${missing}`;
  if (event.type === "code" && typeof event.stored !== "boolean") return `${where} does not say whether the code was stored`;
  if (event.type === "result" && !OUTCOMES.includes(event.outcome)) return `${where} has no known outcome`;
  if (event.type === "recheck" && !["cured", "not cured"].includes(event.result)) return `${where} has no known result`;
  if (event.likelihood !== undefined && !isLikelihood(event.likelihood)) return `${where} has no sound likelihood`;
  return "";
}

function isLikelihood(pair) {
  return Array.isArray(pair) && pair.length === 2 && pair.every((chance) => chance >= 0 && chance <= 1);
}

// Returns what is wrong with a sheet in one sentence, or nothing.
function problem(sheet) {
  if (typeof sheet !== "object" || sheet === null || sheet.form !== FORM) return "This is not a bench sheet of this book.";
  if (sheet.version !== VERSION) return `This sheet has version ${sheet.version}; this book reads version ${VERSION}.`;
  const missing = ["id", "begun", "changed", "car", "vehicle", "vehicleName", "remarks"].find((name) => !isText(sheet[name]));
  if (missing) return `This sheet is damaged: it has no ${missing}.`;
  if (!Array.isArray(sheet.events)) return "This sheet is damaged: it has no entries.";
  const found = sheet.events.map(eventProblem).find(Boolean);
  return found ? `This sheet is damaged: ${found}.` : "";
}

// Reads a sheet from text; returns {sheet} or {problem}.
function read(text) {
  let sheet;
  try {
    sheet = JSON.parse(text);
  } catch {
    return { problem: "This file cannot be read: it is not a bench sheet, or it is damaged." };
  }
  const wrong = problem(sheet);
  return wrong ? { problem: wrong } : { sheet };
}

export const sheetFormat = { begin, read };

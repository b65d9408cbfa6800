// A bench sheet as paper: what a customer, an inspector and a teacher want to know of one job.
import { element } from "./dom.js";
import { card } from "./fill.js";
import { tagOf } from "./record.js";
import { units } from "./units.js";
import { say } from "./words.js";

function when(time) {
  return time ? new Date(time).toLocaleString([], { dateStyle: "medium", timeStyle: "short" }) : "";
}

function ofType(record, ...types) {
  return record.events.filter((event) => types.includes(event.type));
}

function cell(text, className) {
  return element("td", text, className);
}

/** One line for each answer; the number and the name of the test stand at its first one. */
function testRows(record) {
  const numbers = new Map();
  const rows = [];
  for (const event of ofType(record, "result", "skipped", "done")) {
    const key = `${event.procedure}/${event.test}`;
    const isFirst = !numbers.has(key);
    if (isFirst) numbers.set(key, numbers.size + 1);
    const row = element("tr");
    const asked = element("td", isFirst ? event.testTitle : "");
    if (event.asked) asked.append(element("span", event.asked, "sh-o"));
    const gauge = event.gauge ? element("span", event.gauge, "sh-o") : "";
    const found = cell(event.type === "skipped" ? `✕ ${event.why ?? ""}` : (event.text ?? "✓"), "c-r");
    found.append(gauge);
    const limit = cell(event.limit || (event.figures?.[units.system()] ?? ""), "c-l");
    const verdict = element("td", "", "c-v");
    verdict.append(element(event.outcome === "pass" ? "span" : "b", (event.outcome ?? "").toUpperCase(), "q"));
    row.append(cell(isFirst ? String(numbers.get(key)) : "", "c-n"), asked, found, limit, verdict);
    rows.push(row);
  }
  return rows;
}

function codesOf(record) {
  const read = new Map();
  const absent = new Set();
  const note = (code, title, state) => {
    const named = [code, title].filter(Boolean).join(" ");
    read.set(code, state === "stored" ? named : say(/** @type {any} */ (`code-${state}`), { code: named }));
  };
  for (const event of ofType(record, "intake", "code")) {
    for (const [code, state] of Object.entries(event.codes ?? {})) {
      if (state !== "absent") note(code, event.titles?.[code], state);
    }
    for (const code of event.absent ?? []) absent.add(code);
    if (event.code && event.stored) note(event.code, event.title, "stored");
  }
  return { stored: [...read.values()].join("; ") || "–", absent: [...absent].join(", ") };
}

function repairLines(record) {
  const lines = ofType(record, "repair").map((event) => [event.says, event.fitted].filter(Boolean).join(": "));
  return lines.map((line) => element("p", line));
}

function leftLines(record) {
  const left = ofType(record, "left").map((event) => [event.says, event.why].filter(Boolean).join(": "));
  return [...left, ...(record.leftOpen ?? [])].map((line) => element("p", line));
}

/**
 * Draws a record as a sheet.
 * @param {import("./record.js").JobRecord} record
 * @param {HTMLElement[]} photos
 */
export function sheetOf(record, photos) {
  const { car } = record;
  const intake = ofType(record, "intake").at(-1);
  const abnormal = ofType(record, "result").filter(({ outcome }) => outcome === "fail");
  const repairs = ofType(record, "repair");
  const proof = ofType(record, "recheck").at(-1);
  const codes = codesOf(record);
  const tests = testRows(record);
  const rows = { vin: car.vin, odometer: car.odometer, order: car.order, out: when(record.closed) };
  const shownRows = Object.fromEntries(Object.entries(rows).flatMap(([name, text]) => [[name, text], [`${name}-row`, Boolean(text)]]));
  return card("sheet", {
    ...shownRows,
    tag: tagOf(record),
    car: record.vehicleName,
    in: when(record.begun),
    complaint: [...(intake?.told ?? []), intake?.words].filter(Boolean).join("; ") || "–",
    stored: codes.stored,
    "absent-row": Boolean(codes.absent),
    absent: codes.absent,
    "found-box": repairs.length > 0,
    found: repairs.map(({ says }) => says).join("; "),
    "shown-row": abnormal.length > 0,
    shown: abnormal.map(({ asked, text }) => `${asked} ${text}`).join("; "),
    "tested-box": tests.length > 0,
    tests,
    repairs: repairs.length ? repairLines(record) : element("p", "–"),
    proof: proof ? [proof.result, proof.text].filter(Boolean).join(": ") : "–",
    left: leftLines(record).length ? leftLines(record) : element("p", "–"),
    time: record.spent || "–",
    "photos-box": photos.length > 0,
    photos,
    remarks: record.remarks || "–",
    technician: record.technician || "–",
  });
}

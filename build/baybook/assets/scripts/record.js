// The record of one job as data: how it begins, what it holds for the engine, how an older or a
// foreign one is read. Its form is published in bench-sheet.schema.json beside the scripts.
import { say } from "./words.js";

const FORM = "baybook/bench-sheet";
const VERSION = 2;
const CAR = { plate: "", order: "", vin: "", odometer: "" };

/**
 * @typedef {{plate: string, order: string, vin: string, odometer: string}} Car
 * @typedef {Record<string, any> & {type: string, at: string, procedure: string}} JobEvent
 * @typedef {object} JobRecord
 * @property {string} form
 * @property {number} version
 * @property {string} id
 * @property {string} book
 * @property {string} begun
 * @property {string} changed
 * @property {string} closed when it was closed; empty while it is open
 * @property {Car} car
 * @property {string} vehicle
 * @property {string} vehicleName
 * @property {string} page where the job goes on, as seen from the top of the book
 * @property {string} next what comes next, for the list of open jobs
 * @property {string} technician
 * @property {string} remarks
 * @property {Record<string, string>} networks fingerprint of the network by procedure
 * @property {Record<string, {text: string, unit: string}>} [drafts] readings that have no verdict yet
 * @property {string} [spent] time so far, as the engine says it
 * @property {string[]} [leftOpen] what was not tested, as the engine says it
 * @property {JobEvent[]} events
 * @property {{id: string, at: string, about: string, data?: string}[]} photos
 */

export function newId() {
  return crypto.randomUUID?.() ?? `${Date.now()}-${Math.random().toString(16).slice(2)}`;
}

/**
 * A new record, open and empty.
 * @param {{book: string, vehicle: string, vehicleName: string, car?: Partial<Car>}} given
 * @returns {JobRecord}
 */
export function beginRecord({ book, vehicle, vehicleName, car = {} }) {
  const now = new Date().toISOString();
  const empty = { closed: "", page: "", next: "", technician: "", remarks: "" };
  const lists = { networks: {}, events: [], photos: [] };
  const head = { form: FORM, version: VERSION, id: newId(), book, begun: now, changed: now };
  return { ...head, ...empty, car: { ...CAR, ...car }, vehicle, vehicleName, ...lists };
}

/**
 * The name of a job, as its tag says it.
 * @param {JobRecord} record
 */
export function tagOf({ car, vehicleName }) {
  return car.plate || car.order || car.vin || vehicleName;
}

/** A record of version 1 had one text for the car and knew no book: it is taken over. */
function upgraded(old, book) {
  const fresh = beginRecord({ book, vehicle: old.vehicle, vehicleName: old.vehicleName });
  const { id, begun, changed, remarks, events } = old;
  return { ...fresh, id, begun, changed, remarks, events, car: { ...CAR, plate: old.car } };
}

/**
 * Reads a record from text: a file, or what a browser kept.
 * @param {string} text
 * @param {string} book the book that an old record is taken to be of
 * @returns {{record?: JobRecord, problem?: string}}
 */
export function readRecord(text, book) {
  let data;
  try {
    data = JSON.parse(text);
  } catch {
    return { problem: say("file-unreadable") };
  }
  if (data?.form !== FORM) return { problem: say("file-foreign") };
  if (![1, VERSION].includes(data.version)) {
    return { problem: say("file-version", { theirs: JSON.stringify(data.version), ours: VERSION }) };
  }
  const check = carriedLibraries.schema;
  if (check(data)) return { record: data.version === 1 ? upgraded(data, book) : data };
  const { instancePath, message } = check.errors.at(-1);
  return { problem: say("file-damaged", { place: instancePath || "/", what: message }) };
}

const has = Object.hasOwn;

/** The id that is called so today: itself where it still is one, else the one that had it before. */
function today(named, id) {
  if (has(named, id)) return id;
  return Object.keys(named).find((name) => named[name].was?.includes(id)) ?? id;
}

/** An entry under the ids that this edition of the page has for its test and its fault. */
function renamed(event, data) {
  const names = {};
  if (event.test) names.test = today(data.tests, event.test);
  if (event.tests) names.tests = event.tests.map((test) => today(data.tests, test));
  if (event.fault) names.fault = today(data.faults, event.fault);
  const { observations } = (has(data.tests, names.test) && data.tests[names.test]) || {};
  if (event.observation && observations) names.observation = today(observations, event.observation);
  return { ...event, ...names };
}

function renamedDraft(name, data) {
  const [test, observation] = name.split(".");
  return Object.values(renamed({ test, observation }, data)).join(".");
}

/**
 * Takes an open job along where a test, an observation or a fault of the page was renamed.
 * @param {JobRecord} record
 * @param {any} data
 */
export function followNames(record, data) {
  if (record.closed) return;
  const isOfPage = (event) => event.procedure === data.procedure;
  record.events = record.events.map((event) => (isOfPage(event) ? renamed(event, data) : event));
  const isOnlyPage = Object.keys(record.networks).every((name) => name === data.procedure);
  if (!record.drafts || !isOnlyPage) return; // a draft does not say of which procedure it is
  const drafts = Object.entries(record.drafts);
  record.drafts = Object.fromEntries(drafts.map(([name, typed]) => [renamedDraft(name, data), typed]));
}

const isKnown = {
  code: (event, data) => has(data.codes, event.code),
  result: (event, data) => has(data.tests, event.test) && has(data.tests[event.test].observations, event.observation),
  skipped: (event, data) => has(data.tests, event.test),
  repair: (event, data) => has(data.faults, event.fault),
};

/**
 * Tells whether this edition of the page has what an entry speaks of.
 * @param {JobEvent} event
 * @param {any} data
 */
export function knows(event, data) {
  return isKnown[event.type]?.(event, data) ?? true;
}

const TO_ENGINE = {
  intake: ({ codes, read, complaints, standing }) => [
    ...Object.entries(codes).map(([code, state]) => ({ code, state })),
    ...(read ? [{ codes: "all" }] : []),
    ...complaints.map((complaint) => ({ complaint })),
    ...(standing ? [{ state: standing }] : []),
  ],
  code: ({ code, stored }) => [{ code, state: stored ? "stored" : "absent" }],
  opening: ({ done, skipped }) => [
    ...done.map((opening) => ({ opening, result: "done" })),
    ...skipped.map((opening) => ({ opening, result: "skipped" })),
  ],
  result: ({ test, observation, likelihood, band, outcome }) => [
    { test, observation, result: likelihood ? { likelihood } : (band ?? RESULTS[outcome]) },
  ],
  done: ({ test }) => [{ test, result: "done" }],
  skipped: ({ test }) => [{ test, result: "skipped" }],
  left: ({ fault }) => [{ leave: fault }],
  repair: ({ fault }) => [{ repair: fault }],
  outside: ({ result }) => [{ outside: result }],
  recheck: ({ result }) => [{ recheck: result }],
};
const RESULTS = { pass: "normal", fail: "abnormal" };

/**
 * The job as `baycalc.isolation` reads it; entries that this edition does not know are left out.
 * @param {JobEvent[]} events
 * @param {any} data
 */
export function engineHistory(events, data) {
  return events.filter((event) => knows(event, data)).flatMap((event) => TO_ENGINE[event.type]?.(event) ?? []);
}

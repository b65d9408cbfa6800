// The job in hand on a procedure's page: what was entered, one step back, and the same forward.
import { car } from "./car.js";
import { exerciseToken } from "./exercise-token.js";
import { beginRecord, engineHistory, followNames, knows } from "./record.js";
import { store } from "./store.js";

const BARE = /^[-+−]?[\d.,\s]+(e[-+]?\d+)?$/i; // a number without a unit of its own
const listeners = [];
/** @type {{data: any, record: import("./record.js").JobRecord | null, undone: any[]}} */
const state = { data: null, record: null, undone: [] };

function own(event) {
  return event.procedure === state.data.procedure;
}

function events() {
  return state.record ? state.record.events.filter(own) : [];
}

/** What was said since the last repair: what was seen before it may be different now. */
function sinceRepair() {
  const mine = events();
  return mine.slice(mine.findLastIndex((event) => event.type === "repair") + 1);
}

function tell(why) {
  for (const listener of listeners) listener(why);
}

function keep() {
  store.put(state.record);
}

function isLocked() {
  return Boolean(state.record?.closed);
}

/**
 * Begins a job: only an act does.
 * @param {Partial<import("./record.js").Car>} [written]
 * @param {Record<string, {text: string, unit: string}>} [drafts] what was typed before it began
 */
function begin(written = {}, drafts = {}) {
  const { id, name } = chosenCar();
  state.record = { ...beginRecord({ book: store.book, vehicle: id, vehicleName: name, car: written }), drafts };
  state.undone = [];
  markPage();
  keep();
  store.setCurrent(state.record.id);
  tell("begin");
}

function markPage() {
  state.record.page = state.data.page;
  state.record.networks[state.data.procedure] = state.data.fingerprint;
}

/** The model of the car that was chosen; nobody's where none was. */
function chosenCar() {
  return car.chosen() ?? { id: "", name: "" };
}

function add(event) {
  if (!state.record) begin();
  if (isLocked()) return;
  state.undone = [];
  state.record.events.push({ at: new Date().toISOString(), procedure: state.data.procedure, ...event });
  markPage();
  keep();
  tell("add");
}

/** Where the same thing was already said since the last repair, it is corrected in its place. */
function enter(event, same) {
  const all = state.record?.events ?? [];
  const repaired = all.findLastIndex((entry) => own(entry) && entry.type === "repair");
  const place = all.findLastIndex((entry, at) => at > repaired && own(entry) && same(entry));
  if (place < 0) {
    if (event) add(event);
    return;
  }
  if (isLocked()) return;
  if (event) all[place] = { ...all[place], ...event, at: new Date().toISOString() };
  else all.splice(place, 1);
  keep();
  tell("enter");
}

/** Puts right the last entry of a kind, in its place. */
function correct(type, change) {
  enter({ type, ...change }, (entry) => entry.type === type);
}

/**
 * Takes in the answer to one question, or a reading with its verdict; null takes it back.
 * @param {{test: string, observation: string, result: any, text?: string, entry?: string, unit?: string, band?: string, seconds?: number, limit?: string}} told
 */
function takeResult({ test, observation, result, text = "", entry = text, unit = "", band, seconds, limit }) {
  const same = (event) => event.type === "result" && event.test === test && event.observation === observation;
  if (!result) {
    enter(null, same);
    return;
  }
  const { title, observations } = state.data.tests[test];
  const { asked, gauge } = observations[observation];
  const { outcome, us, metric, advice } = result.verdict ?? result;
  enter(
    {
      type: "result",
      test,
      testTitle: title,
      observation,
      asked,
      gauge,
      limit,
      text: unit && BARE.test(text.trim()) ? `${text} ${unit}` : text,
      entry,
      band,
      unit,
      outcome,
      advice: advice || undefined,
      figures: us ? { us, metric } : undefined,
      likelihood: result.likelihood,
      seconds,
    },
    same,
  );
}

/** Keeps a text that has had no verdict yet; null when it has. */
function draft(name, typed) {
  if (!typed && !state.record?.drafts?.[name]) return;
  if (!state.record) begin({}, { [name]: typed });
  if (isLocked()) return;
  state.record.drafts = { ...state.record.drafts, [name]: typed };
  if (!typed) delete state.record.drafts[name];
  keep();
}

function skip(test, why = "") {
  add({ type: "skipped", test, testTitle: state.data.tests[test].title, why });
}

/** Takes the last entry back; it can be brought forward again. */
function back() {
  const all = state.record?.events ?? [];
  const place = all.findLastIndex(own);
  if (place < 0 || isLocked()) return false;
  state.undone.push(...all.splice(place, 1));
  keep();
  tell("back");
  return true;
}

function forward() {
  const event = state.undone.pop();
  if (!event || isLocked()) return false;
  state.record.events.push(event);
  keep();
  tell("forward");
  return true;
}

/** Locks the record and frees the car. */
function close() {
  state.record.closed = new Date().toISOString();
  keep();
  store.setCurrent("");
  tell("close");
}

/** Puts the job aside, open as it is. */
function leave() {
  state.record = null;
  state.undone = [];
  store.setCurrent("");
  tell("leave");
}

/** Takes a kept record in hand; what was renamed in the book since is followed. */
function takeUp(record) {
  state.record = record;
  if (record) followNames(record, state.data);
}

function open(id) {
  takeUp(store.get(id));
  state.undone = [];
  if (state.record) {
    store.setCurrent(id);
    car.choose(state.record.vehicle);
  }
  tell("open");
}

/** Open jobs whose car this page is for, the one used last first. */
function openHere() {
  const { id } = chosenCar();
  return store.records().filter((record) => !record.closed && record.vehicle === id);
}

/** What the record holds and this edition of the page has no place for. */
function setAside() {
  return events().filter((event) => !knows(event, state.data));
}

function isMended() {
  const known = state.record?.networks[state.data.procedure];
  return Boolean(known && known !== state.data.fingerprint);
}

/** A change in the record outside its entries: what is written on its head. */
function note(change) {
  Object.assign(state.record, change);
  keep();
}

export async function startJob() {
  const place = document.getElementById("procedure-data");
  if (!place) return;
  state.data = window.baybook.data.page;
  await store.ready();
  const kept = store.get(store.current());
  if (kept && !kept.closed && kept.vehicle === chosenCar().id && !exerciseToken()) takeUp(kept);
  store.onChange((id) => {
    if (state.record?.id !== id || store.get(id) === state.record) return;
    takeUp(store.get(id));
    tell("other window");
  });
  tell("start");
}

export const job = {
  add,
  back,
  begin,
  chosenCar,
  close,
  correct,
  data: () => state.data,
  draft,
  events,
  forward,
  history: () => engineHistory(events(), state.data),
  historyWith: (event) => engineHistory([...events(), event], state.data),
  isLocked,
  isMended,
  leave,
  markPage,
  note,
  onChange: (listener) => listeners.push(listener),
  open,
  openHere,
  record: () => state.record,
  setAside,
  sinceRepair,
  skip,
  takeResult,
};

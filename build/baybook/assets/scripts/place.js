// Where a job stands: which card is shown. It follows from the entries and from the engine's
// answer, so that a reload, another window and one step back all come to the same card.
import { all, one } from "./dom.js";
import { job } from "./job.js";

/** The observations of a test on this page, in order. */
export function observationsOf(test) {
  return all(".observation", one(`.test[data-test="${test}"]`));
}

function answeredIn(test) {
  const since = job.sinceRepair();
  return new Set(since.filter((event) => event.test === test).map((event) => event.observation));
}

/** The first observation of a test that has no answer, with its place; null when all have one. */
export function openObservation(test) {
  const observations = observationsOf(test);
  const answered = answeredIn(test);
  const place = observations.findIndex((each) => !answered.has(each.dataset.observation.split(".")[1]));
  return place < 0 ? null : { observation: observations[place], place: place + 1, count: observations.length };
}

/** A test that was begun or chosen and is not done. */
function begunTest() {
  const last = job.sinceRepair().findLast((event) => event.test);
  if (!last || last.type === "skipped" || !one(`.test[data-test="${last.test}"]`)) return null;
  return openObservation(last.test) ? last.test : null;
}

function isSafetyRead() {
  const hours = Number(one(".dock").dataset.hours);
  const read = job.events().findLast((event) => event.type === "safety");
  return Boolean(read) && (job.isLocked() || Date.now() - Date.parse(read.at) < hours * 3600e3);
}

function lastStep(step) {
  const last = job.events().at(-1);
  return last?.type === "step" && last.step === step ? last : null;
}

const BY_KIND = {
  test: ({ next }) => {
    const proven = job.events().findLast((event) => event.type === "repair" || event.type === "recheck");
    const isKnockOn = proven?.type === "recheck" && proven.result === "cured";
    return { card: isKnockOn ? "rule-out" : "test", test: next.id };
  },
  opening: () => ({ card: "opening" }),
  repair: ({ next }) => ({ card: lastStep("fit") ? "fit" : "found", fault: next.id }),
  outside: () => ({ card: "outside" }),
  stop: () => ({ card: "close" }),
  recheck: () => ({ card: "prove" }),
  close: () => ({ card: "close" }),
};

/** What is to be done before the engine is asked; null when it is its turn. */
export function beforeEngine() {
  const record = job.record();
  if (!record) return { card: "car" };
  if (record.closed) return { card: "closed" };
  const events = job.events();
  if (!events.some(({ type }) => type === "intake" || type === "code")) return { card: "codes" };
  if (!isSafetyRead()) return { card: "safety" };
  const last = events.at(-1);
  if (last.type === "result" && last.outcome === "too close to call") return { card: "close-call", event: last };
  const test = begunTest();
  return test ? { card: "test", test } : null;
}

/** The card for what the engine says. */
export function afterEngine(answer) {
  return BY_KIND[answer.next.kind](answer);
}

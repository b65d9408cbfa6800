// The working view: one card of the job at a time, on the same page. The script moves no text: it
// marks what belongs to the card, and the style sheet hides the rest.
import { advice } from "./advice.js";
import { lookAhead } from "./ahead.js";
import { drawHead, drawTrail, madeCard } from "./cards.js";
import { all, one } from "./dom.js";
import { testOfPart } from "./drawing.js";
import { askQuestion, askReading, fillDock, isReading, mainAct, openDock, showDock } from "./dock.js";
import { exerciseToken } from "./exercise-token.js";
import { complain, put, show } from "./fill.js";
import { readIntake } from "./intake.js";
import { job } from "./job.js";
import { markHere } from "./plan-tree.js";
import { afterEngine, beforeEngine, openObservation } from "./place.js";
import { python } from "./python.js";
import { saveRecord } from "./record-file.js";
import { addTo, focusHeading, mark, sectionsOf } from "./sections.js";
import { store } from "./store.js";
import { dropTimer } from "./timer.js";
import { say } from "./words.js";

const root = document.documentElement;
const state = { side: null, shown: null, answer: null, turn: 0, focused: "" };

function isWorking() {
  return root.classList.contains("working");
}

function dockFor(shown) {
  if (shown.card === "test") {
    const open = openObservation(shown.test);
    if (!open) showDock("done");
    else if (isReading(open.observation)) askReading(open.observation, open);
    else askQuestion(open.observation, open);
    return;
  }
  showDock(shown.card);
  const first = state.answer?.next.confirm_with?.[0] ?? state.answer?.follow_ups?.find(({ state: when }) => when === "before fitting")?.tests[0];
  const offered = shown.card === "found" && first && job.data().tests[first];
  show("test-first", Boolean(offered));
  if (offered) put("test-first", say("test-first", { title: offered.title }));
}

function numberOf() {
  const said = job.events().filter(({ type }) => ["result", "skipped", "repair", "recheck"].includes(type));
  const groups = new Set(said.map((event) => event.test ?? event.type + event.at));
  return Math.min(3, job.events().length) + groups.size + 1;
}

function focusOn(shown) {
  const name = JSON.stringify([shown.card, shown.test, shown.fault]);
  if (name === state.focused) return;
  state.focused = name;
  focusHeading();
}

function draw(shown) {
  const isNew = shown.card !== state.shown?.card || shown.test !== state.shown?.test;
  state.shown = shown;
  root.dataset.cardShown = shown.card;
  drawHead(state.answer);
  drawTrail(state.answer);
  if (!isWorking()) return;
  fillDock();
  const sections = sectionsOf(shown);
  if (isNew) dropTimer(one("[data-job=timer]"));
  mark(sections);
  put("number", job.record() ? String(numberOf()) : "1");
  put("kind", say(/** @type {any} */ (`tab-${shown.card}`)));
  one("[data-job=made]").replaceChildren(madeCard({ ...shown, answer: state.answer }));
  addTo(sections, shown, state.answer);
  dockFor(shown);
  focusOn(shown);
  lookAhead(shown);
}

/** Finds out which card is to be shown, and shows it. */
async function update() {
  state.turn += 1;
  const { turn } = state;
  const early = state.side ?? beforeEngine();
  if (early) draw(early);
  if (job.record() && !job.isLocked()) python.start();
  one(".wcard").ariaBusy = "false";
  if (early && ["car", "codes", "safety", "closed"].includes(early.card)) return;
  one(".wcard").ariaBusy = "true";
  const waiting = setTimeout(() => busy(true), 100);
  try {
    const answer = await advice();
    if (!answer || turn !== state.turn) return;
    if (answer.error) refuse(answer.error);
    else take(answer, early);
  } catch (error) {
    refuse(error.message);
  } finally {
    clearTimeout(waiting);
    if (turn === state.turn) {
      busy(false);
      one(".wcard").ariaBusy = "false";
    }
  }
}

function busy(isBusy) {
  show("busy", isBusy);
  if (isBusy && !state.side && !beforeEngine()) showDock("");
}

function refuse(what) {
  put("live", say("answer-refused", { what }));
  complain(say("answer-refused", { what }));
}

/** The sheet and the list of open jobs say what the engine said last. */
function noteAnswer({ next, spent, not_tested: leftOpen }) {
  const record = job.record();
  if (!record || job.isLocked()) return;
  const said = { next: next.title, spent: spent.text, leftOpen };
  if (JSON.stringify(said) !== JSON.stringify({ next: record.next, spent: record.spent, leftOpen: record.leftOpen })) job.note(said);
}

function take(answer, early) {
  state.answer = answer;
  noteAnswer(answer);
  markHere(answer);
  if (!early && !state.side) put("live", `${answer.next.headline}. ${answer.next.time}`);
  draw(early ?? afterEngine(answer));
  document.dispatchEvent(new CustomEvent("baybook:belief", { detail: answer }));
}

function work(isOn) {
  root.classList.toggle("working", isOn);
  state.focused = "";
  if (isOn) update();
  else {
    mark([]);
    one(`.test[data-test="${state.shown?.test}"]`)?.scrollIntoView();
  }
}

function depth() {
  return job.record() ? 1 + job.events().length : 0;
}

function remember(isNew) {
  const kept = { baybook: depth(), base: isNew ? (history.state?.base ?? 0) : depth() };
  if (isNew) history.pushState(kept, "");
  else history.replaceState(kept, "");
}

/** The browser's way back is one step back. */
function travel({ state: wanted }) {
  if (state.side) {
    state.side = null;
  } else if (typeof wanted?.baybook === "number" && job.record()) {
    while (depth() > Math.max(1, wanted.baybook) && job.back());
    while (depth() < wanted.baybook && job.forward());
  }
  update();
}

function goBack() {
  if (depth() > (history.state?.base ?? depth())) {
    history.back();
  } else {
    job.back();
    remember(false);
  }
}

function side(shown) {
  state.side = shown;
  history.pushState({ ...history.state }, "");
  update();
}

function namesOf(selector) {
  return all(selector).map((box) => box.dataset.opening);
}

function valueOf(selector) {
  return one(selector)?.value.trim() ?? "";
}

const ACTS = {
  back: goBack,
  whole: () => work(false),
  resume: () => (state.side ? history.back() : work(true)),
  trail: () => side({ card: "trail" }),
  save: () => saveRecord(job.record()),
  "new-job": () => {
    state.side = null;
    job.leave();
  },
  "next-car": () => job.leave(),
  begin: () => job.begin(Object.fromEntries(all("[data-job-car]").map((field) => [field.dataset.jobCar, field.value.trim()]))),
  intake: () => job.add({ type: "intake", ...readIntake() }),
  safe: () => job.add({ type: "safety" }),
  cannot: () => side({ card: "skip", test: state.shown.test }),
  skip: () => {
    const { test } = state.side;
    const why = valueOf("[name=skipped]:checked");
    state.side = null;
    job.skip(test, why);
  },
  again: goBack,
  done: () => job.add({ type: "done", test: state.shown.test, testTitle: job.data().tests[state.shown.test].title }),
  "opening-all": () => job.add({ type: "opening", done: namesOf("[data-opening]"), skipped: [] }),
  opening: () => job.add({ type: "opening", done: namesOf("[data-opening]:checked"), skipped: namesOf("[data-opening]:not(:checked)") }),
  "leave-open": () => job.add({ type: "step", step: "leave-open" }),
  fit: () => job.add({ type: "step", step: "fit" }),
  "test-first": () => {
    const { next, follow_ups: questions } = state.answer;
    const test = next.confirm_with?.[0] ?? questions.find(({ state: when }) => when === "before fitting").tests[0];
    job.add({ type: "step", step: "test", test });
  },
  fitted: () => {
    const { next } = state.answer;
    job.add({ type: "repair", fault: next.id, says: next.title, fitted: valueOf("[data-fitted]"), price: valueOf("[data-price]") });
  },
  cured: () => job.add({ type: "recheck", result: "cured", text: valueOf("[data-proved]") }),
  "not-cured": () => job.add({ type: "recheck", result: "not cured", text: valueOf("[data-proved]") }),
  "test-now": () => job.add({ type: "step", step: "test", test: state.answer.next.id }),
  "leave-it": () => job.add({ type: "left", fault: state.answer.next.clears ?? "", tests: [state.answer.next.id], why: valueOf("[name=left]:checked") }),
  "outside-found": () => job.add({ type: "outside", result: "found" }),
  "outside-not": () => job.add({ type: "outside", result: "not found" }),
  close: () => job.close(),
};

function startJobHere() {
  job.leave();
  work(true);
}

function find() {
  work(false);
  one(".top [data-finder] input")?.focus();
}

/** What a key does now; nothing where the reader is typing or on a control. */
function actOf({ key, target }) {
  if (key === "Escape") return state.side ? ACTS.resume : ACTS.whole;
  if (key === "Enter" && target.matches?.("[data-fitted], [data-price], [data-proved]")) return mainAct;
  if (target.closest?.("input:not([type=radio], [type=checkbox]), textarea, select")) return null;
  if (key === "/") return find;
  const dock = openDock();
  if (key === "1" || key === "2") return () => all(".answer", dock)[Number(key) - 1]?.click();
  if (key === "Enter" && !target.closest?.("a, button, summary, label")) return mainAct;
  return null;
}

function pressed(event) {
  if (!isWorking() || event.ctrlKey || event.metaKey || event.altKey) return;
  const act = actOf(event);
  if (!act) return;
  event.preventDefault();
  act();
}

export function startWork() {
  if (!one(".wcard") || exerciseToken()) return;
  document.addEventListener("click", (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    const act = target.closest("[data-act]");
    if (act && act.tagName === "A") event.preventDefault();
    if (act instanceof HTMLElement) ACTS[act.dataset.act]?.();
    if (target.closest("[data-start-job]")) startJobHere();
    const test = testOfPart(target) || /** @type {HTMLElement} */ (target.closest("[data-work-test]"))?.dataset.workTest;
    if (test) {
      event.preventDefault();
      state.side = null;
      work(true);
      if (job.record()) job.add({ type: "step", step: "test", test });
    }
  });
  document.addEventListener("keydown", pressed);
  window.addEventListener("popstate", travel);
  job.onChange((why) => {
    if (why === "start") {
      remember(false);
      if (job.record() && !location.hash) work(true);
    } else if (["add", "begin", "close"].includes(why)) {
      remember(true);
    } else if (why === "open") {
      remember(false);
      work(true);
    }
    update();
  });
  store.onChange(() => drawHead(state.answer));
}

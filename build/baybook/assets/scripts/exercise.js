// An exercise: a job with a hidden fault, on the cards of the page. The engine plays the car, keeps
// the clock and marks; what was done is kept in this browser, apart from the jobs.
import { askOpened } from "./advice.js";
import { car } from "./car.js";
import { all, button, element, one } from "./dom.js";
import { fillDock, mainAct, showDock } from "./dock.js";
import { exerciseToken } from "./exercise-token.js";
import { card, complain, leader, put, show } from "./fill.js";
import { job } from "./job.js";
import { saveFile } from "./record-file.js";
import { focusHeading, mark, sectionsOf } from "./sections.js";
import { store } from "./store.js";
import { units } from "./units.js";
import { whole } from "./values-once.js";
import { say } from "./words.js";

const KEPT = "baybook.exercise.";
const LIMIT = 60000; // the best order of a car is searched for at the end [ms]
const state = { acts: [], student: "", view: null, car: {}, shown: { card: "exercise-begin", id: "" } };

function key() {
  return KEPT + exerciseToken().slice(0, 24);
}

function keep() {
  try {
    localStorage.setItem(key(), JSON.stringify({ acts: state.acts, student: state.student }));
  } catch {
    // Not kept: the exercise goes on as long as the page stays open.
  }
}

function readKept() {
  try {
    const { acts, student } = JSON.parse(localStorage.getItem(key()));
    if (Array.isArray(acts)) Object.assign(state, { acts, student: String(student) });
  } catch {
    // Nothing was kept, or it cannot be read: the exercise begins anew.
  }
}

/** Asks the engine how the exercise stands after some acts; false where it refuses. */
async function take(acts) {
  show("busy", true);
  try {
    const request = { method: "exercise", token: exerciseToken(), ...state.car, acts, book: store.book, student: state.student };
    const view = await askOpened(request, LIMIT);
    complain(view?.error ?? "");
    if (!view || view.error) return false;
    Object.assign(state, { acts, view });
    keep();
    return true;
  } catch (error) {
    complain(error.message);
    return false;
  } finally {
    show("busy", false);
  }
}

function rowsOf(done) {
  return done.rows.map(({ asked, told }) => leader(asked, told));
}

/** A part of the marks: its points, and the sentence that gives the reason. */
function partOf({ name, told, says }) {
  const part = element("div");
  const points = element("dl", "", "leaders");
  points.append(leader(name, told));
  part.append(points, element("p", says, "note"));
  return part;
}

function choice({ title, time = "", done = false }, action) {
  const item = element("li");
  item.append(button(title, action, "second"), element("span", `${done ? "\u2713 " : ""}${time}`, "note"));
  return item;
}

function choose(name, id = "") {
  state.shown = { card: name, id };
  draw();
}

async function act(what) {
  window.scrollTo(0, 0);
  if (!(await take([...state.acts, what]))) return;
  const last = state.view.acts.at(-1);
  put("live", say("exercise-live", last));
  choose("exercise-desk");
}

const MADE = {
  "exercise-begin": () => card("exercise-begin", { "comes-in": state.view?.comes_in }),
  "exercise-desk": () => {
    const { view } = state;
    const last = view.acts.at(-1);
    return card("exercise-desk", {
      "comes-in": view.comes_in,
      "last-box": Boolean(last),
      last: last?.title,
      says: last?.says,
      rows: last ? rowsOf(last) : [],
      advice: view.advice.map((text) => element("p", text)),
      tests: view.tests.map((each) => choice(each, () => choose("exercise-test", each.id))),
      repairs: view.repairs.map((each) => choice(each, () => choose("exercise-repair", each.id))),
      ways: view.ways.map((each) => choice(each, () => act({ do: each.kind }))),
    });
  },
  "exercise-end": () => {
    const { text, parts, notes, best } = state.view.marks;
    return card("exercise-end", {
      text,
      parts: parts.map(partOf),
      notes: notes.map((each) => element("li", each)),
      "best-box": best.length > 0,
      best: best.map((each) => element("li", each)),
    });
  },
};

function sections({ card: name, id }) {
  if (name === "exercise-test") return sectionsOf({ card: "test", test: id, fault: "" });
  if (name === "exercise-repair") return sectionsOf({ card: "fit", test: "", fault: id });
  return [];
}

function drawSoFar() {
  const rows = state.view.acts.flatMap((each) => [leader(each.title, each.says), ...rowsOf(each)]);
  one("[data-job=answers]").replaceChildren(...rows);
}

/** Shows the card that the exercise is at. */
function draw() {
  if (state.view.ended) state.shown = { card: "exercise-end", id: "" };
  const { shown } = state;
  document.documentElement.dataset.cardShown = shown.card === "exercise-trail" ? "trail" : shown.card;
  show("tape", true);
  show("bar", false);
  put("spent", state.view.clock);
  put("number", String(state.acts.length + 1));
  drawSoFar();
  mark(sections(shown));
  one("[data-job=made]").replaceChildren(MADE[shown.card]?.() ?? "");
  showDock(all("[data-dock]").some(({ dataset }) => dataset.dock === shown.card) ? shown.card : "");
  focusHeading();
}

const ACTS = {
  begin: async () => {
    state.student = one("[data-exercise=student]").value.trim();
    if (await take(state.acts)) choose("exercise-desk");
  },
  do: () => {
    const { card: name, id } = state.shown;
    if (name === "exercise-repair") act({ do: "repair", id });
    else act({ do: "test", id, units: units.system() });
  },
  desk: () => choose("exercise-desk"),
  save: () => saveFile(state.view.file_name, state.view.file),
};

function pressed(event) {
  if (event.key !== "Enter" || event.target.closest("a, button, summary")) return;
  event.preventDefault();
  mainAct();
}

/** Works the exercise that the address names, in the place of a job. */
export async function startExercises() {
  if (!one(".wcard")) return;
  // A link that is pasted where the page is open changes only what stands behind the #.
  window.addEventListener("hashchange", () => exerciseToken() && location.reload());
  if (!exerciseToken()) return;
  const { classList } = document.documentElement;
  classList.add("working", "exercising");
  fillDock();
  put("tag", say("tab-exercise"));
  put("kind", say("tab-exercise"));
  document.addEventListener("click", (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    ACTS[/** @type {HTMLElement} */ (target.closest("[data-exercise-act]"))?.dataset.exerciseAct]?.();
    const place = target.closest("a[href^='#']")?.getAttribute("href").slice(1);
    if (!place && !target.closest("[data-act=trail]")) return;
    event.preventDefault(); // the address keeps the exercise
    if (!state.view) return;
    if (target.closest("[data-act=trail]")) choose("exercise-trail");
    else if (state.view.tests.some(({ id }) => id === place)) choose("exercise-test", place);
  });
  document.addEventListener("keydown", pressed);
  const { id } = job.chosenCar();
  if (!id) {
    complain(say("exercise-no-car"));
    return;
  }
  await car.script(`assets/exercises/${job.data().procedure}.js`);
  const { data, values } = window.baybook.data.exercise;
  if (!Object.hasOwn(data, id)) {
    complain(say("exercise-no-car"));
    return;
  }
  state.car = whole(data[id], values);
  readKept();
  if (!(await take(state.acts))) return;
  choose(state.student || state.acts.length ? "exercise-desk" : "exercise-begin");
}

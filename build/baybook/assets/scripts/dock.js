// What stands under the thumb: the answers to a question, or the field and the keys of a reading.
import { all, one } from "./dom.js";
import { put, show } from "./fill.js";
import { enterReading, readingOf } from "./judging.js";
import { python } from "./python.js";
import { answerQuestion } from "./reading.js";
import { takenTime } from "./timer.js";
import { units } from "./units.js";
import { say } from "./words.js";

const state = { name: "" };

/** Fills the dock, once the working view is wanted. */
export function fillDock() {
  const dock = one(".dock");
  if (dock.firstChild) return;
  const { data, root } = window.baybook;
  dock.innerHTML = data.work.dock;
  for (const link of all("[data-from-root]", dock)) link.href = root + link.dataset.fromRoot;
}

/** The part of the dock that is shown. */
export function openDock() {
  return one(".dock [data-dock]:not([hidden])");
}

/** Does what the card is for. */
export function mainAct() {
  const dock = openDock();
  if (dock) one(".act", dock)?.click();
}

/** Shows one part of the dock. */
export function showDock(part) {
  const dock = one(".dock");
  dock.hidden = !part;
  for (const each of all("[data-dock]", dock)) each.hidden = each.dataset.dock !== part;
}

function ofText(place, count) {
  return count > 1 ? say("one-of", { place, count }) : "";
}

/** The choice of the page as a button under the thumb. */
function answerButton(choice) {
  const made = document.createElement("button");
  Object.assign(made, { type: "button", className: "answer" });
  made.dataset.answer = one("input", choice).value;
  made.append(...all("b, span", choice).map((part) => part.cloneNode(true)));
  return made;
}

/**
 * Asks the question of an observation.
 * @param {any} observation its element on the page
 * @param {{place: number, count: number}} which
 */
export function askQuestion(observation, which) {
  state.name = observation.dataset.observation;
  put("ask", one("legend", observation).textContent);
  put("of", ofText(which.place, which.count));
  const choices = one(".answers", observation);
  const place = one("[data-job=answers-now]");
  place.className = choices.className;
  place.replaceChildren(...all(".answer", choices).map(answerButton));
  showDock("question");
}

function unitChip(option, chosen) {
  const chip = document.createElement("label");
  chip.className = "chip";
  const radio = document.createElement("input");
  Object.assign(radio, { type: "radio", name: "dock-unit", value: option.value, checked: option.value === chosen });
  const text = document.createElement("span");
  text.textContent = option.label || option.textContent || option.value;
  chip.append(radio, text);
  return chip;
}

/**
 * Asks for the reading of an observation.
 * @param {any} observation its element on the page
 * @param {{place: number, count: number}} which
 */
export function askReading(observation, { place, count }) {
  const name = observation.dataset.observation;
  const field = one("#dock-reading");
  if (state.name !== name) field.value = "";
  state.name = name;
  put("ask-reading", one("label", observation).textContent);
  put("of-reading", ofText(place, count));
  put("limit", one(".observation-limit", observation)?.textContent ?? "");
  const unit = one("[name$='.unit']", observation);
  const options = unit.options ? [...unit.options] : [{ value: unit.value, label: one(".field-unit", observation).textContent }];
  const system = units.system() === "us" ? unit.dataset.unitUs : unit.dataset.unitMetric;
  one("[data-job=units]").replaceChildren(...options.map((option) => unitChip(option, system ?? options[0].value)));
  show("reading-error", false);
  showDock("reading");
  one(".dock").classList.add("is-typing");
  python.start();
}

function press(key) {
  const field = one("#dock-reading");
  const typed = field.value;
  if (key === "delete") field.value = typed.slice(0, -1);
  else if (key === "minus") field.value = typed.startsWith("−") ? typed.slice(1) : `−${typed}`;
  else field.value = typed + key;
}

async function take() {
  const field = one("#dock-reading");
  const unit = one("[name=dock-unit]:checked")?.value ?? "";
  const text = field.value.trim();
  if (!text) {
    field.focus();
    return;
  }
  const { name } = state;
  try {
    const answer = await enterReading(name, text, unit, takenTime());
    put("reading-error", answer?.error ?? "");
    show("reading-error", Boolean(answer?.error));
    if (answer && !answer.error) field.value = "";
  } catch (error) {
    put("reading-error", error.message);
    show("reading-error", true);
  }
}

export function startDock() {
  const dock = one(".dock");
  if (!dock) return;
  dock.addEventListener("click", (event) => {
    const { answer, key, act } = event.target.closest("button")?.dataset ?? {};
    if (answer) answerQuestion(state.name, answer);
    else if (key) press(key);
    else if (act === "take") take();
  });
  dock.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.target.id !== "dock-reading") return;
    event.preventDefault();
    event.stopPropagation();
    take();
  });
}

/** Tells whether an observation is read off a gauge. */
export function isReading(observation) {
  return readingOf(observation.dataset.observation) !== undefined;
}

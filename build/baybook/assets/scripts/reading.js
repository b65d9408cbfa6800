// Where a result is entered beside its test on the whole page: a reading is judged when the typing
// rests, a question is answered. What the record says stands there again.
import { all, one } from "./dom.js";
import { unfoldAll } from "./folding.js";
import { job } from "./job.js";
import { clearReading, enterReading } from "./judging.js";
import { python } from "./python.js";
import { units } from "./units.js";
import { verdicts } from "./verdict.js";

const REST = 500; // a pause in the typing after which a reading is one [ms]
/** @type {Map<string, Reading | Question>} */
const entries = new Map();

class Reading {
  constructor(element) {
    this.element = element;
    this.name = element.dataset.observation;
    this.entry = one("input[type=text]", element);
    this.unit = one("[name$='.unit']", element);
    this.error = one(".field-error", element);
    this.clearButton = one(".observation-clear", element);
    this.entry.addEventListener("focus", () => python.start(), { once: true });
    this.entry.addEventListener("input", () => this.typed());
    this.entry.addEventListener("change", () => this.rested());
    this.unit.addEventListener("change", () => this.rested());
    this.clearButton.addEventListener("click", () => this.clear());
    window.addEventListener("pagehide", () => this.leave());
    this.useSystem();
    units.onChange(() => this.useSystem());
  }

  // An empty field follows the unit switch; a reading keeps the unit it was typed in.
  useSystem() {
    const { unitUs, unitMetric } = this.unit.dataset;
    if (this.entry.value || !unitUs) return;
    this.unit.value = units.system() === "us" ? unitUs : unitMetric;
  }

  typed() {
    clearTimeout(this.resting);
    this.clearButton.hidden = !this.entry.value;
    this.resting = setTimeout(() => this.rested(), REST);
  }

  // A page that goes takes along what was typed.
  leave() {
    if (this.resting && this.entry.value.trim()) job.draft(this.name, { text: this.entry.value, unit: this.unit.value });
  }

  clear() {
    this.entry.value = "";
    this.useSystem();
    this.rested();
    this.entry.focus();
  }

  async rested() {
    clearTimeout(this.resting);
    this.resting = 0;
    const text = this.entry.value;
    if (!text.trim()) {
      this.show({});
      clearReading(this.name);
      return;
    }
    try {
      const answer = await enterReading(this.name, text, this.unit.value);
      if (answer?.error) {
        clearReading(this.name);
        this.show(answer);
      }
    } catch (error) {
      this.show({ error: error.message });
    }
  }

  /** @param {{error?: string, verdict?: any}} shown */
  show({ error = "", verdict = null }) {
    this.error.hidden = !error;
    this.error.textContent = error;
    this.entry.toggleAttribute("aria-invalid", Boolean(error));
    verdicts.show(one(".verdict", this.element), verdict);
  }

  // Puts back what the record says, unless somebody is typing here.
  fill(event) {
    const draft = job.record()?.drafts?.[this.name];
    if (this.resting || (draft && !event)) return;
    this.entry.value = event ? (event.entry ?? event.text) : "";
    this.clearButton.hidden = !event;
    if (event?.unit) this.unit.value = event.unit;
    else this.useSystem();
    this.show({ verdict: event && { outcome: event.outcome, advice: event.advice ?? "", ...event.figures } });
  }
}

class Question {
  constructor(element) {
    this.element = element;
    this.name = element.dataset.observation;
    this.outcome = one(".observation-outcome", element);
    this.clearButton = one(".observation-clear", element);
    element.addEventListener("change", () => this.changed());
    this.clearButton.addEventListener("click", () => this.clear());
  }

  clear() {
    clearReading(this.name);
    one("input", this.element).focus();
  }

  changed() {
    const answer = one("input:checked", this.element).value;
    answerQuestion(this.name, answer);
  }

  fill(event) {
    for (const input of all("input", this.element)) input.checked = input.value === (event?.entry ?? event?.text);
    const outcome = event?.outcome ?? "";
    this.clearButton.hidden = !event;
    this.outcome.textContent = outcome.toUpperCase();
    this.outcome.className = `observation-outcome outcome-${outcome || "none"}`;
  }
}

/**
 * Enters the answer to a question.
 * @param {string} name
 * @param {string} answer one of its choices
 */
export function answerQuestion(name, answer) {
  const { element } = entries.get(name);
  const [test, observation] = name.split(".");
  const text = one(`[value="${answer}"]`, element).parentElement.querySelector("b").textContent;
  const { outcome, band } = resultOf(element, answer);
  job.takeResult({ test, observation, result: { outcome }, text, entry: answer, band });
}

/**
 * What an answer to a question says: whether all is well, and which outcome where there are several.
 * @param {any} element the question on the page
 * @param {string} answer one of its choices
 */
export function resultOf(element, answer) {
  const { good, bands } = element.dataset;
  return { outcome: answer === good ? "pass" : "fail", band: bands === undefined ? undefined : answer };
}

function fillAll() {
  const since = job.sinceRepair();
  for (const [name, entry] of entries) {
    entry.fill(since.findLast((event) => event.type === "result" && `${event.test}.${event.observation}` === name));
    for (const field of all("input, select, button", entry.element)) field.disabled = job.isLocked();
  }
}

/** What was entered is in sight again when its job is taken up. */
function unfoldEntered() {
  const entered = new Set(job.sinceRepair().map(({ test }) => test));
  unfoldAll(all(".test").filter(({ dataset }) => entered.has(dataset.test)));
}

export function startReading() {
  for (const element of all(".observation-reading")) entries.set(element.dataset.observation, new Reading(element));
  for (const element of all(".observation-question")) entries.set(element.dataset.observation, new Question(element));
  for (const place of all("[data-skip]")) place.addEventListener("click", () => job.skip(place.dataset.skip));
  job.onChange((why) => {
    fillAll();
    if (why === "start" || why === "open") unfoldEntered();
  });
}

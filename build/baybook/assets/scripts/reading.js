// @ts-nocheck
// Where a result is entered beside its test: a reading is judged, a question is answered.
// Every change is told to the page as the event "baybook:result".
import { bay } from "./bay.js";
import { car } from "./car.js";
import { python } from "./python.js";
import { units } from "./units.js";
import { verdicts } from "./verdict.js";

function tell(element, detail) {
  const [test, observation] = element.dataset.observation.split(".");
  const event = { bubbles: true, detail: { test, observation, ...detail } };
  element.dispatchEvent(new CustomEvent("baybook:result", event));
}

class Reading {
  constructor(element) {
    this.element = element;
    this.judge = JSON.parse(element.dataset.judge);
    this.tool = element.dataset.tool;
    this.entry = element.querySelector("input[type=text]");
    this.unit = element.querySelector("[name$='.unit']");
    this.error = element.querySelector(".field-error");
    this.clearButton = element.querySelector(".observation-clear");
    this.entry.addEventListener("focus", () => python.start(), { once: true });
    this.entry.addEventListener("input", () => this.changed());
    this.unit.addEventListener("change", () => this.changed());
    this.clearButton.addEventListener("click", () => this.clear());
    this.useSystem();
    units.onChange(() => this.useSystem());
  }

  // An empty field follows the unit switch; a reading keeps the unit it was typed in.
  useSystem() {
    const { unitUs, unitMetric } = this.unit.dataset;
    if (this.entry.value || !unitUs) return;
    this.unit.value = units.system() === "us" ? unitUs : unitMetric;
  }

  clear() {
    this.entry.value = "";
    this.useSystem();
    this.changed();
    this.entry.focus();
  }

  // Puts a kept reading back: the page is told that it is no news.
  set(text, unit) {
    if (text === this.entry.value && (!unit || unit === this.unit.value)) return;
    this.entry.value = text;
    if (unit) this.unit.value = unit;
    else this.useSystem();
    this.changed(true);
  }

  // The limit of the chosen car; without one, or without its figure, there is none.
  limit() {
    const found = car.place(this.element.dataset.limit);
    return found ? { low: found.low, high: found.high, units: found.units } : {};
  }

  async changed(filled = false) {
    const text = this.entry.value;
    this.clearButton.hidden = !text;
    if (!text.trim()) {
      this.show({});
      tell(this.element, { result: null, filled });
      return;
    }
    const request = {
      method: "judge",
      ...this.judge,
      ...this.limit(),
      own_gauge: bay.gauge(this.tool, this.judge.kind),
      altitude: bay.altitude(),
      reading: text,
      unit: this.unit.value,
    };
    try {
      const answer = await python.call(request, { key: this.element.dataset.observation });
      if (!answer) return;
      this.show(answer);
      if (answer.error) tell(this.element, { result: null, filled });
      else tell(this.element, { result: answer, text, unit: this.unit.value, filled });
    } catch (error) {
      this.show({ error: error.message });
    }
  }

  show({ error, verdict }) {
    this.error.hidden = !error;
    this.error.textContent = error || "";
    this.entry.toggleAttribute("aria-invalid", Boolean(error));
    verdicts.show(this.element.querySelector(".verdict"), error ? null : verdict);
  }
}

class Question {
  constructor(element) {
    this.element = element;
    this.good = element.dataset.good;
    this.outcome = element.querySelector(".observation-outcome");
    this.clearButton = element.querySelector(".observation-clear");
    element.addEventListener("change", () => this.changed());
    this.clearButton.addEventListener("click", () => this.clear());
  }

  answer() {
    return this.element.querySelector("input:checked")?.value ?? null;
  }

  clear() {
    const chosen = this.element.querySelector("input:checked");
    if (chosen) chosen.checked = false;
    this.changed();
    this.element.querySelector("input").focus();
  }

  set(answer) {
    for (const input of this.element.querySelectorAll("input")) input.checked = input.value === answer;
    this.changed(true);
  }

  changed(filled = false) {
    const answer = this.answer();
    const outcome = answer === null ? "" : answer === this.good ? "pass" : "fail";
    this.clearButton.hidden = answer === null;
    this.outcome.textContent = outcome.toUpperCase();
    this.outcome.className = `observation-outcome outcome-${outcome || "none"}`;
    tell(this.element, { result: outcome && { outcome }, text: answer, filled });
  }
}

const entries = new Map();

export function startReading() {
  bay.onChange(judgeAgain);
  document.addEventListener("baybook:car", judgeAgain);
  for (const element of document.querySelectorAll(".observation-reading")) {
    entries.set(element.dataset.observation, new Reading(element));
  }
  for (const element of document.querySelectorAll(".observation-question")) {
    entries.set(element.dataset.observation, new Question(element));
  }
}

// Another place or gauge: every reading is judged anew.
function judgeAgain() {
  for (const entry of entries.values()) if (entry.judge && entry.entry.value) entry.changed();
}

export const readings = { get: (name) => entries.get(name), names: () => [...entries.keys()] };

// While the technician works, Python is idle: what the card may come to is asked in advance.
import { askAhead } from "./advice.js";
import { isReading } from "./dock.js";
import { all } from "./dom.js";
import { job } from "./job.js";
import { openObservation } from "./place.js";
import { resultOf } from "./reading.js";

const REST = 400; // a card that is left sooner asks nothing in advance [ms]
const state = { waiting: 0, turn: 0 };

/** The answers to the last question of a test; a reading may come out in any way. */
function answersTo(test) {
  const open = openObservation(test);
  if (!open || open.place < open.count || isReading(open.observation)) return [];
  const { observation } = open;
  const [, name] = observation.dataset.observation.split(".");
  const choices = all(".answers input", observation).map(({ value }) => value);
  return choices.map((answer) => ({ type: "result", test, observation: name, ...resultOf(observation, answer) }));
}

function nextEvents({ card, test, fault }) {
  if (card === "test") return answersTo(test);
  if (card === "opening") return [{ type: "opening", done: all("[data-opening]").map(({ dataset }) => dataset.opening), skipped: [] }];
  if (card === "found" || card === "fit") return [{ type: "repair", fault }];
  if (card === "prove") return ["cured", "not cured"].map((result) => ({ type: "recheck", result }));
  return [];
}

/** Asks about what a card may come to, once it has stood for a moment. */
export function lookAhead(shown) {
  clearTimeout(state.waiting);
  state.turn += 1;
  const { turn } = state;
  state.waiting = window.setTimeout(async () => {
    for (const event of nextEvents(shown)) {
      if (turn !== state.turn) return;
      await askAhead(job.historyWith(event));
    }
  }, REST);
}

// A watch for the steps of a test that have a time: it runs in the dock, sounds and shakes at its
// end, and its time goes into the record and into the calculator of the test.
import { all, button, element, one } from "./dom.js";
import { card } from "./fill.js";

const TIME = /(\d+(?:\.\d+)?)\s(s|min)(?![\w/])/;
const state = { clock: 0, begun: 0, seconds: undefined };

function secondsIn(text) {
  const found = TIME.exec(text);
  return found ? Number(found[1]) * (found[2] === "min" ? 60 : 1) : 0;
}

function clockText(seconds) {
  const whole = Math.floor(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

function sound() {
  navigator.vibrate?.([200, 100, 200]);
  try {
    const context = new AudioContext();
    const tone = context.createOscillator();
    tone.connect(context.destination);
    tone.start();
    tone.stop(context.currentTime + 0.4);
    tone.addEventListener("ended", () => context.close());
  } catch {
    // A browser without sound: the watch shows its end.
  }
}

/** Puts the time that was taken into the field of a time, where the test's calculator has one. */
function toCalculator(test, seconds) {
  const unit = one(".calculator select[name$='.unit'] option[value='s']", test)?.parentElement;
  const field = unit && one(`[name="${unit.name.replace(/\.unit$/, "")}"]`, test);
  if (!field) return;
  unit.value = "s";
  field.value = String(seconds);
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

function stop(test) {
  clearInterval(state.clock);
  state.clock = 0;
  state.seconds = Math.round((Date.now() - state.begun) / 1000);
  toCalculator(test, state.seconds);
}

function run(place, test, wanted) {
  clearInterval(state.clock);
  place.replaceChildren(card("timer"));
  const [output, bar, stopButton] = [one("output", place), one(".timer", place), one("[data-timer-stop]", place)];
  state.begun = Date.now();
  const turn = () => {
    const gone = (Date.now() - state.begun) / 1000;
    output.textContent = clockText(gone);
    bar.style.setProperty("--run", String(Math.min(100, (100 * gone) / wanted)));
    if (gone < wanted || bar.dataset.over) return;
    bar.dataset.over = "true";
    sound();
  };
  stopButton.addEventListener("click", () => {
    stop(test);
    stopButton.remove();
  });
  state.clock = window.setInterval(turn, 200);
  turn();
}

/** The time of the watch since the last reading [s]; asking takes it. */
export function takenTime() {
  const { seconds } = state;
  state.seconds = undefined;
  return seconds;
}

/** Lets go of a watch that runs. */
export function dropTimer(place) {
  clearInterval(state.clock);
  state.clock = 0;
  place.replaceChildren();
}

/**
 * Offers a watch beside each step of a test that has a time.
 * @param {any} test
 * @param {any} place where the watch runs
 */
export function offerTimers(test, place) {
  if (test.dataset.timers) return;
  test.dataset.timers = "true";
  for (const step of all(".test-text li", test)) {
    const found = TIME.exec(step.textContent);
    const seconds = secondsIn(step.textContent);
    if (seconds < 5) continue;
    const start = button(found[0], () => run(place, test, seconds), "second watch");
    start.prepend(element("span", "▸ "));
    step.append(" ", start);
  }
}

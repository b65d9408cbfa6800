// What the engine says to the job as it stands. The first answers are in the page; the others come
// from the page's Python, which is given the network once.
import { job } from "./job.js";
import { newerAnswer, olderHistory } from "./older-engine.js";
import { python } from "./python.js";

const LIMIT = 20000; // [ms]
const state = { history: "", answer: null };

/** The answers that are in the page: no code, or one code where all were read. */
function shippedFor(history) {
  const { first } = job.data();
  if (!first) return null;
  if (history.length === 0) return first[""] ?? null;
  const [one, all] = history;
  return history.length === 2 && all.codes === "all" && one.state === "stored" ? (first[one.code] ?? null) : null;
}

/**
 * The engine's answer to the job as it stands; null when a newer question took its place.
 * @returns {Promise<any>}
 */
export async function advice() {
  const history = job.history();
  const text = JSON.stringify(history);
  if (text === state.history) return state.answer;
  const answer = shippedFor(history) ?? (await asked(history));
  if (!answer) return null;
  const shown = newerAnswer(answer);
  if (!shown.error) Object.assign(state, { history: text, answer: shown });
  return shown;
}

function asked(history) {
  const { data } = { data: job.data() };
  const request = { method: "isolate", network: data.network, history: olderHistory(history, data) };
  return python.call(request, { key: "isolate", limit: LIMIT });
}

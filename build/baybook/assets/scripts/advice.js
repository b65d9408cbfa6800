// What the engine says to the job as it stands. The first answers are in the page; the others come
// from the page's Python, which is given the network once.
import { job } from "./job.js";
import { python } from "./python.js";

const LIMIT = 20000; // [ms]
const state = { history: "", answer: null, opened: undefined };

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
  if (!answer.error) Object.assign(state, { history: text, answer });
  return answer;
}

async function asked(history) {
  return askOpened({ method: "isolate", history }, LIMIT);
}

/**
 * Asks Python about the network of the page; where it began anew and knows none, it is given it again.
 * @param {Record<string, any> & {method: string}} request
 * @param {number} limit [ms]
 */
export async function askOpened(request, limit) {
  for (let tries = 0; tries < 2; tries += 1) {
    state.opened ??= (await python.call({ method: "open", network: job.data().network }, { limit }))?.id;
    const answer = await python.call({ ...request, id: state.opened }, { key: request.method, limit });
    if (answer?.error !== "unknown network") return answer;
    state.opened = undefined;
  }
  return null;
}

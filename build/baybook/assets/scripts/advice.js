// What the engine says to the job as it stands. The first answers are in the page; the others come
// from the page's Python, which is given the network once.
import { job } from "./job.js";
import { python } from "./python.js";
import { whole } from "./values-once.js";

const LIMIT = 20000; // [ms]
const AHEAD = 12; // answers to what may come next that are kept
const state = { history: "", answer: null, opened: undefined };
/** @type {Map<string, Promise<any>>} */
const ahead = new Map();

/** The answers that are in the page: no code, or one code where all were read. */
function shippedFor(history) {
  const { early } = job.data();
  if (!early) return null;
  const [one, all] = history;
  const isSingle = history.length === 2 && all.codes === "all" && one.state === "stored";
  const answer = history.length === 0 ? early.data[""] : isSingle ? early.data[one.code] : null;
  return answer ? whole(answer, early.values) : null;
}

/**
 * The engine's answer to the job as it stands; null when a newer question took its place.
 * @returns {Promise<any>}
 */
export async function advice() {
  const history = job.history();
  const text = JSON.stringify(history);
  if (text === state.history) return state.answer;
  const answer = shippedFor(history) ?? (await ahead.get(text)) ?? (await asked(history));
  if (!answer) return null;
  if (!answer.error) Object.assign(state, { history: text, answer });
  return answer;
}

async function asked(history) {
  return askOpened({ method: "isolate", history }, LIMIT);
}

async function soundOrNothing(answer) {
  try {
    const found = await answer;
    return found?.error ? null : found;
  } catch {
    return null;
  }
}

/**
 * Asks in advance about a history that the job may come to, so that its answer is there at the press.
 * @param {any[]} history
 */
export async function askAhead(history) {
  const text = JSON.stringify(history);
  if (ahead.has(text) || shippedFor(history)) return;
  ahead.set(text, soundOrNothing(askOpened({ method: "isolate", history }, LIMIT, "ahead")));
  if (ahead.size > AHEAD) ahead.delete(ahead.keys().next().value);
  await ahead.get(text);
}

/**
 * Asks Python about the network of the page; where it began anew and knows none, it is given it again.
 * @param {Record<string, any> & {method: string}} request
 * @param {number} limit [ms]
 * @param {string} [key] the newest question of a key takes the place of those that wait
 */
export async function askOpened(request, limit, key = request.method) {
  for (let tries = 0; tries < 2; tries += 1) {
    state.opened ??= (await python.call({ method: "open", network: job.data().network }, { limit }))?.id;
    const answer = await python.call({ ...request, id: state.opened }, { key, limit });
    if (answer?.error !== "unknown network") return answer;
    state.opened = undefined;
  }
  return null;
}

// Readings are judged by the page's Python, with the gauge and the place of the reader. A text is
// kept as it is typed; its verdict comes when it comes.
import { bay } from "./bay.js";
import { car } from "./car.js";
import { all, one } from "./dom.js";
import { job } from "./job.js";
import { python } from "./python.js";

/** @type {Map<string, {element: any, judge: any, tool: string, limit: string}>} */
const readings = new Map();

function split(name) {
  const [test, observation] = name.split(".");
  return { test, observation };
}

/** The limit of a reading may be a figure of the car. */
function limitOf({ element, limit }) {
  const place = limit ? car.place(limit) : null;
  if (!limit) return {};
  const { unitUs, unitMetric } = one("[name$='.unit']", element).dataset;
  const { low = null, high = null, units = [unitUs, unitMetric] } = place ?? {};
  return { low, high, units };
}

/**
 * Judges a reading; null when a newer question about the same reading took its place.
 * @param {string} name
 * @param {string} text
 * @param {string} unit
 */
export async function judge(name, text, unit) {
  const known = readings.get(name);
  const own = { own_gauge: bay.gauge(known.tool, known.judge.kind), altitude: bay.altitude() };
  const request = { method: "judge", ...known.judge, ...limitOf(known), ...own, reading: text, unit };
  return python.call(request, { key: name });
}

/**
 * Judges a reading and enters it where it can be used.
 * @param {string} name
 * @param {string} text
 * @param {string} unit
 * @param {number} [seconds]
 */
export async function enterReading(name, text, unit, seconds) {
  job.draft(name, { text, unit });
  const answer = await judge(name, text, unit);
  if (!answer) return null;
  if (answer.error) return answer;
  job.draft(name, null);
  job.takeResult({ ...split(name), result: answer, text, unit, seconds, limit: limitText(name) });
  return answer;
}

/** The limit in words, as the page says it beside the field. */
function limitText(name) {
  const said = one(".observation-limit", readings.get(name).element)?.cloneNode(true);
  one(".observation-gauge", said ?? document.createElement("p"))?.remove();
  return said?.textContent.trim() ?? "";
}

export function clearReading(name) {
  job.draft(name, null);
  job.takeResult({ ...split(name), result: null });
}

/** Another place, another gauge, a mended book, or a text that has had no verdict yet. */
async function judgeAgain() {
  for (const event of job.sinceRepair()) {
    const name = `${event.test}.${event.observation}`;
    if (event.type === "result" && readings.has(name)) await enterReading(name, event.entry ?? event.text, event.unit);
  }
}

async function judgeDrafts() {
  const drafts = Object.entries(job.record()?.drafts ?? {});
  for (const [name, { text, unit }] of drafts) if (readings.has(name)) await enterReading(name, text, unit);
}

/**
 * What is asked where a reading is entered: its kind, its limit, its units.
 * @param {string} name
 */
export function readingOf(name) {
  return readings.get(name);
}

export function startJudging() {
  for (const element of all(".observation-reading")) {
    const { observation, judge: asked, tool, limit } = element.dataset;
    readings.set(observation, { element, judge: JSON.parse(asked), tool, limit });
  }
  bay.onChange(judgeAgain);
  car.onChange(judgeAgain);
  job.onChange((why) => {
    if (why !== "start" && why !== "open") return;
    if (job.isMended()) {
      job.markPage();
      judgeAgain();
    }
    judgeDrafts();
  });
}

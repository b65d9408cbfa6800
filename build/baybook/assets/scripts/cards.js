// What the cards show beside the page's own sections; all texts are the engine's, the record's or
// the template's.
import { all, button, element, one } from "./dom.js";
import { drawParts } from "./drawing.js";
import { card, leader, put, show } from "./fill.js";
import { job } from "./job.js";
import { tagOf } from "./record.js";
import { store } from "./store.js";
import { units } from "./units.js";
import { say } from "./words.js";

const OUTCOME = { pass: "", fail: "FAIL", "too close to call": "TOO CLOSE TO CALL" };

/** A line of what was entered: the answer, or the reading with its verdict. */
function answerRow(event) {
  if (event.type === "skipped") return leader(event.testTitle, `✕ ${event.why ?? ""}`);
  const word = OUTCOME[event.outcome];
  const isQuestion = !event.figures;
  const said = isQuestion && word ? `${event.text} ◆` : event.text;
  const row = leader(event.asked, said);
  if (!isQuestion) row.lastElementChild.append(" ", element("b", event.outcome.toUpperCase(), `told told-${event.outcome.replaceAll(" ", "-")}`));
  return row;
}

function rowsOf(events) {
  return events.filter(({ type }) => type === "result" || type === "skipped").map(answerRow);
}

function codesOf(event) {
  const read = Object.entries(event.codes ?? {}).filter(([, state]) => state !== "absent");
  return read.map(([code, state]) => (state === "stored" ? code : say(/** @type {any} */ (`code-${state}`), { code }))).join(", ");
}

/** All that was said so far, as lines that lead back to their tests. */
export function drawTrail(answer) {
  const rows = job.events().flatMap((event) => {
    if (event.type === "intake") return [leader(say("tab-codes"), [codesOf(event), event.words].filter(Boolean).join(", ") || "–")];
    if (event.type === "repair") return [leader(event.says, event.fitted || "✓")];
    if (event.type === "recheck") return [leader(say("tab-prove"), event.result)];
    return rowsOf([event]);
  });
  one("[data-job=answers]").replaceChildren(...rows);
  const aside = job.setAside().length;
  show("aside", aside > 0);
  put("aside", aside ? say("entries-aside", { count: aside }) : "");
  drawSuspects(answer);
  drawParts(answer);
}

function suspectItem({ text, share, share_text: shareText }, place) {
  const item = element("li");
  const bar = element("div", "", place === 0 ? "bar bar-1" : "bar");
  bar.setAttribute("aria-hidden", "true");
  bar.style.setProperty("--share", String(100 * share));
  bar.append(element("i"));
  item.append(element("span", text), element("span", shareText, "share"), bar);
  return item;
}

function drawSuspects(answer) {
  const suspects = answer?.suspects ?? [];
  show("suspects-box", suspects.length > 0);
  one("[data-job=suspects]").replaceChildren(...suspects.slice(0, 6).map(suspectItem));
  put("suspects-note", answer?.suspects_note ?? "");
  const told = [...(answer?.contradictions ?? []), ...(answer?.discarded ?? [])];
  one("[data-job=clashes]").replaceChildren(...told.map(({ text }) => element("p", text, "clash")));
}

/**
 * One open job, as a tag on its rail.
 * @param {import("./record.js").JobRecord} record
 * @param {() => void} go
 */
export function hungJob(record, go) {
  const intake = record.events.findLast((event) => event.type === "intake");
  const made = card("hang", {
    tag: tagOf(record),
    car: record.vehicleName,
    codes: intake ? codesOf(intake) : "",
    next: record.next,
    "next-row": Boolean(record.next),
    when: new Date(record.changed).toLocaleString([], { dateStyle: "medium", timeStyle: "short" }),
  });
  one("[data-slot=go]", made).addEventListener("click", go);
  return made;
}

function carCard() {
  const jobs = job.openHere().map((record) => hungJob(record, () => job.open(record.id)));
  return card("car", { open: jobs.length ? true : "", jobs, other: jobs.length ? true : "" });
}

function closeCallCard({ event }) {
  const figures = event.figures?.[units.system()] ?? "";
  return card("close-call", { title: event.testTitle, stands: figures, limit: event.limit ?? "", advice: event.advice ?? "" });
}

function listOf(texts) {
  return texts.map((text) => element("li", text));
}

function questionsOf(answer) {
  return listOf(answer.follow_ups.filter(({ state }) => state.startsWith("before")).map(({ text }) => text));
}

function foundCard({ answer }) {
  const { next } = answer;
  const abnormal = job.sinceRepair().filter(({ type, outcome }) => type === "result" && outcome === "fail");
  const { price } = next;
  return card("found", {
    title: next.headline,
    why: next.why,
    rows: abnormal.map(answerRow),
    estimate: answer.estimate?.text ?? "",
    "fitting-row": Boolean(next.time),
    minutes: next.time,
    "price-row": Boolean(price),
    price: String(price),
    due: questionsOf(answer).length ? true : "",
    questions: questionsOf(answer),
  });
}

function closeCard({ answer }) {
  const left = listOf([...answer.not_tested, ...answer.hand_on]);
  const repairs = job.events().filter(({ type }) => type === "repair");
  const rows = [...repairs.map((event) => leader(event.says, event.fitted || "✓")), ...rowsOf(job.events())];
  const why = answer.end_text || answer.next.why;
  const made = card("close", { why, rows, due: left.length ? true : "", questions: left });
  for (const field of all("[data-note]", made)) {
    field.value = job.record()[field.dataset.note];
    field.addEventListener("input", () => job.note({ [field.dataset.note]: field.value }));
  }
  return made;
}

const MADE = {
  car: carCard,
  "close-call": closeCallCard,
  found: foundCard,
  outside: ({ answer }) => card("outside", { title: answer.next.headline, why: answer.next.why, "hand-on": listOf(answer.hand_on) }),
  "rule-out": ({ answer }) =>
    card("rule-out", { questions: questionsOf(answer), title: answer.next.title, time: answer.next.time }),
  close: closeCard,
  closed: () => card("closed"),
  skip: () => card("skip"),
  trail: () => card("trail"),
};

/** The made part of a card that stands above the page's own section. */
export function madeCard(shown) {
  return MADE[shown.card]?.(shown) ?? document.createDocumentFragment();
}

/** Why a test comes now, right under its heading. */
export function whyCard(answer) {
  const { next, ties, how_sure: sure } = answer;
  if (!next.why) return document.createDocumentFragment();
  const links = (ties ?? []).filter(({ kind }) => kind === "test").map(({ id, title }) => button(title, () => job.add({ type: "step", step: "test", test: id }), "second"));
  return card("why", {
    why: next.why,
    if_bad: next.if_bad,
    "bad-row": Boolean(next.if_bad),
    if_good: next.if_good,
    "good-row": Boolean(next.if_good),
    sure: (sure ?? []).join(" "),
    "sure-row": Boolean(sure?.length),
    time: next.time,
    "time-row": Boolean(next.time),
    also: links.length ? true : "",
    ties: links,
  });
}

/** What was answered in a test so far. */
export function answeredCard(test) {
  const rows = rowsOf(job.sinceRepair().filter((event) => event.test === test));
  return rows.length ? card("answered", { rows }) : document.createDocumentFragment();
}

/** The head of the working view: whose car, time so far and to go. */
export function drawHead(answer) {
  const record = job.record();
  put("tag", record ? tagOf(record) : "");
  put("car", record && tagOf(record) !== record.vehicleName ? record.vehicleName : "");
  const spent = answer?.spent;
  show("tape", Boolean(record && spent?.text));
  if (spent?.text) {
    put("spent", spent.text);
    put("to-go", answer.to_go.text);
    show("bar", answer.to_go.minutes !== null);
    const tape = one("[data-job=tape]");
    tape.style.setProperty("--spent", String(spent.minutes));
    tape.style.setProperty("--all", String(spent.minutes + answer.to_go.minutes || 1));
  }
  const trouble = store.trouble();
  show("trouble", Boolean(trouble));
  put("trouble-text", trouble);
}

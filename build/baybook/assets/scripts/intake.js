// The codes and the complaints with which a job begins: read from the page, and shown there again.
import { all, one } from "./dom.js";
import { hungJob } from "./cards.js";
import { job } from "./job.js";

/** What is ticked now. */
export function readIntake() {
  const unread = one("[data-codes-unread]")?.checked ?? true;
  const codes = {};
  for (const box of all("[data-code-state]:checked")) codes[box.value] = box.dataset.codeState;
  for (const box of all("[data-code]:checked")) codes[box.dataset.code] = "stored";
  return {
    codes,
    titles: Object.fromEntries(Object.keys(codes).map((code) => [code, job.data().codes[code]])),
    read: !unread,
    absent: unread ? [] : all("[data-code]").map((box) => box.dataset.code).filter((code) => !codes[code]),
    standing: one("[name=standing]:checked").value,
    complaints: all("[data-complaint]:checked").map((box) => box.dataset.complaint),
    told: all("[data-complaint]:checked").map((box) => box.parentElement.textContent.trim()),
    words: one("[data-complaint-words]").value.trim(),
  };
}

function lastIntake() {
  return job.events().findLast((event) => event.type === "intake");
}

function isTold(event, code) {
  return event.codes[code] === "stored";
}

/** Puts back what the record says; without a record the ticks are the reader's. */
function fill() {
  const said = lastIntake();
  if (said) {
    for (const box of all("[data-code]")) box.checked = isTold(said, box.dataset.code);
    for (const box of all("[data-code-state]")) box.checked = said.codes[box.value] === box.dataset.codeState;
    for (const box of all("[name=standing]")) box.checked = box.value === (said.standing ?? "");
    for (const box of all("[data-complaint]")) box.checked = said.complaints.includes(box.dataset.complaint);
    for (const box of all("[data-codes-unread]")) box.checked = !said.read;
    one("[data-complaint-words]").value = said.words;
  }
  for (const field of all("[data-card=codes] input")) field.disabled = job.isLocked();
}

/** What was ticked wrongly is put right in its place. */
function changed() {
  if (lastIntake()) job.correct("intake", readIntake());
}

function drawJobs() {
  const hung = job.openHere().map((record) => hungJob(record, () => job.open(record.id)));
  one("[data-here-jobs]").replaceChildren(...hung);
}

/** A code in the address is only ticked: looking something up is no job. */
function tickFromAddress() {
  if (job.record()) return;
  const code = new URLSearchParams(location.search).get("code");
  const box = all("[data-code]").find((each) => each.dataset.code === code);
  if (box) box.checked = true;
}

export function startIntake() {
  const place = one("[data-card=codes]");
  if (!place) return;
  place.addEventListener("change", changed);
  document.addEventListener("baybook:car", drawJobs);
  job.onChange((why) => {
    fill();
    drawJobs();
    if (why === "start") tickFromAddress();
  });
}

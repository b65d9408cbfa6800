// The open jobs, at the head of the home page: each leads back to where it goes on.
import { hungJob } from "./cards.js";
import { one } from "./dom.js";
import { store } from "./store.js";

export async function startOpenJobs() {
  const board = one("[data-open-jobs]");
  if (!board) return;
  await store.ready();
  const draw = () => {
    const open = store.records().filter((record) => !record.closed);
    board.hidden = open.length === 0;
    one(".rail", board).replaceChildren(...open.map((record) => hungJob(record, () => goOn(record))));
  };
  store.onChange(draw);
  draw();
}

/**
 * Goes to the page where a job goes on.
 * @param {import("./record.js").JobRecord} record
 */
export function goOn(record) {
  store.setCurrent(record.id);
  const page = new URL(document.documentElement.dataset.top + record.page, location.href);
  if (record.vehicle) page.searchParams.set("car", record.vehicle);
  location.assign(page);
}

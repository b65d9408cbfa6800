// The page of the bench sheets: open jobs and closed ones; one is shown, printed, saved or loaded.
import { hungJob } from "./cards.js";
import { element, one } from "./dom.js";
import { complain } from "./fill.js";
import { goOn } from "./open-jobs.js";
import { figuresOf } from "./photos.js";
import { loadRecord, saveRecord } from "./record-file.js";
import { tagOf } from "./record.js";
import { sheetOf } from "./sheet.js";
import { store } from "./store.js";
import { units } from "./units.js";
import { say } from "./words.js";

const state = { chosen: "" };

function place(name) {
  return one(`[data-sheets="${name}"]`);
}

function choose(id) {
  state.chosen = id;
  draw();
  place("shown").scrollIntoView({ block: "start" });
}

function listed(record) {
  const item = element("li");
  const link = element("a", `${tagOf(record)}, ${record.vehicleName}`);
  link.href = `?sheet=${record.id}`;
  link.addEventListener("click", (event) => {
    event.preventDefault();
    choose(record.id);
  });
  const day = new Date(record.closed || record.changed).toLocaleDateString([], { dateStyle: "medium" });
  item.append(link, " ", element("span", day, "note"));
  return item;
}

const ACTS = {
  print: () => window.print(),
  save: saveRecord,
  go: goOn,
  delete: (record) => {
    if (window.confirm(say("sheet-delete"))) store.remove(record.id);
  },
};

async function draw() {
  const records = store.records();
  const open = records.filter((record) => !record.closed);
  const closed = records.filter((record) => record.closed);
  if (store.trouble()) complain(store.trouble());
  place("open").replaceChildren(
    ...open.map((record) => {
      const made = hungJob(record, () => goOn(record));
      one(".plate", made).addEventListener("click", () => choose(record.id));
      return made;
    }),
  );
  place("closed").replaceChildren(...closed.map(listed));
  place("open-box").hidden = open.length === 0;
  place("closed-box").hidden = closed.length === 0;
  place("none").hidden = records.length > 0;
  const record = store.get(state.chosen) ?? records[0];
  if (!record) {
    place("shown").replaceChildren();
    return;
  }
  const made = sheetOf(record, await figuresOf(record));
  one("[data-sheet-act=go]", made).hidden = Boolean(record.closed) || !record.page;
  for (const [name, act] of Object.entries(ACTS)) one(`[data-sheet-act=${name}]`, made).addEventListener("click", () => act(record));
  place("shown").replaceChildren(made);
}

async function load(field) {
  const [file] = field.files;
  if (!file) return;
  const { record, said } = await loadRecord(file);
  field.value = "";
  if (record) state.chosen = record.id;
  await draw();
  complain(said);
}

export async function startSheetPage() {
  if (!place("shown")) return;
  one("#sheet-load").addEventListener("change", (event) => load(event.target));
  store.onChange(draw);
  units.onChange(draw);
  state.chosen = new URLSearchParams(location.search).get("sheet") ?? store.current();
  await store.ready();
  draw();
}

// A filter over an index: shows only the entries that hold the words typed.
import { all, one } from "./dom.js";

function plain(text) {
  return text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
}

function filter(index, entries, words) {
  let found = 0;
  for (const { entry, text } of entries) {
    entry.hidden = !words.every((word) => text.includes(word));
    found += entry.hidden ? 0 : 1;
  }
  for (const group of all(".index-group", index)) group.hidden = !one(".index-entry:not([hidden])", group);
  one(".index-count", index).textContent = words.length ? `${found} / ${entries.length}` : "";
}

export function startIndexFilter() {
  for (const index of all("[data-index]")) {
    const box = one(".index-filter", index);
    if (!box) continue;
    const entries = all(".index-entry", index).map((entry) => ({ entry, text: plain(entry.textContent) }));
    box.hidden = false;
    one("input", box).addEventListener("input", ({ target }) => {
      filter(index, entries, plain(target.value).split(/\s+/).filter(Boolean));
    });
  }
}

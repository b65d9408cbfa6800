// The answer of a calculator on the page: the headline, the figures, the drawing, the notes.
import { element, one } from "./dom.js";
import { redraw } from "./redraw.js";
import { units } from "./units.js";
import { verdicts } from "./verdict.js";

/** The worst of all conclusions comes first, and stays in sight. */
export function showHeadline(root, { headline, conclusions = [], example }) {
  root.classList.toggle("is-sample", Boolean(example));
  const tone = (outcome) => outcome.replace("too close to call", "close-call");
  const place = one("[data-headline]", root);
  place.className = `headline ${headline ? tone(headline.outcome) : ""}`;
  for (const each of [place, one("[data-inview]", root)]) {
    each.hidden = !headline;
    one("b", each).textContent = headline?.text ?? "";
  }
  const rows = conclusions.map(({ outcome, label }) => {
    const row = element("li", "", tone(outcome));
    row.append(element("span", outcome.toUpperCase(), "mark"), " ", element("span", label));
    return row;
  });
  one("[data-conclusions]", root).replaceChildren(...rows);
}

export function showResults(place, results) {
  for (const part of place.querySelectorAll("[data-result]")) {
    const result = results[part.dataset.result];
    if (part.classList.contains("verdict")) {
      verdicts.show(part, result);
      continue;
    }
    part.dataset.si = result ? result.si : "";
    if (part.matches("span")) continue;
    part.hidden = !result;
    if (result) units.set(part.querySelector(".quantity"), result.us, result.metric);
  }
  for (const cell of place.querySelectorAll("[data-cell]")) {
    const result = results[cell.dataset.cell];
    const text = result ? result.all[Number(cell.dataset.place)] : "";
    if (cell.textContent !== text) cell.textContent = text;
  }
}

export function showDrawing(place, drawing) {
  const figure = place.querySelector(".drawing");
  figure.hidden = !drawing;
  redraw(figure, drawing);
}

export function showNotes(place, notes) {
  const list = place.querySelector(".notes");
  list.replaceChildren(...notes.map((note) => {
    const item = document.createElement("li");
    if (note.signal) {
      item.className = `note-${note.signal}`;
      const signal = document.createElement("strong");
      signal.textContent = note.signal.toUpperCase() + " ";
      item.append(signal);
    }
    item.append(note.text);
    return item;
  }));
}

export function showLinks(place, links, base) {
  const list = place.querySelector(".links");
  list.replaceChildren(...links.map((link) => {
    const anchor = document.createElement("a");
    const query = new URLSearchParams(link.fields);
    anchor.dataset.to = link.to;
    anchor.href = new URL(`${link.to}.html?${query}`, base).href;
    anchor.textContent = `${link.label}: ${link.title}`;
    const item = document.createElement("li");
    item.append(anchor);
    return item;
  }));
}

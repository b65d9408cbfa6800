// The cards that a script makes are templates of the book: texts stand there, or come from the
// engine; a script only puts them into their places.
import { all, element, one } from "./dom.js";

/** The template of a card: of this page, or of those that every page has. */
function templateOf(name) {
  const wanted = `template[data-card="${name}"]`;
  const own = one(wanted);
  if (own) return own;
  const shared = element("template");
  shared.innerHTML = window.baybook.data.work.cards;
  return one(wanted, shared.content);
}

/**
 * A filled copy of a template. A value may be a text, an element or a list of elements; a place
 * without one goes, and so does a place whose value is empty.
 * @param {string} name
 * @param {Record<string, any>} [values]
 * @returns {DocumentFragment}
 */
export function card(name, values = {}) {
  const copy = templateOf(name).content.cloneNode(true);
  for (const place of all("[data-slot]", copy)) {
    if (!(place.dataset.slot in values)) continue;
    const value = values[place.dataset.slot];
    if (isEmpty(value)) place.remove();
    else if (typeof value === "string") place.textContent = value;
    else if (value !== true) place.prepend(...[value].flat());
  }
  return copy;
}

function isEmpty(value) {
  return value === undefined || value === null || value === false || value === "" || value.length === 0;
}

/**
 * A line of leader dots: what was asked, and what was said.
 * @param {string} asked
 * @param {(string | Node)[]} said
 */
export function leader(asked, ...said) {
  const row = document.createElement("div");
  const parts = ["dt", "dd", "dd"].map((tag) => row.appendChild(document.createElement(tag)));
  parts[0].textContent = asked;
  parts[1].className = "dots";
  parts[1].setAttribute("aria-hidden", "true");
  parts[2].append(...said);
  return row;
}

/**
 * Writes a text into the places of the page that have a name.
 * @param {string} name
 * @param {string} text
 */
export function put(name, text) {
  for (const place of all(`[data-job="${name}"]`)) place.textContent = text;
}

/**
 * Shows a place of the page, or hides it.
 * @param {string} name
 * @param {boolean} shown
 */
export function show(name, shown) {
  for (const place of all(`[data-job="${name}"]`)) place.hidden = !shown;
}

/**
 * Says what went wrong, at the head of the job.
 * @param {string} text
 */
export function complain(text) {
  put("trouble-text", text);
  show("trouble", Boolean(text));
}

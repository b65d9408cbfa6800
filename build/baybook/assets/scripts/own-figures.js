// The places in which the figures of a car of one's own are typed.
import { element, one } from "./dom.js";
import { say } from "./words.js";

// The fields of a figure, by its shape: what a bound is called in the vehicle file.
const ENTRIES = { value: ["value"], between: ["least", "greatest"], "at-least": ["at-least"], "at-most": ["at-most"], text: ["text"], where: ["where"] };

/** @type {Record<string, "own-value" | "own-least" | "own-greatest" | "own-text" | "own-where">} */
const WORDS = { value: "own-value", least: "own-least", greatest: "own-greatest", "at-least": "own-least", "at-most": "own-greatest", text: "own-text", where: "own-where" };

/**
 * The place of a figure: what it is, why it is asked for, its entries, and what the book's cars have.
 * @param {string} name
 * @param {any} figure
 * @param {string[]} uses
 * @param {Record<string, string>} typed
 */
export function figurePlace(name, { says, shape, where, units, typical }, uses, typed) {
  const box = one("template[data-own-figure]").content.firstElementChild.cloneNode(true);
  one(".own-says", box).textContent = says;
  one(".own-why", box).textContent = uses.length ? say("own-why", { uses: uses.join("; ") }) : "";
  const fields = [...ENTRIES[shape], ...(where ? ["where"] : [])];
  one(".own-entries", box).append(...fields.map((entry) => entryLine(name, entry, says, units, typed[entry] ?? "")));
  one(".own-typical", box).hidden = !typical;
  one(".own-typical span", box).textContent = typical;
  return box;
}

function entryLine(name, entry, says, units, value) {
  const line = element("p", "", "own-field");
  const field = element("input");
  const id = `own-${name}-${entry}`;
  Object.assign(field, { id, type: "text", autocomplete: "off", value });
  Object.assign(field.dataset, { figure: name, entry });
  if (!["where", "text"].includes(entry)) field.placeholder = say("own-unit", { units });
  field.setAttribute("aria-describedby", `${id}-error`);
  field.setAttribute("aria-label", `${says}: ${say(WORDS[entry])}`);
  const label = element("label", say(WORDS[entry]));
  label.htmlFor = id;
  const error = element("span", "", "field-error");
  Object.assign(error, { id: `${id}-error`, hidden: true });
  error.dataset.error = `figures.${name}.${entry}`;
  line.append(label, " ", field, error);
  return line;
}

// A calculator's form: reads the fields, asks the page's Python, shows the answer.
import { showDrawing, showHeadline, showLinks, showNotes, showResults } from "./calculator-answer.js";
import { all, one } from "./dom.js";
import { showFolded } from "./folded-groups.js";
import { python } from "./python.js";
import { entryOf, forAddress } from "./record-entry.js";
import { units } from "./units.js";
import { say } from "./words.js";

const REST = 250; // a pause in the entries after which the address is written [ms]

// Whether an element can take a value of the address: a menu only what it offers, a tick yes or no.
function takes(element, value) {
  if (element.tagName === "SELECT") return [...element.options].some((option) => option.value === value);
  if (element.type === "hidden") return element.value === value;
  return element.type !== "checkbox" || value === "true" || value === "false";
}

class CalculatorForm {
  constructor(root) {
    this.root = root;
    this.name = root.dataset.calculator;
    this.form = root.querySelector("form");
    this.state = root.querySelector(".calculator-state");
    this.results = root.querySelector(".results");
    this.permalink = root.querySelector(".calculator-permalink");
    this.embedded = root.closest("details.embed");
    this.touched = new Set(); // names of the fields with an entry of the reader
    this.shown = {};
    this.unused = []; // what the address asks for and nothing here knows
    this.unanswered = null; // the entries whose calculation was stopped
    this.askedAgain = null;
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.form.addEventListener("input", (event) => this.changed(event.target));
    for (const taken of ["pointerdown", "focus"]) this.permalink.addEventListener(taken, () => this.setNow());
    python.onStatus((status, reason) => this.showStatus(status, reason));
  }

  begin() {
    this.showFields();
    this.open();
  }

  open() {
    const given = this.embedded ? null : this.fromAddress();
    if (this.embedded) this.embedded.dataset.used = "true";
    units.onChange(() => this.useSystem());
    python.start();
    if (given) {
      this.fill(given);
      this.showFields();
      this.compute();
    } else {
      this.useSystem();
    }
  }

  fromAddress() {
    const given = new URLSearchParams(location.search);
    const names = [...this.form.elements].map((element) => element.name);
    return names.some((name) => given.has(name)) ? given : null;
  }

  fill(given) {
    const fields = [...this.form.elements].filter((element) => element.name);
    for (const [name, value] of given) {
      const known = fields.some((element) => element.name === name && takes(element, value));
      if (!known && fields.some((element) => name.split(".")[0] === element.name.split(".")[0])) {
        this.unused.push(`${name}=${value.slice(0, 40)}`);
      }
    }
    for (const element of fields) {
      if (!given.has(element.name) || !takes(element, given.get(element.name))) continue;
      this.touch(element);
      if (element.type === "checkbox") element.checked = given.get(element.name) === "true";
      else this.setValue(element, given.get(element.name), given);
    }
  }

  // A value in the address may carry its unit: "20 inHg".
  setValue(element, value, given) {
    const unit = this.form.elements[`${element.name}.unit`];
    const words = value.trim().split(/\s+/);
    if (unit && words.length > 1 && !given.has(unit.name)) {
      const symbol = words.slice(1).join(" ");
      const known = unit.tagName === "SELECT" && [...unit.options].find((option) => option.value === symbol);
      if (known) {
        unit.value = symbol;
        element.value = words[0];
        return;
      }
    }
    element.value = value;
  }

  touch(element) {
    this.touched.add(element.name.replace(/\.unit$/, ""));
  }

  // Shows the built-in figures in the chosen system; an entry keeps its unit.
  useSystem() {
    const system = units.system();
    let changed = false;
    for (const element of this.form.querySelectorAll("input[data-us]")) {
      if (this.touched.has(element.name)) continue;
      const text = element.dataset[system];
      const unit = this.form.elements[`${element.name}.unit`];
      const symbol = element.dataset[system === "us" ? "unitUs" : "unitMetric"];
      if (!text || unit.value === symbol) continue;
      element.value = text;
      unit.value = symbol;
      changed = true;
    }
    showFolded(this.form);
    if (changed) this.compute();
  }

  changed(element) {
    this.unused = [];
    this.touch(element);
    this.showFields();
    this.compute();
  }

  fields() {
    const fields = {};
    for (const element of this.form.elements) {
      if (!element.name) continue;
      fields[element.name] = element.type === "checkbox" ? String(element.checked) : entryOf(element);
    }
    return fields;
  }

  // Shows only the fields that the choices ask for.
  showFields() {
    for (const field of this.form.querySelectorAll("[data-shown-by]")) {
      const choice = this.form.elements[field.dataset.shownBy].value;
      field.hidden = !field.dataset.shownFor.split(" ").includes(choice);
    }
    for (const group of all(".calc-group", this.form)) group.hidden = !one(".field:not([hidden])", group);
    showFolded(this.form);
  }

  async compute() {
    const fields = this.fields();
    try {
      const key = `${this.name}#${this.form.elements[0]?.id}`;
      const waiting = python.call({ method: "run", name: this.name, fields }, { key });
      this.setLater(fields);
      const answer = await waiting;
      if (answer) this.show(answer);
    } catch (error) {
      if (!error.replaced) this.stopped(error.message, JSON.stringify(fields));
    }
  }

  // The figures on the page are not those of the entries: it says so until they are.
  stopped(reason, entries) {
    this.unanswered = entries;
    this.pause(true);
    this.say(`${reason} ${say("results-paused")}`);
  }

  // Once Python runs again, the entries that it lost are asked for once more, and once only.
  askAgain() {
    if (!this.unanswered) {
      this.say("");
    } else if (this.askedAgain !== this.unanswered) {
      this.askedAgain = this.unanswered;
      this.compute();
    }
  }

  // The address is for later: writing it takes longer than the answer.
  setLater(fields) {
    clearTimeout(this.resting);
    this.resting = setTimeout(() => this.setAddress(fields), REST);
  }

  // Whoever takes the link at once gets the last entries too.
  setNow() {
    clearTimeout(this.resting);
    this.setAddress(this.fields());
  }

  setAddress(fields) {
    const query = new URLSearchParams(forAddress(fields)).toString();
    this.permalink.href = this.permalink.href.split("?")[0] + "?" + query;
    if (this.embedded) return;
    try {
      history.replaceState(null, "", "?" + query);
    } catch {
      // A page opened from a folder may not change its address; the link below carries it.
    }
  }

  show(answer) {
    this.unanswered = null;
    const errors = answer.errors || {};
    const failed = Object.keys(errors).length > 0;
    this.showIfNew("errors", errors);
    this.pause(failed);
    this.say(failed ? [errors[""], say("results-paused")].filter(Boolean).join(" ") : "");
    if (failed) return;
    this.results.hidden = false;
    showHeadline(this.root, answer);
    showResults(this.results, answer.results);
    this.showIfNew("notes", answer.notes);
    this.showIfNew("links", answer.links);
    requestAnimationFrame(() => this.showIfNew("drawing", answer.drawing)); // figures first
    this.root.dispatchEvent(new CustomEvent("baybook:answer", { bubbles: true, detail: answer }));
  }

  // Leaves alone what is on the page already.
  showIfNew(part, content) {
    const text = JSON.stringify(content);
    if (text === this.shown[part]) return;
    this.shown[part] = text;
    if (part === "errors") this.showErrors(content);
    else if (part === "drawing") showDrawing(this.results, content);
    else if (part === "notes") showNotes(this.results, content);
    else showLinks(this.results, content, this.permalink.href);
  }

  showErrors(errors) {
    for (const field of this.form.querySelectorAll(".field")) {
      const text = errors[field.dataset.field];
      const place = field.querySelector(".field-error");
      const entry = field.querySelector("input, select, textarea");
      place.hidden = !text;
      place.textContent = text || "";
      if (text) field.closest("details")?.setAttribute("open", "");
      entry.toggleAttribute("aria-invalid", Boolean(text));
      if (text) entry.setAttribute("aria-errormessage", place.id);
      else entry.removeAttribute("aria-errormessage");
    }
  }

  /** Figures of other entries than those that stand in the form are greyed. */
  pause(isPaused) {
    this.results.classList.toggle("results-paused", isPaused);
    this.root.classList.toggle("is-paused", isPaused);
  }

  say(said) {
    const unused = this.unused.length ? say("address-unused", { what: this.unused.join(", ") }) : "";
    const text = [said, unused].filter(Boolean).join(" ");
    if (this.state.textContent !== text) this.state.textContent = text;
  }

  showStatus(status, reason) {
    if (status === "loading") this.say(say("calculator-starts"));
    else if (status === "failed") this.say(say("calculator-failed", { reason }));
    else this.askAgain();
    this.root.dataset.python = status;
  }
}

// A form that was drawn inside a test just now.
function beginDrawn({ target }) {
  const form = new CalculatorForm(target);
  form.showFields();
  form.open();
  form.compute();
}

export function startCalculatorForm() {
  document.addEventListener("baybook:form", beginDrawn);
  for (const root of document.querySelectorAll(".calculator")) new CalculatorForm(root).begin();
}

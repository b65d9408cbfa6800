// The field on every page: finds while typing, by keyboard too, from a folder too. Its entries are
// read at the first key; its full text only when somebody asks for it, or nothing else is found.
import { car } from "./car.js";
import { all, button, element, one } from "./dom.js";
import { around, inText, SearchIndex } from "./search-query.js";
import { say } from "./words.js";

/** @type {Record<string, "find-procedure" | "find-calculator" | "find-test" | "find-part" | "find-car" | "find-text">} */
const HEADINGS = {
  procedure: "find-procedure",
  calculator: "find-calculator",
  test: "find-test",
  part: "find-part",
  car: "find-car",
  text: "find-text",
};
const TEXT_FOUND = 8; // sections of the full text that are named
const shards = { asked: new Map(), index: null, texts: null };

function shard(name) {
  if (!shards.asked.has(name)) shards.asked.set(name, car.script(`assets/search/${name}.js`));
  return shards.asked.get(name);
}

function read(name) {
  return window.baybook.data.search[name];
}

async function index() {
  if (shards.index) return shards.index;
  await Promise.all([shard("engine"), shard("first"), shard("parts")]);
  if (!shards.index) {
    const { minisearch } = window.baybook.data.libraries;
    shards.index = new SearchIndex(minisearch, read("first"));
    shards.index.add([...read("parts").entries, ...ownCars()]);
  }
  return shards.index;
}

/** The reader's own cars, as entries; each leads to the page on which it was entered. */
function ownCars() {
  return Object.entries(car.own())
    .filter(([, each]) => typeof each?.answered?.name === "string")
    .map(([id, { answered }]) => ({ k: "car", t: answered.name, b: answered.engine, to: `my-car.html?${new URLSearchParams({ car: id, edit: id })}`, car: id }));
}

async function texts() {
  const names = Array.from({ length: read("first").texts }, (_, at) => `text-${at}`);
  await Promise.all(names.map(shard));
  shards.texts ??= names.flatMap((name) => read(name).entries);
  return shards.texts;
}

/** The address of a procedure: its page for the chosen car, the first page for a place, its front. */
function addressOf(procedure, { place = "", codes = [] } = {}) {
  const query = codes.length ? `code=${codes.join(",")}` : "";
  const own = car.address(procedure, query);
  const { page } = read("first").procedures[procedure];
  const file = place && page ? page : "index";
  const other = `${window.baybook.root}procedures/${procedure}/${file}.html${query ? `?${query}` : ""}`;
  return (own ?? other) + (place ? `#${place}` : "");
}

function whereTo(entry) {
  if (entry.p) return addressOf(entry.p, { place: entry.h });
  if (entry.car) return `${window.baybook.root}${entry.to}`;
  return `${window.baybook.root}${entry.to}${entry.h ? `#${entry.h}` : ""}`;
}

class Finder {
  constructor(root, place) {
    this.id = `find-${place}`;
    this.isLarge = root.classList.contains("finder-large");
    this.root = root;
    this.field = element("input");
    Object.assign(this.field, { id: this.id, type: "search", autocomplete: "off", spellcheck: false });
    this.field.setAttribute("autocapitalize", "off");
    this.field.setAttribute("role", "combobox");
    this.field.setAttribute("aria-expanded", "false");
    this.field.setAttribute("aria-controls", `${this.id}-found`);
    this.field.setAttribute("aria-autocomplete", "list");
    this.field.placeholder = say("find-example");
    this.found = element("div", "", "finds");
    Object.assign(this.found, { id: `${this.id}-found`, hidden: true });
    this.found.setAttribute("role", "listbox");
    this.found.setAttribute("aria-label", say("find-found"));
    this.count = element("p", "", this.isLarge ? "finder-count" : "hide");
    this.count.setAttribute("role", "status");
    const label = element("label", say("find-label"), this.isLarge ? "label" : "hide");
    label.htmlFor = this.id;
    const box = element("div", "", "finder-box");
    box.append(this.field);
    root.classList.add("finder");
    root.setAttribute("role", "search");
    root.replaceChildren(label, box, this.found, this.count);
    this.chosen = -1;
    this.field.addEventListener("input", () => this.find());
    this.field.addEventListener("focus", () => index());
    this.field.addEventListener("keydown", (event) => this.key(event));
    document.addEventListener("click", (event) => {
      if (!root.contains(event.target)) this.close();
    });
    car.onChange(() => this.field.value && this.find());
  }

  close() {
    this.found.hidden = true;
    this.field.setAttribute("aria-expanded", "false");
  }

  async find(whole = false) {
    const typed = this.field.value;
    if (!typed.trim()) {
      this.count.textContent = "";
      this.close();
      return;
    }
    const book = await index();
    const found = book.find(typed, (procedure) => Boolean(car.chosen()?.pages[procedure]));
    const nothing = !found.groups.length && !found.strange.length;
    const strange = found.strange.length ? await this.strange(found.strange) : [];
    const sections = whole || nothing ? inText(await texts(), typed, book.small).slice(0, TEXT_FOUND) : [];
    if (typed !== this.field.value) return; // somebody typed on
    this.show(typed, found, strange, sections, whole || nothing);
  }

  // A code that the book does not have: what its signs say, and what serves that system.
  async strange(codes) {
    await shard("codes");
    const { titles, shapes } = read("codes");
    const { groups } = read("first");
    return codes.map((code) => ({
      code,
      says: titles[code] ? `${code} ${titles[code]}` : `${say("find-strange", { code })} ${code} ${shapes.sentences[shapes.prefixes[code.slice(0, 3)]]}.`,
      procedures: groups[code[0] + code[2]] ?? [],
    }));
  }

  show(typed, found, strange, sections, isWhole) {
    this.chosen = -1;
    this.field.removeAttribute("aria-activedescendant");
    const parts = [];
    for (const each of strange) parts.push(...this.strangeParts(each));
    if (found.unknown.length) parts.push(element("p", say("find-unknown", { words: found.unknown.join(", ") }), "note finds-note"));
    for (const { kind, entries } of found.groups) parts.push(...this.group(kind, entries, found.codes));
    if (sections.length) parts.push(...this.texts(sections, typed));
    if (!isWhole) parts.push(this.more());
    this.found.replaceChildren(...parts);
    const links = this.links();
    links.forEach((link, at) => {
      link.id = `${this.id}-${at}`;
    });
    this.found.hidden = false;
    this.field.setAttribute("aria-expanded", "true");
    this.count.textContent = links.length ? say("find-count", { count: links.length }) : say("find-nothing");
    if (!links.length) this.found.append(element("p", say("find-nothing"), "note finds-note"));
  }

  links() {
    return all("a", this.found);
  }

  heading(kind) {
    return element("h2", say(HEADINGS[kind] ?? "find-page"));
  }

  strangeParts({ says, procedures }) {
    const told = element("p", says, "note finds-note");
    if (!procedures.length) return [told];
    const links = procedures.slice(0, 5).map((procedure) => this.procedure({ procedure, codes: [], why: null }));
    return [told, element("h2", say("find-same-system")), ...links];
  }

  group(kind, entries, codes) {
    const links = entries.map((each) => (kind === "procedure" ? this.procedure(each) : this.entry(each.entry)));
    if (kind === "procedure" && codes.length) links[0].classList.add("result-best");
    return [this.heading(kind), ...links];
  }

  link(address, title, about, side = "") {
    const link = element("a", "", "result");
    link.href = address;
    link.tabIndex = -1;
    link.setAttribute("role", "option");
    const words = element("div");
    words.append(element("strong", title));
    if (about) words.append(element("span", about));
    link.append(words);
    if (side) link.append(element("em", side));
    return link;
  }

  procedure({ procedure, codes, why }) {
    const { title, system } = read("first").procedures[procedure];
    const told = codes.map((code) => `${code} ${read("first").codes[code].title}`).join("; ");
    const reason = why && why.t !== title && why.k !== "codes" ? why.t : "";
    const place = why && ["fault", "test"].includes(why.k) && !codes.length ? why.h : "";
    const serves = car.chosen()?.pages[procedure] ? car.chosen().name : "";
    return this.link(addressOf(procedure, { place, codes }), title, told || reason || system, serves);
  }

  entry(entry) {
    const about = entry.p ? read("first").procedures[entry.p].title : (entry.b ?? "");
    return this.link(whereTo(entry), entry.t, about);
  }

  texts(sections, typed) {
    const links = sections.map((entry) => this.link(whereTo(entry), `${entry.of}: ${entry.t}`, around(entry.b, typed)));
    return [this.heading("text"), ...links];
  }

  more() {
    return button(say("find-more"), () => this.find(true), "quiet finds-more");
  }

  key(event) {
    const links = this.links();
    if (event.key === "Escape") {
      this.field.value = "";
      this.find();
    } else if (event.key === "Enter" && links.length) {
      event.preventDefault();
      links[Math.max(0, this.chosen)].click();
    } else if ((event.key === "ArrowDown" || event.key === "ArrowUp") && links.length) {
      event.preventDefault();
      this.choose((this.chosen + (event.key === "ArrowDown" ? 1 : -1) + links.length) % links.length, links);
    }
  }

  choose(place, links) {
    this.chosen = place;
    links.forEach((link, at) => link.setAttribute("aria-selected", String(at === place)));
    this.field.setAttribute("aria-activedescendant", links[place].id);
    links[place].scrollIntoView({ block: "nearest" });
  }
}

// "/" goes to the field, as long as nobody types.
function bySlash(event) {
  if (event.key !== "/" || event.target.closest("input, textarea, select, [contenteditable]")) return;
  const field = one(".finder input");
  if (!field) return;
  event.preventDefault();
  field.focus();
}

export function startFinder() {
  const roots = all("[data-finder]");
  const home = roots.find((root) => root.classList.contains("finder-large"));
  roots.forEach((root, place) => {
    if (home && root !== home) root.hidden = true; // one field a page
    else new Finder(root, place);
  });
  document.addEventListener("keydown", bySlash);
}


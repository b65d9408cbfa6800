// The chosen car: fills its figures into the places of a page, and leads links to its pages.
import { all, element, one } from "./dom.js";
import { units } from "./units.js";

const KEY = "baybook.car";
const OWN = "baybook.cars";
const listeners = [];

function data() {
  return window.baybook.data;
}

/** The car that is chosen: id, name, engine, has, places; or null. */
function chosen() {
  return data().car;
}

/** What the chosen car answers to a place, or null. */
function place(key) {
  return chosen()?.places[key] ?? null;
}

function quantity([us, metric, both]) {
  const made = element("span", both ?? us, "quantity");
  if (us !== metric) {
    made.dataset.us = us;
    made.dataset.metric = metric;
  }
  return made;
}

function write(found) {
  return found.texts.map((text) => (typeof text === "string" ? document.createTextNode(text) : quantity(text)));
}

function fillFigure(span) {
  span.dataset.neutral ??= span.textContent;
  const found = place(span.dataset.figure);
  if (found) span.replaceChildren(...write(found));
  else span.textContent = span.dataset.neutral;
  span.classList.toggle("figure-missing", Boolean(chosen()) && !found);
}

function fillNames(root) {
  for (const span of all(".of-car", root)) {
    span.dataset.neutral ??= span.textContent;
    span.textContent = chosen()?.[span.dataset.car] ?? span.dataset.neutral;
  }
}

// A reading is taken in the units of the car's figure.
function fillUnits(root) {
  for (const reading of all(".observation-reading[data-limit]", root)) {
    const found = place(reading.dataset.limit);
    const select = one("select[name$='.unit']", reading);
    if (!found || !select) continue;
    const [us, metric] = found.units;
    if (select.dataset.unitUs === us && select.dataset.unitMetric === metric) continue;
    select.dataset.unitUs = us;
    select.dataset.unitMetric = metric;
    [...select.options].forEach((option, at) => {
      option.value = found.units[at];
      option.textContent = found.labels[at];
    });
  }
}

/** The address of a procedure's page for the chosen car, with the query of another address. */
function address(procedure, query = "") {
  const page = chosen()?.pages[procedure];
  if (!page) return null;
  const words = new URLSearchParams(query);
  words.set("car", chosen().id);
  return `${window.baybook.root}procedures/${procedure}/${page}.html?${words}`;
}

// A link to a procedure leads to the page for the chosen car; what does not serve it stays as it is.
function leadLinks(root) {
  for (const link of all("a[data-procedure]", root)) {
    link.dataset.front ??= link.getAttribute("href");
    const [path, query] = link.dataset.front.split("?");
    link.href = address(link.dataset.procedure, query) ?? (query ? `${path}?${query}` : path);
    const item = link.closest("[data-leads-on]");
    if (item) item.hidden = Boolean(chosen()) && !chosen().pages[link.dataset.procedure];
  }
  for (const link of all("a[data-choose]", root)) {
    link.toggleAttribute("aria-current", link.dataset.choose === chosen()?.id);
  }
}

function fill(root = document) {
  for (const span of all(".figure[data-figure]", root)) fillFigure(span);
  fillNames(root);
  fillUnits(root);
  leadLinks(root);
  units.writeAll(root);
}

// Says that a page is for other equipment than the car has, and leads to the car's own page.
function tellOther() {
  const told = one(".car-other");
  if (!data().page || !told) return;
  const { procedure, equipment } = data().page;
  const page = chosen()?.pages[procedure];
  const differs = chosen()?.differs?.[procedure] ?? "";
  one(".car-differs").textContent = differs;
  one(".car-differs").hidden = !differs;
  told.hidden = !chosen() || page === equipment;
  const other = address(procedure, location.search);
  if (other) one(".car-other-page", told).href = other + location.hash;
}

// Marks the page, by which its style shows whose figures they are.
function mark() {
  const { dataset } = document.documentElement;
  dataset.car = chosen()?.id ?? "";
  one("[data-car-chip]").hidden = !chosen();
  for (const name of ["invented", "own"]) {
    if (chosen()?.[name]) dataset[name] = "";
    else delete dataset[name];
  }
  footOnPaper();
}

/** The foot of a procedure on paper says whose figures it shows. */
function footOnPaper() {
  const name = one(".procedure") && chosen()?.name;
  const said = name ? JSON.stringify(` ${name}.`.replaceAll("\\", "")) : '""';
  document.documentElement.style.setProperty("--of-car", said);
}

function tell() {
  mark();
  fill();
  tellOther();
  for (const listener of listeners) listener(chosen());
  document.dispatchEvent(new CustomEvent("baybook:car", { detail: chosen() }));
}

function remember(id) {
  try {
    sessionStorage.setItem(KEY, id);
  } catch {
    // Not remembered: the choice still holds on this page.
  }
}

/** The reader's own cars by id, as they are kept in this browser. */
function own() {
  try {
    return JSON.parse(localStorage.getItem(OWN)) ?? {};
  } catch {
    return {};
  }
}

function load(id) {
  if (id.startsWith("my-")) {
    const found = own()[id];
    if (found?.answered) window.baybook.take.car({ ...found.answered, id, own: true });
    return Promise.resolve();
  }
  return script(`cars/${id}.js`);
}

/** Loads a script of the book by its address below the book's root. */
function script(uri) {
  return new Promise((resolve, reject) => {
    const made = document.createElement("script");
    made.src = window.baybook.root + uri;
    made.addEventListener("load", resolve);
    made.addEventListener("error", () => reject(new Error(uri)));
    document.head.append(made);
  });
}

/** Chooses a car (or none, by an empty id), remembers it, and fills the page. */
async function choose(id) {
  remember(id);
  if (id === (chosen()?.id ?? "")) return;
  data().car = null;
  if (id) await load(id);
  tell();
}

export const car = { address, choose, chosen, fill, onChange: (listener) => listeners.push(listener), own, place, script };

export function startCar() {
  tell();
  document.documentElement.classList.remove("car-waits");
}

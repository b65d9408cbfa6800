// A car of one's own: entered in words, checked by the book's Python, kept in this browser, saved
// and loaded as the vehicle file that an author writes.
import { car } from "./car.js";
import { all, button, element, one } from "./dom.js";
import { figurePlace } from "./own-figures.js";
import { python } from "./python.js";
import { say } from "./words.js";

const OWN = "baybook.cars";
const REST = 400; // a pause in the entries after which they are checked [ms]

function write(cars) {
  try {
    localStorage.setItem(OWN, JSON.stringify(cars));
    return true;
  } catch {
    return false;
  }
}

function idOf(name) {
  const words = name.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/[^a-z0-9]+/g, "-");
  return `my-${words.replace(/^-+|-+$/g, "").slice(0, 40) || "car"}`;
}

class OwnCar {
  constructor(root, catalog) {
    this.root = root;
    this.catalog = catalog;
    this.form = one("form", root);
    this.figures = {}; // what is typed, by figure and field
    this.id = "";
    this.answer = null;
    one(".own-needs-script", root).hidden = true;
    this.form.hidden = false;
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.keep();
    });
    this.form.addEventListener("input", ({ target }) => this.typed(target));
    one("[data-own=file]", root).addEventListener("click", () => this.save());
    one("[data-own=load]", root).addEventListener("change", ({ target }) => this.load(target.files[0]));
    one("#own-procedure", root).addEventListener("change", () => this.drawFigures());
    const wanted = new URLSearchParams(location.search);
    this.wanted = wanted.get("procedure") ?? "";
    const kept = car.own()[wanted.get("edit") ?? ""];
    if (kept) this.fill(kept.vehicle, wanted.get("edit"), kept.vin);
    else if (this.wanted in catalog.procedures) this.tick(catalog.procedures[this.wanted].needs);
    this.list();
    this.check();
  }

  field(name) {
    return one(`[data-field=${name}]`, this.form);
  }

  tick(has) {
    for (const box of all("[data-has]", this.form)) box.checked = has.includes(box.dataset.has);
  }

  typed(target) {
    const { figure, entry } = target.dataset;
    if (figure) {
      this.figures[figure] ??= {};
      this.figures[figure][entry] = target.value;
    }
    if (target.dataset.field === "vin") this.checkVin();
    clearTimeout(this.resting);
    this.resting = setTimeout(() => this.check(), REST);
  }

  /** The car as a vehicle file has it; empty entries are left out. */
  vehicle() {
    const name = [this.field("make").value.trim(), this.field("model").value.trim()].filter(Boolean).join(" ");
    const has = all("[data-has]:checked", this.form).map((box) => box.dataset.has);
    const figures = {};
    for (const [id, typed] of Object.entries(this.figures)) {
      const figure = this.figureOf(id, typed);
      if (figure) figures[id] = figure;
    }
    return { name, engine: this.field("engine").value.trim(), has, figures };
  }

  figureOf(id, typed) {
    const given = Object.fromEntries(Object.entries(typed).filter(([, text]) => text?.trim()).map(([entry, text]) => [entry, text.trim()]));
    if (!Object.keys(given).length) return null;
    const { least, greatest, ...rest } = given;
    /** @type {any} */
    const figure = { says: this.catalog.figures[id]?.says ?? this.said?.[id] ?? id, ...rest };
    if (least && greatest) figure.between = [least, greatest];
    else if (least) figure["at-least"] = least;
    else if (greatest) figure["at-most"] = greatest;
    return figure;
  }

  fill(vehicle, id, vin = "") {
    const [make, ...model] = (vehicle.name ?? "").split(" ");
    this.field("make").value = make;
    this.field("model").value = model.join(" ");
    this.field("engine").value = vehicle.engine ?? "";
    this.field("vin").value = vin;
    this.tick(vehicle.has ?? []);
    this.id = id;
    this.figures = {};
    this.said = {};
    for (const [name, { says, between, ...rest }] of Object.entries(vehicle.figures ?? {})) {
      this.said[name] = says;
      const shape = this.catalog.figures[name]?.shape;
      const bounds = between ? { least: between[0], greatest: between[1] } : {};
      if (shape === "between") Object.assign(bounds, { least: bounds.least ?? rest["at-least"], greatest: bounds.greatest ?? rest["at-most"] });
      this.figures[name] = { ...rest, ...bounds };
    }
  }

  async check() {
    const vehicle = this.vehicle();
    try {
      const answer = await python.call({ method: "car", vehicle, catalog: this.catalog }, { key: "own-car" });
      if (!answer) return null;
      this.answer = answer;
      this.show();
      return answer;
    } catch (error) {
      this.say(error.message);
      return null;
    }
  }

  async checkVin() {
    const told = one("#own-vin-told", this.root);
    const number = this.field("vin").value.trim();
    if (!number) {
      told.textContent = "";
      return;
    }
    const answer = await python.call({ method: "run", name: "vin", fields: { number } }, { key: "own-vin" });
    if (!answer) return;
    const { finding, model_year: year } = answer.results ?? {};
    told.textContent = answer.results ? [finding?.us, year ? say("own-model-year", { year: year.us }) : ""].filter(Boolean).join(" ") : Object.values(answer.errors).join(" ");
  }

  show() {
    const { serving } = this.answer;
    one(".own-none", this.root).hidden = serving.length > 0;
    one(".own-serving", this.root).replaceChildren(...serving.map((each) => this.servingItem(each)));
    const select = one("#own-procedure", this.root);
    const chosen = select.value || this.wanted;
    select.replaceChildren(...serving.map(({ procedure, title }) => new Option(title, procedure, false, procedure === chosen)));
    if (select.value !== this.drawn) this.drawFigures();
    this.showErrors();
  }

  servingItem({ procedure, title, page, differs, open }) {
    const item = element("li");
    const kept = this.id && car.own()[this.id];
    if (page && kept) {
      const link = element("a", title);
      link.href = `procedures/${procedure}/${page}.html?car=${this.id}`;
      item.append(link);
    } else {
      item.append(element("b", title));
    }
    if (open.length) item.append(element("span", ` ${say("own-open", { count: open.length })}`, "note"));
    if (differs) item.append(element("p", differs, "note"));
    return item;
  }

  drawFigures() {
    const select = one("#own-procedure", this.root);
    this.drawn = select.value;
    const procedure = this.catalog.procedures[select.value];
    const names = procedure ? Object.keys(procedure.figures) : [];
    one(".own-figures", this.root).replaceChildren(...names.map((name) => figurePlace(name, this.catalog.figures[name], procedure.figures[name], this.figures[name] ?? {})));
    this.showErrors();
  }

  showErrors() {
    const errors = this.answer?.errors ?? {};
    const isStarted = this.vehicle().name || this.vehicle().engine;
    for (const place of all("[data-error]", this.root)) {
      const text = errors[place.dataset.error] ?? "";
      const isBare = ["name", "engine"].includes(place.dataset.error) && !isStarted;
      place.hidden = !text || isBare;
      place.textContent = isBare ? "" : text;
      one("input", place.parentElement)?.toggleAttribute("aria-invalid", Boolean(text) && !isBare);
    }
  }

  say(text) {
    one("[data-own=told]", this.root).textContent = text;
  }

  async keep() {
    const answer = await this.check();
    if (!answer) return;
    if (Object.keys(answer.errors).length) {
      this.say(say("own-mistakes"));
      one("[aria-invalid]", this.form)?.focus();
      return;
    }
    const vehicle = this.vehicle();
    const cars = car.own();
    const id = this.id || this.freeId(idOf(vehicle.name), cars);
    cars[id] = { vehicle, vin: this.field("vin").value.trim(), answered: answer.answered };
    if (!write(cars)) {
      this.say(say("storage-denied"));
      return;
    }
    this.id = id;
    this.say(say("own-is-kept"));
    await car.choose("");
    await car.choose(id);
    this.list();
    this.show();
  }

  freeId(id, cars) {
    let free = id;
    for (let more = 2; free in cars; more += 1) free = `${id}-${more}`;
    return free;
  }

  list() {
    const cars = Object.entries(car.own());
    one(".own-kept", this.root).hidden = !cars.length;
    one(".own-list", this.root).replaceChildren(...cars.map(([id, { vehicle }]) => this.keptItem(id, vehicle)));
  }

  keptItem(id, vehicle) {
    const item = element("li");
    const link = element("a", vehicle.name);
    link.href = `?edit=${id}`;
    const drop = button(say("own-drop"), () => {
      if (!window.confirm(say("own-drop-sure", { name: vehicle.name }))) return;
      const cars = car.own();
      delete cars[id];
      write(cars);
      if (this.id === id) this.id = "";
      this.list();
    }, "quiet");
    item.append(link, " ", vehicle.engine, " ", drop);
    return item;
  }

  async yaml() {
    if (!window.baybook.data.libraries["js-yaml"]) await car.script("assets/cars/yaml.js");
    return window.baybook.data.libraries["js-yaml"];
  }

  async save() {
    const answer = await this.check();
    const { dump } = await this.yaml();
    const vehicle = this.vehicle();
    if (answer && Object.keys(answer.errors).length) this.say(say("own-mistakes"));
    const link = element("a");
    link.href = URL.createObjectURL(new Blob([dump(vehicle, { flowLevel: 2, lineWidth: -1 })], { type: "text/yaml" }));
    link.download = `${idOf(vehicle.name).replace(/^my-/, "")}.yml`;
    link.click();
    URL.revokeObjectURL(link.href);
  }

  async load(file) {
    if (!file) return;
    const { load } = await this.yaml();
    let vehicle = null;
    try {
      vehicle = load(await file.text());
    } catch {
      vehicle = null;
    }
    if (typeof vehicle?.name !== "string" || typeof (vehicle.figures ?? {}) !== "object") {
      this.say(say("own-foreign"));
      return;
    }
    this.fill(vehicle, "");
    this.drawn = null;
    this.say(say("own-loaded"));
    await this.check();
  }
}

export async function startOwnCar() {
  const root = one("[data-own-car]");
  if (!root) return;
  await car.script("assets/cars/catalog.js");
  new OwnCar(root, window.baybook.data.catalog);
}

// A calculator inside a test: drawn when it is opened, with the figures of the car filled in.
import { car } from "./car.js";
import { all, one } from "./dom.js";
import { units } from "./units.js";

const PREFIX = "id-of-the-form-";

// An entry of both unit systems, or a text, into the fields of a form.
function enter(form, name, given) {
  const field = form.elements[name];
  if (!field) return;
  if (typeof given === "string") {
    if (field.type === "checkbox") field.checked = given === "true";
    else field.value = given;
    return;
  }
  field.dataset.us = given.us;
  field.dataset.metric = given.metric;
  field.dataset.unitUs = given.unit_us;
  field.dataset.unitMetric = given.unit_metric;
  const system = units.system();
  field.value = given[system];
  const unit = form.elements[`${name}.unit`];
  if (unit) unit.value = system === "us" ? given.unit_us : given.unit_metric;
}

function enterAll(box, form) {
  const { given, places } = box.dataset;
  for (const [name, entry] of Object.entries(JSON.parse(given))) enter(form, name, entry);
  for (const [name, key] of Object.entries(JSON.parse(places))) {
    enter(form, name, car.place(key) ?? { us: "", metric: "", unit_us: unitOf(form, name), unit_metric: unitOf(form, name) });
  }
}

function unitOf(form, name) {
  return form.elements[`${name}.unit`]?.value ?? "";
}

async function draw(box) {
  const { calculator, prefix } = box.dataset;
  const { forms } = window.baybook.data;
  if (!forms[calculator]) await car.script(`assets/calculators/${calculator}.js`);
  const place = one(".embed-place", box);
  const address = one("a", place).getAttribute("href");
  place.innerHTML = forms[calculator].replaceAll(PREFIX, prefix);
  const root = one(".calculator", place);
  one(".calculator-permalink", root).href = address;
  enterAll(box, one("form", root));
  root.dispatchEvent(new CustomEvent("baybook:form", { bubbles: true }));
}

export function startEmbed() {
  for (const box of all("details.embed[data-calculator]")) {
    one("summary", box).addEventListener("click", () => draw(box), { once: true });
  }
}

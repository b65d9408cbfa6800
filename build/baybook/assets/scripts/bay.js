// The reader's place and gauges, kept in this browser; readings are judged with them.
import { all, one } from "./dom.js";
import { units } from "./units.js";

const KEY = "baybook.bay";
const listeners = [];
const kept = read();

function read() {
  try {
    const found = JSON.parse(localStorage.getItem(KEY));
    return { altitude: String(found?.altitude ?? ""), gauges: Object(found?.gauges) };
  } catch {
    return { altitude: "", gauges: {} };
  }
}

function keep() {
  try {
    localStorage.setItem(KEY, JSON.stringify(kept));
  } catch {
    // Not kept: it still holds on this page.
  }
  for (const listener of listeners) listener();
}

function unit() {
  return units.system() === "us" ? "ft" : "m";
}

// A number alone is meant in the system that is shown, and stays so when it is switched.
function withUnit(text) {
  return /^-?[\d.,\s]+$/.test(text) ? `${text} ${unit()}` : text;
}

function altitude() {
  return withUnit(kept.altitude.trim());
}

function gauge(tool, kind) {
  return kept.gauges[`${tool}/${kind}`] ?? {};
}

function tie(entry, get, set) {
  entry.value = get() ?? "";
  entry.addEventListener("change", () => {
    set(entry.value.trim());
    entry.value = get() ?? "";
    keep();
  });
}

export function startBay() {
  const place = one("[data-bay=altitude]");
  if (place) {
    tie(place, () => kept.altitude, (text) => (kept.altitude = withUnit(text)));
    const example = () => (place.placeholder = `0 ${unit()}`);
    units.onChange(example);
    example();
  }
  for (const row of all("[data-gauge]")) {
    const name = row.dataset.gauge;
    for (const entry of all("[data-bay]", row)) {
      tie(
        entry,
        () => kept.gauges[name]?.[entry.dataset.bay],
        (text) => (kept.gauges[name] = { ...kept.gauges[name], [entry.dataset.bay]: text }),
      );
    }
  }
}

export const bay = { altitude, gauge, onChange: (listener) => listeners.push(listener) };

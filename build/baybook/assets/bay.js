// The reader's place and gauges, kept in this browser; readings are judged with them.
window.baybookBay = (() => {
  "use strict";
  const KEY = "baybook.bay";
  let kept = read();

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
    window.baybookReadings.judgeAgain();
  }

  function altitude() {
    const text = kept.altitude.trim();
    const bare = /^[\d.,\s]+$/.test(text);
    return bare ? `${text} ${window.baybookUnits.system() === "us" ? "ft" : "m"}` : text;
  }

  function gauge(tool, kind) {
    return kept.gauges[`${tool}/${kind}`] ?? {};
  }

  function tie(entry, get, set) {
    entry.value = get() ?? "";
    entry.addEventListener("change", () => {
      set(entry.value.trim());
      keep();
    });
  }

  function start() {
    const place = document.querySelector("[data-bay=altitude]");
    if (place) tie(place, () => kept.altitude, (text) => (kept.altitude = text));
    for (const row of document.querySelectorAll("[data-gauge]")) {
      const name = row.dataset.gauge;
      for (const entry of row.querySelectorAll("[data-bay]")) {
        tie(
          entry,
          () => kept.gauges[name]?.[entry.dataset.bay],
          (text) => (kept.gauges[name] = { ...kept.gauges[name], [entry.dataset.bay]: text }),
        );
      }
    }
  }

  document.addEventListener("DOMContentLoaded", start);
  return { altitude, gauge };
})();

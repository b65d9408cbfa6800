// The field of the home page: results while typing, by keyboard too, from a folder too.
(() => {
  "use strict";
  const MOST = 12;

  // "P 0411" and "p0411" are the same code; accents and case do not matter.
  function plain(text) {
    const folded = text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
    return folded.replace(/\b([pbcu])\s*([0-3][0-9a-f]{0,3})\b/g, "$1$2");
  }

  function score(entry, words) {
    let total = 0;
    for (const word of words) {
      if (entry.plainText.startsWith(word)) total += 8;
      else if (entry.plainText.includes(` ${word}`)) total += 5;
      else if (entry.plainText.includes(word)) total += 3;
      else if (entry.plainAbout.includes(word)) total += 1;
      else return 0;
    }
    return total + (entry.kind === "procedure" ? 1 : 0);
  }

  class Finder {
    constructor(root) {
      this.field = root.querySelector(".finder-field");
      this.found = root.querySelector(".finder-found");
      this.count = root.querySelector(".finder-count");
      this.chosen = -1;
      this.entries = JSON.parse(root.querySelector("script").textContent).map((entry) => ({
        ...entry,
        plainText: plain(entry.text),
        plainAbout: plain(`${entry.about} ${entry.words} ${entry.kind}`),
      }));
      this.field.addEventListener("input", () => this.find());
      this.field.addEventListener("keydown", (event) => this.key(event));
      this.find();
    }

    find() {
      const words = plain(this.field.value).split(/\s+/).filter(Boolean);
      const ranked = words.length
        ? this.entries
            .map((entry) => [score(entry, words), entry])
            .filter(([points]) => points > 0)
            .sort((one, two) => two[0] - one[0])
        : [];
      this.chosen = -1;
      this.found.replaceChildren(...ranked.slice(0, MOST).map(([, entry], place) => this.item(entry, place)));
      this.field.setAttribute("aria-expanded", String(ranked.length > 0));
      this.field.removeAttribute("aria-activedescendant");
      this.count.textContent = words.length ? this.sentence(ranked.length) : "";
    }

    sentence(number) {
      if (number === 0) return "Nothing found. Try the code, one word of the complaint, or a part.";
      return number > MOST ? `${number} found; the ${MOST} nearest are shown.` : `${number} found.`;
    }

    item(entry, place) {
      const item = document.createElement("li");
      item.id = `finder-found-${place}`;
      item.setAttribute("role", "option");
      const link = document.createElement("a");
      link.href = entry.to;
      link.tabIndex = -1;
      const kind = document.createElement("span");
      kind.className = "finder-kind";
      kind.textContent = entry.kind;
      const text = document.createElement("strong");
      text.textContent = entry.text;
      const about = document.createElement("span");
      about.className = "finder-about";
      about.textContent = entry.about;
      link.append(kind, " ", text, " ", about);
      item.append(link);
      return item;
    }

    key(event) {
      const items = [...this.found.children];
      if (event.key === "Escape") {
        this.field.value = "";
        this.find();
      } else if (event.key === "Enter" && items.length) {
        items[Math.max(0, this.chosen)].querySelector("a").click();
      } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
        event.preventDefault();
        if (items.length === 0) return;
        const step = event.key === "ArrowDown" ? 1 : -1;
        this.choose((this.chosen + step + items.length) % items.length, items);
      }
    }

    choose(place, items) {
      this.chosen = place;
      items.forEach((item, at) => item.setAttribute("aria-selected", String(at === place)));
      this.field.setAttribute("aria-activedescendant", items[place].id);
      items[place].scrollIntoView({ block: "nearest" });
    }
  }

  document.addEventListener("DOMContentLoaded", () => {
    for (const root of document.querySelectorAll(".finder")) new Finder(root);
  });
})();

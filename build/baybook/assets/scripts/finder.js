// The field of the home page: results while typing, by keyboard too, from a folder too.
const MOST = 12;

// "P 0411" and "p0411" are the same code; accents and case do not matter.
function plain(text) {
  const folded = text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  return folded.replace(/\b([pbcu])\s*([0-3][0-9a-f]{0,3})\b/g, "$1$2");
}

const SMALL = new Set(["a", "an", "and", "at", "in", "is", "it", "my", "of", "on", "the"]);

// What is looked for: small words do not count, "hums" is found as "hum".
function wordsOf(text) {
  const typed = plain(text).split(/\s+/).filter(Boolean);
  const telling = typed.filter((word) => !SMALL.has(word));
  return (telling.length ? telling : typed).map((word) => (/[a-z]{2,}[^s]s$/.test(word) ? word.slice(0, -1) : word));
}

function points(entry, word) {
  if (entry.plainText.startsWith(word)) return 8;
  if (entry.plainText.includes(` ${word}`)) return 5;
  if (entry.plainText.includes(word)) return 3;
  // A code that leads nowhere is found by itself only, not by the words of its title.
  return entry.leads !== false && entry.plainAbout.includes(word) ? 1 : 0;
}

function score(entry, words) {
  const each = words.map((word) => points(entry, word));
  const total = each.reduce((sum, more) => sum + more, entry.kind === "procedure" ? 4 : 0);
  return { entry, total, matched: each.filter((more) => more > 0).length };
}

// Entries with all words; where none has, those with the most of them, half at least.
function ranked(entries, words) {
  const scored = entries.map((entry) => score(entry, words));
  const most = Math.max(0, ...scored.map(({ matched }) => matched));
  if (most === 0 || most < words.length / 2) return [];
  return scored.filter(({ matched }) => matched === most).sort((one, two) => two.total - one.total);
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
    const words = wordsOf(this.field.value);
    const found = ranked(this.entries, words);
    this.chosen = -1;
    this.found.replaceChildren(...found.slice(0, MOST).map(({ entry }, place) => this.item(entry, place)));
    this.field.setAttribute("aria-expanded", String(found.length > 0));
    this.field.removeAttribute("aria-activedescendant");
    this.count.textContent = words.length ? this.sentence(found.length) : "";
  }

  sentence(number) {
    if (number === 0) return "Nothing found. Try the code, one word of the complaint, or a part.";
    return number > MOST ? `${number} found; the ${MOST} nearest are shown.` : `${number} found.`;
  }

  item(entry, place) {
    const item = document.createElement("li");
    item.setAttribute("role", "none");
    const link = document.createElement("a");
    link.id = `finder-found-${place}`;
    link.setAttribute("role", "option");
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
    const items = [...this.found.querySelectorAll("a")];
    if (event.key === "Escape") {
      this.field.value = "";
      this.find();
    } else if (event.key === "Enter" && items.length) {
      items[Math.max(0, this.chosen)].click();
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

export function startFinder() {
  for (const root of document.querySelectorAll(".finder")) new Finder(root);
}

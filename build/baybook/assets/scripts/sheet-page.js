// @ts-nocheck
// The page of the bench sheets: open one, save it as a file, load one, print it, put it away.
import { sheetFile } from "./sheet-file.js";
import { sheets } from "./sheet-store.js";
import { units } from "./units.js";

function element(name, text = "", className = "") {
  const made = document.createElement(name);
  made.textContent = text;
  if (className) made.className = className;
  return made;
}

function when(time) {
  return new Date(time).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
}

const WORDS = {
  code: (event) => ["Code", `${event.code} ${event.title ?? ""}`, event.stored ? "stored" : "not stored"],
  result: (event) => [event.testTitle, resultText(event), event.outcome.toUpperCase()],
  skipped: (event) => [event.testTitle, "could not be done", ""],
  repair: (event) => ["Repaired", [event.says, event.fitted].filter(Boolean).join(": "), "FITTED"],
  recheck: (event) => ["Proof of the repair", event.text ?? "", event.result.toUpperCase()],
};

function resultText(event) {
  const gauge = event.gauge ? ` (read with the ${event.gauge})` : "";
  const figures = event.figures ? ` ${event.figures[units.system()]}` : "";
  return `${event.asked} ${event.text}${gauge}.${figures}`;
}

// One line for each entry; the day stands above its first one, a test's name at its first result.
function rows(sheet) {
  const made = [];
  let day = "";
  let before = "";
  for (const event of sheet.events) {
    const today = new Date(event.at).toLocaleDateString([], { dateStyle: "long" });
    if (today !== day) {
      const head = element("tr");
      const cell = element("th", today, "sheet-day");
      cell.colSpan = 4;
      cell.scope = "rowgroup";
      head.append(cell);
      made.push(head);
      day = today;
      before = "";
    }
    const [what, text, outcome] = WORDS[event.type](event);
    const time = new Date(event.at).toLocaleTimeString([], { timeStyle: "short" });
    const row = element("tr");
    row.append(element("td", time), element("td", what === before ? "" : what), element("td", text), element("td", outcome, "sheet-outcome"));
    before = what;
    made.push(row);
  }
  return made;
}

function table(sheet) {
  const made = element("table", "", "sheet-table");
  const head = element("tr");
  for (const title of ["When", "What", "Found", "Verdict"]) {
    const cell = element("th", title);
    cell.scope = "col";
    head.append(cell);
  }
  made.append(element("thead"), element("tbody"));
  made.tHead.append(head);
  made.tBodies[0].append(...rows(sheet));
  return made;
}

function titleOf(sheet) {
  return `Bench sheet: ${sheet.car || sheet.vehicleName}`;
}

function content(sheet) {
  return JSON.stringify([sheet.car, sheet.remarks, sheet.events]);
}

class SheetPage {
  constructor(root) {
    this.list = root.querySelector(".sheet-list");
    this.shown = root.querySelector(".sheet-shown");
    this.message = root.querySelector(".sheet-message");
    root.querySelector(".sheet-load").addEventListener("change", (event) => this.load(event.target));
    sheets.onChange(() => this.draw());
    units.onChange(() => this.draw());
    this.chosen = new URLSearchParams(location.search).get("sheet") ?? sheets.current();
    this.draw();
  }

  say(text) {
    this.message.textContent = text;
    this.message.hidden = !text;
  }

  async load(field) {
    const [file] = field.files;
    if (!file) return;
    const { sheet, problem } = await sheetFile.load(file);
    field.value = "";
    if (problem) {
      this.say(`${problem} Nothing was changed.`);
      return;
    }
    const kept = sheets.get(sheet.id);
    if (kept && content(kept) !== content(sheet)) {
      sheet.id = `${sheet.id}-loaded-${Date.now()}`;
      this.say("A sheet of the same job was here already: the loaded one stands beside it.");
    } else {
      this.say("Loaded.");
    }
    this.chosen = sheet.id;
    sheets.put(sheet);
  }

  draw() {
    const kept = sheets.all();
    if (sheets.trouble()) this.say(sheets.trouble());
    this.list.replaceChildren(...kept.map((sheet) => this.item(sheet)));
    if (this.typing) return; // what is typed into stays, and so does the focus
    const sheet = kept.find((each) => each.id === this.chosen) ?? sheets[0];
    if (sheet) this.show(sheet);
    else this.shown.replaceChildren(element("p", "No sheet yet. It begins with the first entry in a procedure."));
  }

  item(sheet) {
    const item = element("li");
    const open = element("button", `${sheet.car || "Car without a name"}, ${sheet.vehicleName}, ${when(sheet.changed)}`, "sheet-open");
    open.type = "button";
    open.setAttribute("aria-pressed", String(sheet.id === this.chosen));
    open.addEventListener("click", () => {
      this.chosen = sheet.id;
      sheets.setCurrent(sheet.id);
      this.draw();
    });
    item.append(open);
    return item;
  }

  show(sheet) {
    this.title = element("h2", titleOf(sheet));
    const facts = element("p", `${sheet.vehicleName}. Begun ${when(sheet.begun)}, last entry ${when(sheet.changed)}.`);
    this.shown.replaceChildren(this.title, facts, ...this.fields(sheet), table(sheet), this.buttons(sheet));
  }

  fields(sheet) {
    return [
      ["car", "Car (plate, owner, order number)", "input"],
      ["remarks", "Remarks", "textarea"],
    ].map(([name, label, tag]) => {
      const field = element("label", label, "sheet-field");
      const entry = element(tag);
      entry.name = name;
      entry.value = sheet[name];
      entry.addEventListener("change", () => {
        sheet[name] = entry.value;
        this.typing = true;
        sheets.put(sheet);
        this.typing = false;
        this.title.textContent = titleOf(sheet);
      });
      field.append(entry);
      return field;
    });
  }

  buttons(sheet) {
    const place = element("p", "", "sheet-buttons");
    const add = (text, action) => {
      const button = element("button", text);
      button.type = "button";
      button.addEventListener("click", action);
      place.append(button, " ");
    };
    add("Print", () => window.print());
    add("Save as a file", () => sheetFile.save(sheet));
    add("Delete", () => {
      if (window.confirm("Delete this bench sheet for good? Save it as a file first if it may be needed.")) sheets.remove(sheet.id);
    });
    return place;
  }
}

export function startSheetPage() {
  for (const root of document.querySelectorAll(".sheets")) new SheetPage(root);
}

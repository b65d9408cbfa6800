// Keeps bench sheets in this browser, several side by side. Nothing is sent anywhere.
// Where storage is denied or full the sheets stay in this page, and the page says so.
import { sheetFormat } from "./sheet-format.js";

const PREFIX = "baybook.sheet.";
const CURRENT = "baybook.current";
const KEPT = "";
const memory = new Map();
const unkept = new Set(); // sheets that are newer here than in the storage
const listeners = [];
let trouble = KEPT;

function tell(id) {
  for (const listener of listeners) listener(id);
}

function attempt(action, otherwise) {
  try {
    return action();
  } catch (error) {
    trouble =
      error.name === "QuotaExceededError"
        ? "This browser's storage is full: the sheet is not kept. Save it as a file before you close the page."
        : "This browser does not keep the sheet. Save it as a file before you close the page.";
    return otherwise;
  }
}

function put(sheet) {
  sheet.changed = new Date().toISOString();
  memory.set(sheet.id, sheet);
  unkept.add(sheet.id);
  trouble = KEPT;
  attempt(() => {
    localStorage.setItem(PREFIX + sheet.id, JSON.stringify(sheet));
    unkept.delete(sheet.id);
  });
  tell(sheet.id);
}

// A damaged sheet is put aside under another name, never thrown away.
function get(id) {
  if (unkept.has(id)) return memory.get(id);
  const text = attempt(() => localStorage.getItem(PREFIX + id), null);
  if (text === null) return memory.get(id) ?? null;
  const { sheet, problem } = sheetFormat.read(text);
  if (!problem) return sheet;
  attempt(() => {
    localStorage.setItem(`baybook.damaged.${id}`, text);
    localStorage.removeItem(PREFIX + id);
  });
  trouble = `A kept sheet was damaged and was put aside. ${problem}`;
  return null;
}

function ids() {
  const kept = attempt(() => Object.keys(localStorage).filter((key) => key.startsWith(PREFIX)), []);
  return [...new Set([...kept.map((key) => key.slice(PREFIX.length)), ...memory.keys()])];
}

function all() {
  return ids()
    .map(get)
    .filter(Boolean)
    .sort((one, two) => two.changed.localeCompare(one.changed));
}

function remove(id) {
  memory.delete(id);
  unkept.delete(id);
  attempt(() => localStorage.removeItem(PREFIX + id));
  tell(id);
}

// The sheet in hand goes along from page to page, in this window.
function current() {
  return attempt(() => sessionStorage.getItem(CURRENT) ?? localStorage.getItem(CURRENT), null);
}

function setCurrent(id) {
  attempt(() => {
    sessionStorage.setItem(CURRENT, id);
    localStorage.setItem(CURRENT, id);
  });
}

window.addEventListener("storage", (event) => {
  if (!event.key?.startsWith(PREFIX)) return;
  const id = event.key.slice(PREFIX.length);
  if (event.newValue === null) memory.delete(id); // put away in another window
  tell(id);
});

export const sheets = { put, get, all, remove, current, setCurrent, trouble: () => trouble, onChange: (listener) => listeners.push(listener) };

// Keeps records and photos in this browser, by IndexedDB; nothing is sent anywhere. What could not
// be written yet when a page goes is left in localStorage and taken in by the next page.
import { readRecord } from "./record.js";
import { say } from "./words.js";

const OLD = "baybook.sheet."; // sheets of version 1 lay here
const PENDING = "baybook.pending.";
const CURRENT = "baybook.current";
const book = document.documentElement.dataset.book ?? "";

/** @type {Map<string, import("./record.js").JobRecord>} */
const kept = new Map();
const unwritten = new Set();
const listeners = [];
const channel = typeof BroadcastChannel === "function" ? new BroadcastChannel("baybook") : null;
const state = { database: null, trouble: "", ready: null };

function tell(id) {
  for (const listener of listeners) listener(id);
}

function troubleOf(error) {
  return say(error?.name === "QuotaExceededError" ? "storage-full" : "storage-denied");
}

async function openDatabase() {
  return carriedLibraries.idb.openDB("baybook", 1, {
    upgrade(database) {
      database.createObjectStore("records", { keyPath: "id" });
      database.createObjectStore("photos", { keyPath: "id" });
    },
  });
}

/** Old sheets and what a page left behind; a damaged one is put aside, never thrown away. */
function takeOver() {
  for (const key of Object.keys(localStorage).filter((each) => each.startsWith(OLD) || each.startsWith(PENDING))) {
    const text = localStorage.getItem(key);
    const { record } = readRecord(text, book);
    if (!record) localStorage.setItem(`baybook.damaged.${key}`, text);
    else if (!(kept.get(record.id)?.changed > record.changed)) put(record, record.changed);
    localStorage.removeItem(key);
  }
}

async function load() {
  try {
    state.database = await openDatabase();
    for (const record of await state.database.getAll("records")) kept.set(record.id, record);
  } catch (error) {
    state.trouble = troubleOf(error);
  }
  try {
    takeOver();
  } catch {
    // Without this storage there is nothing to take over.
  }
}

async function write(id) {
  const record = kept.get(id);
  try {
    if (!state.database) throw new Error("no database");
    await state.database.put("records", structuredClone(record));
    if (kept.get(id) === record) unwritten.delete(id);
    channel?.postMessage({ id, changed: record.changed });
    if (state.trouble && unwritten.size === 0) state.trouble = "";
  } catch (error) {
    state.trouble = troubleOf(error);
    tell(id);
  }
}

/**
 * Keeps a record as it is now.
 * @param {import("./record.js").JobRecord} record
 * @param {string} [changed]
 */
function put(record, changed = new Date().toISOString()) {
  record.changed = changed;
  kept.set(record.id, record);
  unwritten.add(record.id);
  write(record.id);
  tell(record.id);
}

async function remove(id) {
  kept.delete(id);
  unwritten.delete(id);
  const photos = await state.database?.getAll("photos");
  for (const each of photos ?? []) if (each.job === id) await state.database.delete("photos", each.id);
  await state.database?.delete("records", id);
  channel?.postMessage({ id, changed: "" });
  tell(id);
}

/** The records of this book, the one changed last first. */
function records() {
  const own = [...kept.values()].filter((record) => record.book === book);
  return own.sort((one, two) => two.changed.localeCompare(one.changed));
}

/** The job in hand goes along from page to page, in this window. */
function current() {
  try {
    return sessionStorage.getItem(CURRENT) ?? "";
  } catch {
    return "";
  }
}

function setCurrent(id) {
  try {
    sessionStorage.setItem(CURRENT, id);
  } catch {
    // It still holds on this page.
  }
}

async function putPhoto(taken) {
  if (!state.database) throw new Error(say("storage-denied"));
  await state.database.put("photos", taken);
}

async function photo(id) {
  return state.database?.get("photos", id);
}

channel?.addEventListener("message", async ({ data: { id, changed } }) => {
  if (kept.get(id)?.changed === changed) return;
  const fresh = changed ? await state.database?.get("records", id) : null;
  if (fresh) kept.set(id, fresh);
  else kept.delete(id); // put away in another window
  tell(id);
});

window.addEventListener("pagehide", () => {
  for (const id of unwritten) {
    try {
      localStorage.setItem(PENDING + id, JSON.stringify(kept.get(id)));
    } catch {
      // The page has said so, and leaving asks.
    }
  }
});

window.addEventListener("beforeunload", (event) => {
  if (state.trouble && unwritten.size) event.preventDefault();
});

export const store = {
  book,
  /** Resolves when what is kept has been read. */
  ready: () => (state.ready ??= load()),
  get: (id) => kept.get(id) ?? null,
  put,
  remove,
  records,
  current,
  setCurrent,
  putPhoto,
  photo,
  /** Whether the browser has kept all that was entered. */
  isWritten: () => unwritten.size === 0,
  trouble: () => state.trouble,
  onChange: (listener) => listeners.push(listener),
};

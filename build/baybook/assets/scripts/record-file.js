// Saves a record with its photos as one file, and loads one again.
import { newId, readRecord, tagOf } from "./record.js";
import { store } from "./store.js";
import { say } from "./words.js";

const LARGEST = 60e6; // with photos [byte]

async function textOf(blob) {
  return new Promise((resolve) => {
    const reader = new FileReader();
    reader.addEventListener("load", () => resolve(reader.result));
    reader.readAsDataURL(blob);
  });
}

async function withData(photo) {
  const kept = await store.photo(photo.id);
  return kept ? { ...photo, data: await textOf(kept.blob) } : photo;
}

/** @param {import("./record.js").JobRecord} record */
export async function saveRecord(record) {
  const photos = await Promise.all(record.photos.map(withData));
  const tag = tagOf(record).replace(/[^\p{L}\p{N}]+/gu, "-").slice(0, 40);
  saveFile(`bench-sheet-${tag}-${record.begun.slice(0, 10)}.json`, JSON.stringify({ ...record, photos }, null, 1));
}

/**
 * Hands a text to the reader as a file.
 * @param {string} name
 * @param {string} text JSON
 */
export function saveFile(name, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  link.download = name;
  link.click();
  URL.revokeObjectURL(link.href);
}

/**
 * @param {any} taken
 * @param {string} job
 */
async function keepPhoto({ data, ...photo }, job) {
  // Not by fetch(): the policy of the pages lets nothing but the book's own files be asked for.
  const [, type, base64] = /^data:(image\/[\w.+-]+);base64,([A-Za-z0-9+/]+=*)$/.exec(data ?? "") ?? [];
  if (!base64 || base64.length % 4) return;
  const blob = new Blob([Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))], { type });
  await store.putPhoto({ ...photo, job, blob });
}

function content({ car, remarks, events }) {
  return JSON.stringify([car, remarks, events]);
}

/**
 * Takes in a record from a file; a bad file changes nothing. A record that is here already with
 * another content stays, and the loaded one stands beside it.
 * @param {File} file
 * @returns {Promise<{record?: import("./record.js").JobRecord, said: string}>}
 */
export async function loadRecord(file) {
  const { record, problem } = file.size > LARGEST ? { record: null, problem: say("file-large") } : readRecord(await file.text(), store.book);
  if (problem) return { said: `${problem} ${say("nothing-changed")}` };
  if (record.book !== store.book) return { said: `${say("file-other-book")} ${say("nothing-changed")}` };
  const kept = store.get(record.id);
  const isTwin = kept && content(kept) !== content(record);
  if (isTwin) record.id = newId();
  for (const photo of record.photos) await keepPhoto(photo, record.id);
  record.photos = record.photos.map(({ id, at, about }) => ({ id, at, about }));
  store.put(record, record.changed);
  store.setCurrent(record.id);
  return { record, said: say(isTwin ? "file-twice" : "file-loaded") };
}

// A record: a curve as typed pairs, or out of a file, which stays on this machine.
const SHOWN = 3000; // characters of a long file that its field shows
const IN_ADDRESS = 1500; // characters of the longest entry that an address carries

/** The whole text of files that are too long for their field. */
const files = new WeakMap();

/** What stands in an entry of a form, or the whole file behind it. */
export function entryOf(element) {
  return files.get(element) ?? element.value;
}

/** The entries that an address can carry: a long record is left out. */
export function forAddress(fields) {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value.length <= IN_ADDRESS));
}

/** Reads a file in the encoding that its first bytes say, else as UTF-8. */
async function textOf(file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const mark = `${bytes[0]} ${bytes[1]}`;
  const encoding = { "255 254": "utf-16le", "254 255": "utf-16be" }[mark] ?? "utf-8";
  return new TextDecoder(encoding).decode(bytes);
}

function put(entry, text) {
  const long = text.length > SHOWN;
  if (long) files.set(entry, text);
  else files.delete(entry);
  entry.value = long ? `${text.slice(0, SHOWN)}\n\u2026` : text;
  entry.readOnly = long;
  entry.dispatchEvent(new Event("input", { bubbles: true }));
}

async function chosen({ target }) {
  const file = target.closest(".record-file") && target.files?.[0];
  if (file) put(target.closest(".field").querySelector("textarea"), await textOf(file));
}

function cleared({ target }) {
  const button = target.closest?.(".record-clear");
  if (!button) return;
  const field = button.closest(".field");
  field.querySelector("input[type=file]").value = "";
  put(field.querySelector("textarea"), "");
  field.querySelector("textarea").focus();
}

export function startRecordEntries() {
  document.addEventListener("change", chosen);
  document.addEventListener("click", cleared);
}

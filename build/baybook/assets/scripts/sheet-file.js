// Saves a bench sheet as a file and loads one again.
import { sheetFormat } from "./sheet-format.js";

const LARGEST = 5e6;

function save(sheet) {
  const blob = new Blob([JSON.stringify(sheet, null, 1)], { type: "application/json" });
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  const name = (sheet.car || sheet.vehicle).replace(/[^\p{L}\p{N}]+/gu, "-").slice(0, 40);
  link.download = `bench-sheet-${name}-${sheet.begun.slice(0, 10)}.json`;
  link.click();
  URL.revokeObjectURL(link.href);
}

// Returns {sheet} or {problem}; a bad file changes nothing.
async function load(file) {
  if (file.size > LARGEST) return { problem: "This file is too large to be a bench sheet." };
  return sheetFormat.read(await file.text());
}

export const sheetFile = { save, load };

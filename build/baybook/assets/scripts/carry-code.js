// A code in the address goes along: from a procedure's front page to the page of one's car, by
// the list of cars and by the navigation alike.
import { all } from "./dom.js";

export function startCarryCode() {
  const code = new URLSearchParams(location.search).get("code");
  if (!code || document.getElementById("procedure-data")) return;
  const cars = new Set(all(".cars a").map((link) => link.href));
  for (const link of document.links) {
    if (cars.has(link.href)) link.search = `?code=${encodeURIComponent(code)}`;
  }
}

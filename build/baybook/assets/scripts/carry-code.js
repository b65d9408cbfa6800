// A code in the address goes along: from a procedure's front page to the page of one's car.
import { all } from "./dom.js";

export function startCarryCode() {
  const code = new URLSearchParams(location.search).get("code");
  if (!code || document.getElementById("procedure-data")) return;
  for (const link of all(".cars a[data-choose]")) {
    const query = new URLSearchParams(link.search);
    query.set("code", code);
    link.search = `?${query}`;
  }
}

// A code in the address goes along: from a procedure's front page to the page of one's car.
document.addEventListener("DOMContentLoaded", () => {
  "use strict";
  const code = new URLSearchParams(location.search).get("code");
  if (!code || document.getElementById("procedure-data")) return;
  for (const link of document.querySelectorAll(".cars a")) link.search = `?code=${encodeURIComponent(code)}`;
});

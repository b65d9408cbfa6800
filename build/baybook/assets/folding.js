// An address that ends at a heading opens the folded part right behind it.
(() => {
  "use strict";
  function open() {
    const part = document.getElementById(location.hash.slice(1))?.nextElementSibling;
    if (part?.localName === "details") part.open = true;
  }

  window.addEventListener("hashchange", open);
  document.addEventListener("DOMContentLoaded", open);
})();

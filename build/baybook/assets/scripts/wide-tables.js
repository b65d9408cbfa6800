// A table that is wider than its page scrolls in itself: then the keyboard must reach it.

export function startWideTables() {
  const watcher = new ResizeObserver((entries) => {
    for (const { target } of entries) reach(/** @type {HTMLElement} */ (target));
  });
  for (const table of document.querySelectorAll(".text table")) watcher.observe(table);
}

/** @param {HTMLElement} table */
function reach(table) {
  if (table.scrollWidth > table.clientWidth) table.tabIndex = 0;
  else table.removeAttribute("tabindex");
}

// An address that ends at a heading opens the folded part right behind it.
function unfold() {
  const part = document.getElementById(location.hash.slice(1))?.nextElementSibling;
  if (part instanceof HTMLDetailsElement) part.open = true;
}

export function startFolding() {
  window.addEventListener("hashchange", unfold);
  unfold();
}

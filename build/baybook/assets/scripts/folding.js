// Tests, and what follows them, are folded on the screen. An address opens what it leads to; paper has all of it.
import { all } from "./dom.js";

const FOLDS = ".page-fold";

/** The folded parts that hide an element, or that it heads. */
function foldsOf(target) {
  const found = [target, target.nextElementSibling].filter((each) => each instanceof HTMLDetailsElement);
  for (let each = target.parentElement; each; each = each.parentElement) {
    if (each instanceof HTMLDetailsElement) found.push(each);
  }
  return found.filter(({ open }) => !open);
}

function unfold() {
  const target = document.getElementById(location.hash.slice(1));
  const folds = target ? foldsOf(target) : [];
  for (const each of folds) each.open = true;
  if (folds.length) target.scrollIntoView();
}

function fold() {
  for (const each of all(FOLDS)) each.open = false;
}

function openForPaper() {
  const closed = all(FOLDS).filter(({ open }) => !open);
  for (const each of closed) each.open = true;
  window.addEventListener("afterprint", () => closed.forEach((each) => (each.open = false)), { once: true });
}

/** Opens what is folded in some sections of the page, or round them. */
export function unfoldAll(sections) {
  for (const section of sections) {
    const around = section.closest(FOLDS);
    for (const each of [...all(FOLDS, section), ...(around ? [around] : [])]) each.open = true;
  }
}

export function startFolding() {
  fold();
  window.addEventListener("hashchange", unfold);
  window.addEventListener("beforeprint", openForPaper);
  unfold();
}

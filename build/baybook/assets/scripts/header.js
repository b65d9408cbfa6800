// The head of every page: light or dark, the units, and the menu of a narrow screen.
import { all, one } from "./dom.js";

const KEY = "baybook.scheme";
const root = document.documentElement;

function isDark() {
  const chosen = root.dataset.scheme;
  return chosen ? chosen === "dark" : window.matchMedia("(prefers-color-scheme: dark)").matches;
}

function turn() {
  root.dataset.scheme = isDark() ? "light" : "dark";
  try {
    localStorage.setItem(KEY, root.dataset.scheme);
  } catch {
    // Not remembered: it still holds on this page.
  }
}

export function startHeader() {
  for (const each of all("[data-turn-light]")) each.addEventListener("click", turn);
  const menu = one("[data-menu]");
  menu?.addEventListener("click", () => {
    const isOpen = one(".top").classList.toggle("menu-open");
    menu.setAttribute("aria-expanded", String(isOpen));
  });
}

// The page's own sections as cards: which belong to one, and what a script adds to them meanwhile.
import { answeredCard, whyCard } from "./cards.js";
import { all, one } from "./dom.js";
import { card } from "./fill.js";
import { unfoldAll } from "./folding.js";
import { job } from "./job.js";
import { offerTimers } from "./timer.js";

/** Sections of the page that belong to a card. */
export function sectionsOf({ card: name, test, fault }) {
  const main = one(".procedure-main");
  if (test && ["test", "skip"].includes(name)) return all(`.test[data-test="${test}"]`, main);
  if (name === "found") return all("[data-card=before-fitting]", main);
  if (name === "fit") {
    const { section } = job.data().faults[fault];
    const own = all(`[data-section="${section}"]`, main);
    return own.length ? own : all("[data-card=fitting]", main);
  }
  const names = { opening: "opening", codes: "codes", safety: "safety", prove: "proof", outside: "leads-on" };
  return names[name] ? all(`[data-card=${names[name]}]`, main) : [];
}

/** Marks the sections that are shown now. */
export function mark(sections) {
  for (const each of all(".now")) each.classList.remove("now");
  for (const each of sections) each.classList.add("now");
  unfoldAll(sections);
}

/** Gives the focus to the heading of the card. */
export function focusHeading() {
  const heading = one(".made h2") ?? one(".now h2, .now h3");
  if (!heading) return;
  heading.tabIndex = -1;
  for (const old of all("[aria-level]")) old.removeAttribute("aria-level");
  heading.setAttribute("aria-level", "2"); // the card's own, whatever it heads on the page
  window.scrollTo(0, 0);
  heading.focus({ preventScroll: true });
}

/** What a script adds to the sections of the page; it goes when the card does. */
export function addTo(sections, shown, answer) {
  for (const old of all(".added")) old.remove();
  const [section] = sections;
  if (!section) return;
  const add = (place, made) => {
    const box = document.createElement("div");
    box.className = "added";
    box.append(made);
    if (box.hasChildNodes()) place(box);
  };
  if (shown.card === "test") {
    const heading = one("h3", section);
    if (answer?.next.id === shown.test) add((box) => heading.after(box), whyCard(answer));
    add((box) => one(".test-text", section).after(box), answeredCard(shown.test));
    offerTimers(section, one("[data-job=timer]"));
  }
  if (["fit", "prove"].includes(shown.card)) add((box) => sections.at(-1).append(box), card(shown.card, { why: answer?.next.why }));
  if (["test", "fit"].includes(shown.card)) add((box) => sections.at(-1).append(box), card("photos"));
}

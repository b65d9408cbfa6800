// Shows a verdict in its place: the word, the figures it stands on, what would settle it.
import { units } from "./units.js";

function show(element, verdict) {
  element.hidden = !verdict;
  element.dataset.si = verdict ? verdict.outcome : "";
  if (!verdict) return;
  element.querySelector("strong").textContent = verdict.outcome.toUpperCase();
  units.set(element.querySelector(".quantity"), verdict.us, verdict.metric);
  const advice = element.querySelector(".verdict-advice");
  advice.hidden = !verdict.advice;
  advice.querySelector("span").textContent = verdict.advice;
}

export const verdicts = { show };

// The drawing of the system in a job: suspects, what was tested, and what the present test looks at.
import { all, one } from "./dom.js";

const MARKS = ["part-most", "part-suspect", "part-tested", "part-here"];

function marksOf({ outline, tested, here }) {
  return [outline && `part-${outline}`, tested && "part-tested", here && "part-here"].filter(Boolean);
}

function markPart(shape, said) {
  shape.classList.remove(...MARKS);
  one(".part-share", shape).textContent = said?.text ?? "";
  if (said) shape.classList.add(...marksOf(said));
}

/** A copy of the drawing beside what was said so far; the page's own stays where it is. */
function copyOnce(place) {
  const drawing = one(".diagram-down svg.system");
  if (!drawing || !place || place.firstChild) return;
  const copy = /** @type {Element} */ (drawing.cloneNode(true));
  one("defs", copy).remove(); // the arrow heads of the first one serve both
  place.append(copy);
}

/** Marks every drawing of the page by the engine's answer. */
export function drawParts(answer) {
  const place = one("[data-job=drawing]");
  copyOnce(place);
  const said = new Map((answer?.parts ?? []).map((each) => [each.part, each]));
  for (const shape of all(".system .part[data-part]")) markPart(shape, said.get(shape.dataset.part));
  if (place) place.hidden = !place.firstChild || !said.size;
}

/** The test that a part of the drawing leads to, where one was pressed. */
export function testOfPart(target) {
  const link = target.closest("[data-job=drawing] a.part");
  return link ? link.getAttribute("href").slice(1) : "";
}

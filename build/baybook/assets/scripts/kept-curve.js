// The curve of a record, kept with the job as a picture: on its sheet, and in its file.
import { all, button, element, one } from "./dom.js";
import { complain, put } from "./fill.js";
import { job } from "./job.js";
import { keepPicture } from "./photos.js";
import { say } from "./words.js";

const PAINTED = ["fill", "stroke", "stroke-width", "stroke-dasharray", "opacity", "font-family", "font-size", "font-weight", "text-anchor"];
const SCALE = 3; // pixels of the picture for one of the drawing

/** A drawing as it looks on paper, without any style sheet. */
function painted(drawing) {
  const copy = /** @type {SVGElement} */ (drawing.cloneNode(true));
  const { dataset } = document.documentElement;
  const { scheme } = dataset;
  dataset.scheme = "light";
  const parts = all("*", copy);
  all("*", drawing).forEach((each, place) => {
    const style = getComputedStyle(each);
    for (const name of PAINTED) parts[place].setAttribute(name, style.getPropertyValue(name));
    parts[place].removeAttribute("class");
  });
  if (scheme) dataset.scheme = scheme;
  else delete dataset.scheme;
  return copy;
}

/**
 * A drawing as a picture on white.
 * @returns {Promise<HTMLCanvasElement>}
 */
async function pictureOf(drawing) {
  const { width, height } = drawing.viewBox.baseVal;
  const copy = painted(drawing);
  copy.setAttribute("width", String(width * SCALE));
  copy.setAttribute("height", String(height * SCALE));
  const picture = new Image();
  picture.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(new XMLSerializer().serializeToString(copy))}`;
  await picture.decode();
  const canvas = document.createElement("canvas");
  Object.assign(canvas, { width: width * SCALE, height: height * SCALE });
  const pen = canvas.getContext("2d");
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0);
  return canvas;
}

/** A curve goes into an open job alone: not into a closed one, and not into an exercise. */
function isOpen() {
  return Boolean(job.record()) && !job.isLocked();
}

async function keep(root) {
  if (!isOpen() || root.classList.contains("is-paused")) return; // the drawing is of other entries
  const test = one("h3", root.closest(".test"))?.firstChild?.textContent.trim() ?? "";
  const found = one("[data-headline] b", root).textContent;
  try {
    const canvas = await pictureOf(one(".drawing > svg", root));
    await keepPicture(canvas, [test, found].filter(Boolean).join(": "));
    put("live", say("curve-kept"));
    one(".curve-told", root).textContent = say("curve-kept");
  } catch {
    complain(say("photo-refused"));
  }
}

function showWhereOpen(box) {
  box.hidden = !box.dataset.measured || !isOpen();
}

// A calculator inside a test that has drawn a record offers to keep the curve.
function offer(event) {
  const root = /** @type {Element} */ (event.target);
  if (!root.closest(".test") || !one(".record-file", root)) return;
  const box = one(".curve-keep", root) ?? element("p", "", "acts curve-keep no-print");
  const { drawing, example } = /** @type {CustomEvent} */ (event).detail;
  box.dataset.measured = drawing && !example ? "yes" : ""; // an example was never measured
  showWhereOpen(box);
  if (box.parentElement) {
    one(".curve-told", box).textContent = ""; // the answer is another one
    return;
  }
  box.append(button(say("curve-keep"), () => keep(root), "second"), element("span", "", "note curve-told"));
  one(".drawing", root).after(box);
}

export function startKeptCurve() {
  document.addEventListener("baybook:answer", offer);
  job.onChange(() => all(".curve-keep").forEach(showWhereOpen));
}

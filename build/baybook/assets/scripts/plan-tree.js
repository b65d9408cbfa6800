// The whole plan as a tree: read from its own file when it is opened.
import { car } from "./car.js";
import { all, element, one } from "./dom.js";
import { say } from "./words.js";

async function draw(box) {
  const { tree } = box.dataset;
  await car.script(tree);
  one(".plan-tree", box).innerHTML = window.baybook.data.trees[tree];
}

/** Marks in the usual way the test that comes next. */
export function markHere({ next }) {
  for (const old of all(".strip .youare")) old.remove();
  const stop = one(`.strip [data-stop="${next.id}"] .stop`);
  if (next.kind === "test") stop?.append(element("span", say("you-are-here"), "youare"));
}

export function startPlanTree() {
  for (const box of all("details[data-tree]")) {
    box.addEventListener("toggle", () => draw(box), { once: true });
  }
}

// The whole plan as a tree: read from its own file when it is opened.
import { car } from "./car.js";
import { all, one } from "./dom.js";

async function draw(box) {
  const { tree } = box.dataset;
  await car.script(tree);
  one(".plan-tree", box).innerHTML = window.baybook.data.trees[tree];
}

export function startPlanTree() {
  for (const box of all("details[data-tree]")) {
    box.addEventListener("toggle", () => draw(box), { once: true });
  }
}

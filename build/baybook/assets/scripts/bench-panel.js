// @ts-nocheck
// The panel beside a procedure: what is still suspect, what to do next and why, minutes spent and
// expected, one step back. It asks the page's Python after every entry.
import { job } from "./job.js";
import { python } from "./python.js";
import { sheets } from "./sheet-store.js";

const SHOWN = 6; // suspects shown at once
const FAINT = 0.005; // shares below are not named

function element(name, text = "", className = "") {
  const made = document.createElement(name);
  made.textContent = text;
  if (className) made.className = className;
  return made;
}

function link(text, target) {
  const made = element("a", text);
  made.href = `#${target}`;
  return made;
}

function button(text, action) {
  const made = element("button", text);
  made.type = "button";
  made.addEventListener("click", action);
  return made;
}

function entry(label) {
  const made = element("input");
  made.type = "text";
  made.maxLength = 300;
  made.placeholder = label;
  made.setAttribute("aria-label", label);
  return made;
}

function sentence(text) {
  const end = /[.!?]$/.test(text) ? "" : ".";
  return text.charAt(0).toUpperCase() + text.slice(1) + end;
}

function percent(share) {
  if (share >= 0.995 && share < 1) return "over 99 %";
  return share < 0.01 ? "under 1 %" : `${Math.round(share * 100)} %`;
}

function minutes(number) {
  const whole = Math.round(number);
  return whole < 60 ? `${whole} min` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
}

class BenchPanel {
  constructor(root) {
    this.root = root;
    this.job = root.querySelector(".job");
    this.next = root.querySelector(".job-next");
    this.suspects = root.querySelector(".job-suspects");
    this.minutes = root.querySelector(".job-minutes");
    this.trouble = root.querySelector(".job-trouble");
    this.car = root.querySelector("#job-car");
    this.job.hidden = false;
    if (window.matchMedia("(max-width: 76.2em)").matches) root.querySelector("details").open = false;
    root.querySelector("[data-job=back]").addEventListener("click", () => job.back());
    root.querySelector("[data-job=again]").addEventListener("click", () => job.startAgain());
    this.car.addEventListener("change", () => {
      job.sheetInHand().car = this.car.value;
      job.keep();
    });
    job.onChange(() => this.refresh());
    this.refresh();
  }

  idle() {
    const coded = document.querySelector("[data-code]") !== null;
    const first = document.querySelector(".test").dataset.test;
    this.next.replaceChildren(
      element("p", `${coded ? "Tick the stored codes, or enter" : "Enter"} the first result. What to test next appears here.`),
      coded ? link("Enter the codes", "plan") : link("Go to the first test", first),
    );
    this.suspects.replaceChildren();
    this.minutes.textContent = "";
    this.markTests(null);
  }

  async refresh() {
    this.turn = (this.turn ?? 0) + 1; // an answer to an older question is no news
    const { turn } = this;
    const { sheet, history, data } = job;
    this.car.value = sheet()?.car ?? "";
    const trouble = sheets.trouble();
    this.trouble.hidden = !trouble;
    this.trouble.textContent = trouble;
    const told = history();
    if (told.length === 0) {
      this.root.classList.remove("bench-panel-busy");
      this.idle();
      return;
    }
    this.root.classList.add("bench-panel-busy");
    try {
      const request = { method: "isolate", network: data().network, history: told };
      const answer = await python.call(request, { key: "isolate", limit: 20000 });
      if (answer && turn === this.turn) this.show(answer);
    } catch (error) {
      this.root.classList.remove("bench-panel-busy");
      this.next.replaceChildren(element("p", `${error.message} The plan below holds without it.`));
    }
  }

  show(answer) {
    this.root.classList.remove("bench-panel-busy");
    if (answer.error) {
      this.next.replaceChildren(element("p", `The entries cannot be weighed: ${answer.error}. The plan below holds without it.`));
      return;
    }
    this.showNext(answer);
    this.showSuspects(answer);
    const { spent, to_go: toGo } = answer;
    const currency = job.data().currency;
    this.minutes.textContent = answer.finished
      ? `Spent: ${minutes(spent.minutes)}.`
      : `Spent: ${minutes(spent.minutes)}. Expected to go: ${minutes(toGo.minutes)}, ${currency}${Math.round(toGo.money)} with parts.`;
    this.markTests(answer);
    document.dispatchEvent(new CustomEvent("baybook:belief", { detail: answer }));
  }

  showNext(answer) {
    const { next } = answer;
    const parts = [element("h3", this.headline(next))];
    for (const clash of answer.contradictions) parts.push(element("p", `Contradiction: ${clash.sentence}.`, "job-clash"));
    parts.push(element("p", sentence(next.reason)));
    parts.push(...this.actions(next, answer));
    this.next.replaceChildren(...parts);
  }

  headline(next) {
    return {
      test: `Next: ${next.title}`,
      repair: this.found(next),
      recheck: "Next: prove the repair",
      close: "The job can be closed",
    }[next.kind];
  }

  found(next) {
    if (!(next.id in job.data().faults)) return "Look outside this procedure";
    return `Most likely: ${next.title}`;
  }

  actions(next, answer) {
    const place = element("p", "", "job-actions");
    const { faults } = job.data();
    if (next.kind === "test") {
      place.append(link("Go to this test", next.id));
    } else if (next.kind === "repair" && next.id in faults) {
      place.append(link("Before fitting", "before-fitting"), " ", link("Fitting", faults[next.id].section), " ");
      const fitted = entry("What was fitted or done");
      place.append(fitted, button("It is repaired", () => this.repaired(next, fitted.value.trim())));
    } else if (next.kind === "repair") {
      place.append("Every fault this procedure knows is unlikely now. Look for the cause in another system.");
    } else if (next.kind === "recheck") {
      const proof = entry("What proved it");
      place.append(link("How to prove it", "proof"), proof);
      for (const [result, label] of [["cured", "Cured"], ["not cured", "Not cured"]]) {
        place.append(button(label, () => job.add({ type: "recheck", result, text: proof.value.trim() })), " ");
      }
    } else {
      place.append("Print the bench sheet, or save it as a file.");
    }
    return [place, ...this.questions(answer.open_questions)];
  }

  repaired(next, fitted) {
    job.add({ type: "repair", fault: next.id, says: next.title, fitted });
  }

  // Causes and knock-on faults that must be cleared: before a part is fitted, before the job ends.
  questions(open) {
    if (open.length === 0) return [];
    const list = element("ul", "", "job-questions");
    for (const question of open) {
      const item = element("li", `${sentence(question.sentence)} `);
      if (question.tests.length) item.append(link("Test it", question.tests[0]));
      list.append(item);
    }
    return [element("p", "To clear before the job is closed:"), list];
  }

  showSuspects(answer) {
    const named = answer.suspects.filter((suspect) => suspect.share >= FAINT);
    const list = element("ol", "", "job-suspects-list");
    for (const suspect of named.slice(0, SHOWN)) {
      const item = element("li", `${percent(suspect.share)} ${suspect.label}`);
      const bar = element("span", "", "job-share");
      bar.style.setProperty("--share", `${suspect.share * 100}%`);
      bar.setAttribute("aria-hidden", "true");
      item.append(bar);
      list.append(item);
    }
    const parts = named.length ? [element("h3", "Suspects"), list] : [];
    const rest = named.length - SHOWN;
    if (rest > 0) parts.push(element("p", `and ${rest} more, less likely`));
    const sets = answer.sets.filter((set) => set.faults.length > 1 && set.share >= 0.02).slice(0, 2);
    const labels = new Map(job.data().network.faults.map((fault) => [fault.id, fault.says]));
    for (const set of sets) {
      const together = set.faults.map((fault) => labels.get(fault) ?? fault).join(" + ");
      parts.push(element("p", `Together: ${together} (${percent(set.share)})`));
    }
    this.suspects.replaceChildren(...parts);
  }

  // In the list of all tests: what is done, what is next.
  markTests(answer) {
    const done = new Set(job.events().map((event) => event.test));
    for (const item of this.root.querySelectorAll("[data-panel-test]")) {
      const name = item.dataset.panelTest;
      item.classList.toggle("test-done", done.has(name));
      item.classList.toggle("test-next", answer?.next.id === name);
    }
    for (const test of document.querySelectorAll(".test")) {
      test.classList.toggle("test-next", answer?.next.id === test.dataset.test);
    }
  }
}

export function startBenchPanel() {
  for (const root of document.querySelectorAll(".bench-panel")) new BenchPanel(root);
}

// One switch for US or metric units, remembered; every quantity on the page follows it.
import { all } from "./dom.js";

const KEY = "baybook.units";
const listeners = [];

function remembered() {
  try {
    return localStorage.getItem(KEY) === "metric" ? "metric" : "us";
  } catch {
    return "us";
  }
}

let system = remembered();

function other() {
  return system === "us" ? "metric" : "us";
}

// Changes a text in its node: that costs the page less than a new node.
function setText(element, text) {
  if (element.childNodes.length === 1 && element.firstChild.nodeType === Node.TEXT_NODE) element.firstChild.data = text;
  else element.textContent = text;
}

// Writes one quantity: the chosen system first, the other one in brackets.
function write(element) {
  const first = element.dataset[system];
  if (first === undefined) return;
  const second = element.dataset[other()];
  const both = first !== second && !element.dataset.either;
  setText(element, both ? `${first} (${second})` : first);
}

function writeAll(root = document) {
  for (const element of root.querySelectorAll(".quantity[data-us]")) write(element);
}

// Sets the texts of a quantity and writes it.
function set(element, us, metric) {
  if (element.dataset.us === us && element.dataset.metric === metric) return;
  element.dataset.us = us;
  element.dataset.metric = metric;
  write(element);
}

function choose(next) {
  system = next;
  document.documentElement.dataset.units = system;
  try {
    localStorage.setItem(KEY, system);
  } catch {
    // Not remembered: the choice still holds on this page.
  }
  writeAll();
  label();
  for (const listener of listeners) listener(system);
}

/** The buttons of the head say which system is shown; their words are theirs. */
function label() {
  for (const each of all("[data-turn-units]")) setText(each, each.dataset[system]);
}

export function startUnits() {
  document.documentElement.dataset.units = system;
  for (const each of all("[data-turn-units]")) each.addEventListener("click", () => choose(other()));
  label();
  if (system === "metric") writeAll();
}

export const units = { system: () => system, set, write, writeAll, onChange: (listener) => listeners.push(listener) };

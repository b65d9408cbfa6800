// The book without a network: kept when the reader asks for it, a new edition offered, never forced.
import { all, one } from "./dom.js";

const WORKER = "baybook-offline.js";

function address() {
  return new URL(document.documentElement.dataset.top + WORKER, location.href).href;
}

// Shows one of the sentences that stand in the page.
function show(state) {
  for (const sentence of all("[data-offline-state]")) sentence.hidden = sentence.dataset.offlineState !== state;
}

function offer(worker) {
  const bar = one("[data-update]");
  bar.hidden = false;
  one("[data-update-now]", bar).onclick = () => {
    bar.hidden = true;
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    worker.postMessage("take over");
  };
  one("[data-update-later]", bar).onclick = () => {
    bar.hidden = true;
  };
}

// A new edition waits, or comes while the page is open.
function watch(registration) {
  const seen = () => {
    if (registration.waiting && navigator.serviceWorker.controller) offer(registration.waiting);
  };
  seen();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", seen);
  });
}

async function keep() {
  show("keeping");
  try {
    watch(await navigator.serviceWorker.register(address(), { updateViaCache: "none" }));
  } catch {
    show("failed");
  }
}

export async function startOffline() {
  const place = one("[data-offline]");
  if (!place || !("serviceWorker" in navigator) || location.protocol === "file:") return;
  place.hidden = false;
  one("[data-offline-keep]", place).addEventListener("click", keep);
  navigator.serviceWorker.addEventListener("message", ({ data }) => data?.offline && show(data.offline));
  window.addEventListener("appinstalled", keep);
  const registration = await navigator.serviceWorker.getRegistration(address()).catch(() => null);
  if (registration) {
    show(registration.active ? "kept" : "keeping");
    watch(registration);
  } else if (window.matchMedia("(display-mode: standalone)").matches) {
    keep();
  }
}

// Keeps the screen awake while a job is worked on, where the browser lets it.
import { job } from "./job.js";

const state = { lock: null };

async function hold() {
  const wanted = job.record() && !job.isLocked() && document.visibilityState === "visible";
  if (!wanted) {
    state.lock?.release();
    state.lock = null;
  } else if (!state.lock) {
    try {
      state.lock = await navigator.wakeLock?.request("screen");
      state.lock?.addEventListener("release", () => (state.lock = null));
    } catch {
      state.lock = null; // a flat battery, or the reader's wish
    }
  }
}

export function startAwake() {
  job.onChange(hold);
  document.addEventListener("visibilitychange", hold);
}

/*
 * The client: what a page asks for answers. It starts Python at the first call, asks one
 * question at a time, stops a runaway and falls back to the plain way when the snapshot fails.
 *
 *   baybook.python.call(request, {key, limit})   promise of the answer; null when a newer request
 *                                               of the same key took its place in the queue
 *   baybook.python.start(), stop()               warm up or try again; let go of everything
 *   baybook.python.status, reason                idle, loading, ready, plain (ready, started the
 *                                               plain way) or failed, and why
 *   baybook.python.onStatus(listener)            called now and at each change with (status, reason);
 *                                               returns a function that ends it
 *
 * With ?runtime=plain in the address of the page Python starts the plain way.
 */
const CALL_LIMIT = 5000; // [ms]

// What Python needs of a browser, as all have it since the versions of OLDEST.
const NEEDED = ["WebAssembly", "Worker", "DecompressionStream"];
const TOO_OLD = NEEDED.some((name) => !(name in window)) || !Object.hasOwn || ![].findLast;
const MISSING = TOO_OLD
  ? `This browser is too old, or parts of it are switched off: the calculators need ${BUILD.oldest}, or a later one.`
  : "";

class PythonClient {
  constructor(files, modes) {
    this.files = files;
    this.modes = modes;
    this.status = "idle";
    this.reason = "";
    this.listeners = new Set();
    this.queue = [];
    this.process = null;
    this.free = null; // the process, while it waits for a call
  }

  onStatus(listener) {
    this.listeners.add(listener);
    listener(this.status, this.reason);
    return () => this.listeners.delete(listener);
  }

  start() {
    if (!MISSING && (this.status === "idle" || this.status === "failed")) {
      this.boot();
    } else if (MISSING) {
      this.fail(MISSING);
    }
  }

  stop() {
    const process = this.process;
    this.process = null;
    this.free = null;
    process?.stop();
    this.refuseQueue("The browser's Python was stopped.");
    this.setStatus("idle");
  }

  call(request, { key = null, limit = CALL_LIMIT } = {}) {
    return new Promise((resolve, reject) => {
      const text = JSON.stringify(request);
      this.replaceQueued(key);
      this.queue.push({ text, key, limit, resolve, reject });
      this.start(); // one that failed is tried again
      this.next();
    });
  }

  replaceQueued(key) {
    const older = this.queue.filter((job) => key !== null && job.key === key);
    this.queue = this.queue.filter((job) => !older.includes(job));
    older.forEach((job) => job.resolve(null));
  }

  refuseQueue(reason) {
    this.queue.splice(0).forEach((job) => job.reject(new Error(reason)));
  }

  setStatus(status, reason = "") {
    this.status = status;
    this.reason = reason;
    this.listeners.forEach((listener) => listener(status, reason));
  }

  /** Start by the first mode that works; a later start begins with that one. */
  async boot() {
    this.setStatus("loading");
    const reasons = [];
    for (const mode of this.modes) {
      const process = new PythonProcess(this.files, mode);
      this.process = process;
      try {
        await process.start();
        this.modes = this.modes.slice(this.modes.indexOf(mode));
        this.setStatus(mode === "snapshot" ? "ready" : "plain");
        this.release(process);
        return;
      } catch (error) {
        process.stop();
        reasons.push(`${mode}: ${error.message}`);
      }
      if (this.process !== process) {
        return; // stopped meanwhile
      }
    }
    this.fail(`The browser's Python cannot start (${reasons.join("; ")}).`);
  }

  fail(reason) {
    this.process = null;
    this.setStatus("failed", reason);
    this.refuseQueue(reason);
  }

  async next() {
    const process = this.free;
    if (!process || this.queue.length === 0) {
      return;
    }
    this.free = null;
    const job = this.queue.shift();
    try {
      job.resolve(await process.ask(job.text, job.limit));
      this.release(process);
    } catch (error) {
      job.reject(error);
      this.replace(process);
    }
  }

  release(process) {
    if (this.process === process) {
      this.free = process;
      this.next();
    }
  }

  replace(process) {
    process.stop();
    if (this.process === process) {
      this.boot();
    }
  }
}

{
  const base = new URL(".", document.currentScript.src).href;
  const plain = new URLSearchParams(location.search).get("runtime") === "plain";
  const fetched = location.protocol !== "file:";
  const files = new (fetched ? FetchedFiles : CarriedFiles)(base, BUILD.edition);
  window.baybook ??= {};
  window.baybook.payload = (name, contents) => files.register(name, contents);
  window.baybook.python = new PythonClient(files, plain ? ["plain"] : ["snapshot", "plain"]);
  window.addEventListener("online", () => {
    if (window.baybook.python.status === "failed") window.baybook.python.start();
  });
}

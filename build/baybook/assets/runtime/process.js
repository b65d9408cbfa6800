/*
 * A process: one life of the browser's Python, from start to stop.
 *
 * It does one thing at a time: start, then one call after another. Once a promise of it is
 * rejected the process is over; stop it and start another.
 */
const PAYLOADS = {
  snapshot: ["engine", "wasm", "snapshot"],
  plain: ["engine", "wasm", "plain"],
};

// A start that hangs is given up [ms], counted from when all payloads have come. With the CPU
// slowed 4 times the snapshot took 3 s and the plain way 23 s.
const START_LIMIT = { snapshot: 30000, plain: 120000 };

function answerOf(text) {
  try {
    return JSON.parse(text);
  } catch (error) {
    return { error: `the answer is not JSON: ${error.message}` };
  }
}

class PythonProcess {
  constructor(payloads, mode) {
    this.payloads = payloads;
    this.mode = mode;
    this.workers = [];
    this.addresses = [];
    this.waiting = null;
  }

  /** Resolves when Python can be asked. */
  start() {
    return this.expect(() => this.boot().catch((error) => this.settle("reject", error)));
  }

  /** Resolves to the answer; a Python exception is the answer {error}. */
  ask(text, limit) {
    return this.expect(() => {
      this.python.postMessage({ type: "call", text });
      this.limitTo(limit, "The calculation");
    });
  }

  stop() {
    this.workers.forEach((worker) => worker.terminate());
    this.addresses.forEach((address) => URL.revokeObjectURL(address));
    this.settle("reject", new Error("The browser's Python was stopped."));
  }

  async boot() {
    this.python = this.startWorker(BUILD.worker);
    this.python.onmessage = ({ data }) => this.receive(data);
    this.unpacker = this.startWorker(BUILD.unpacker);
    this.unpacker.onmessage = ({ data }) => this.forward(data);
    const payloads = PAYLOADS[this.mode];
    const names = payloads.flatMap((payload) => BUILD.files[payload]);
    const { lock, snapshotBytes } = BUILD;
    this.python.postMessage({ type: "start", mode: this.mode, names, lock, snapshotBytes });
    const loads = payloads.map((payload) => this.payloads.load(payload));
    await Promise.all(loads.map(async (load) => this.unpack(await load)));
    this.limitTo(START_LIMIT[this.mode], "The start");
  }

  startWorker(source) {
    const address = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
    const worker = new (window.baybook.Worker ?? Worker)(address);
    worker.onerror = (event) => this.settle("reject", new Error(event.message));
    this.workers.push(worker);
    this.addresses.push(address);
    return worker;
  }

  unpack(files) {
    for (const [name, base64] of Object.entries(files)) {
      this.unpacker.postMessage({ name, base64 });
    }
  }

  forward({ name, bytes, reason }) {
    if (reason) {
      this.settle("reject", new Error(reason));
      return;
    }
    this.python.postMessage({ type: "file", name, bytes }, [bytes.buffer]);
  }

  receive(data) {
    if (data.type === "ready") {
      this.unpacker.terminate();
      this.settle("resolve");
    } else if (data.type === "result") {
      this.settle("resolve", answerOf(data.text));
    } else if (data.type === "error" && !data.fatal) {
      this.settle("resolve", { error: data.reason });
    } else {
      this.settle("reject", new Error(data.reason));
    }
  }

  expect(begin) {
    return new Promise((resolve, reject) => {
      this.waiting = { resolve, reject, timer: 0 };
      begin();
    });
  }

  limitTo(milliseconds, what) {
    const sentence = `${what} took longer than ${milliseconds / 1000} s and was stopped.`;
    if (this.waiting) {
      this.waiting.timer = setTimeout(
        () => this.settle("reject", new Error(sentence)),
        milliseconds,
      );
    }
  }

  settle(how, value) {
    const waiting = this.waiting;
    this.waiting = null;
    clearTimeout(waiting?.timer);
    waiting?.[how](value);
  }
}

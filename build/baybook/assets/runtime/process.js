/*
 * A process: one life of the browser's Python, from start to stop.
 *
 * It does one thing at a time: start, then one call after another. Once a promise of it is
 * rejected the process is over; stop it and start another.
 */
const PAYLOADS = {
  snapshot: ["wasm", "snapshot"],
  plain: ["wasm", "plain"],
};

// A start that hangs is given up [ms], counted from when all payloads have come. With the CPU
// slowed 4 times the snapshot took 3 s and the plain way 23 s.
const START_LIMIT = { snapshot: 30000, plain: 120000 };

function plainName(name) {
  return name.endsWith(".gz") ? name.slice(0, -3) : name;
}

function answerOf(text) {
  try {
    return JSON.parse(text);
  } catch (error) {
    return { error: `the answer is not JSON: ${error.message}` };
  }
}

class PythonProcess {
  constructor(files, mode) {
    this.files = files;
    this.mode = mode;
    this.workers = [];
    this.waiting = null;
    this.over = false;
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
    this.over = true;
    this.workers.forEach((worker) => worker.terminate());
    this.settle("reject", new Error("The browser's Python was stopped."));
  }

  async boot() {
    const payloads = PAYLOADS[this.mode];
    const names = payloads.flatMap((payload) => BUILD.files[payload].map(plainName));
    this.missing = names.length;
    const unpacker = await this.startWorker("unpacker");
    unpacker.onmessage = ({ data }) => this.forward(data);
    const asked = payloads.map(async (payload) => {
      for (const part of await this.files.parts(payload)) {
        unpacker.postMessage(part);
      }
    });
    this.arrived = [];
    const python = await this.startWorker("worker");
    python.onmessage = ({ data }) => this.receive(data);
    const { lock, snapshotBytes, memory } = BUILD;
    python.postMessage({ type: "start", mode: this.mode, names, lock, snapshotBytes, memory });
    this.python = python;
    this.arrived.splice(0).forEach((file) => this.pass(file));
    await Promise.all(asked);
  }

  async startWorker(name) {
    const address = await this.files.worker(name);
    const worker = new Worker(address);
    URL.revokeObjectURL(address); // the worker has it; of another address this does nothing
    worker.onerror = (event) => this.settle("reject", new Error(event.message || `${name}.js could not be loaded`));
    this.workers.push(worker);
    if (this.over) {
      worker.terminate();
    }
    return worker;
  }

  forward({ name, bytes, reason }) {
    if (reason) {
      this.settle("reject", new Error(reason));
      return;
    }
    if (this.python) this.pass({ name, bytes });
    else this.arrived.push({ name, bytes });
    this.missing -= 1;
    if (this.missing === 0) {
      this.limitTo(START_LIMIT[this.mode], "The start");
    }
  }

  pass({ name, bytes }) {
    this.python.postMessage({ type: "file", name, bytes }, [bytes.buffer]);
  }

  receive(data) {
    if (data.type === "ready") {
      this.workers[0].terminate(); // the unpacker
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

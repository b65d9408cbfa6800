// The browser's Python, which the client of the runtime has put into the global of the book.

/**
 * @typedef {object} PythonClient
 * @property {"idle" | "loading" | "ready" | "plain" | "failed"} status
 * @property {string} reason
 * @property {(request: object, options?: {key?: string | null, limit?: number}) => Promise<any>} call
 * @property {() => void} start
 * @property {() => void} stop
 * @property {(listener: (status: string, reason: string) => void) => () => void} onStatus
 */

// Where its script is missing, what is built into the page stands.
const absent = {
  status: "failed",
  reason: "its script python.js is missing",
  call: () => Promise.reject(new Error("The script python.js is missing.")),
  start() {},
  stop() {},
  onStatus(listener) {
    listener(absent.status, absent.reason);
    return () => {};
  },
};

/** @type {PythonClient} */
export const python = window.baybook?.python ?? absent;

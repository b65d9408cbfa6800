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

/** @type {PythonClient} */
export const python = window.baybook.python;

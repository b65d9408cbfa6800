/*
 * Payloads: the files of the runtime, carried in classic scripts as text.
 *
 * fetch() cannot read a file:// address; a script tag can. One way for every target.
 */
class Payloads {
  constructor(base, edition) {
    this.base = base;
    this.edition = edition;
    this.loads = new Map();
    this.contents = new Map();
  }

  /** Called by the payload scripts themselves. */
  register(name, contents) {
    this.contents.set(name, contents);
  }

  /** Load a payload once; a failed load may be tried again. */
  load(name) {
    if (!this.loads.has(name)) {
      const load = this.fetchScript(name);
      load.catch(() => this.loads.delete(name));
      this.loads.set(name, load);
    }
    return this.loads.get(name);
  }

  fetchScript(name) {
    const file = `${name}.${this.edition}.js`;
    return new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.src = this.base + file;
      script.onload = () => {
        script.remove();
        if (this.contents.has(name)) {
          resolve(this.contents.get(name));
        } else {
          reject(new Error(`${file} is damaged`));
        }
      };
      script.onerror = () => {
        script.remove();
        reject(new Error(`${file} could not be loaded`));
      };
      document.head.append(script);
    });
  }
}

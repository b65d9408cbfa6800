/*
 * The files of the runtime: how they come to the page.
 *
 * Over http they are files beside this script, fetched by the worker that unpacks them. fetch()
 * cannot read a file:// address while a script tag can: from a folder they come as text in classic
 * scripts, and the workers from Blobs.
 */
class FetchedFiles {
  constructor(base, edition) {
    this.base = base;
    this.edition = edition;
  }

  /** The address of a worker's script. */
  async worker(name) {
    return `${this.base}${name}.${this.edition}.js`;
  }

  /** What the unpacker is asked for, file by file. */
  async parts(payload) {
    return BUILD.files[payload].map((name) => ({ name, address: `${this.base}${name}.${this.edition}.bin` }));
  }
}

class CarriedFiles {
  constructor(base, edition) {
    this.base = base;
    this.edition = edition;
    this.loads = new Map();
    this.contents = new Map();
  }

  async worker(name) {
    const { [`${name}.js`]: text } = await this.load("workers");
    return URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
  }

  async parts(payload) {
    return Object.entries(await this.load(payload)).map(([name, base64]) => ({ name, base64 }));
  }

  /** Called by the scripts that carry the files. */
  register(name, contents) {
    this.contents.set(name, contents);
  }

  /** Load a payload once; a failed load may be tried again. */
  load(name) {
    if (!this.loads.has(name)) {
      const load = this.loadScript(name);
      load.catch(() => this.loads.delete(name));
      this.loads.set(name, load);
    }
    return this.loads.get(name);
  }

  loadScript(name) {
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

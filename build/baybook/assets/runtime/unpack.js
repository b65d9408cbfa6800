"use strict";
/*
 * The unpacker: a small worker that decodes the files of the runtime beside the Python worker,
 * so that neither the page nor Python waits for it.
 *
 *   page -> unpacker   {name, base64} or {name, address}      gzipped where the name ends in .gz
 *   unpacker -> page   {name, bytes}          the name without .gz
 *                      {name, reason}         it could not be decoded
 */
{
  function bytesOf(base64) {
    if (Uint8Array.fromBase64) {
      return Uint8Array.fromBase64(base64);
    }
    const text = atob(base64);
    const bytes = new Uint8Array(text.length);
    for (let i = 0; i < text.length; i += 1) {
      bytes[i] = text.charCodeAt(i);
    }
    return bytes;
  }

  async function readAll(stream) {
    const reader = stream.getReader();
    const chunks = [];
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      chunks.push(part.value);
    }
    const bytes = new Uint8Array(chunks.reduce((total, chunk) => total + chunk.length, 0));
    let offset = 0;
    for (const chunk of chunks) {
      bytes.set(chunk, offset);
      offset += chunk.length;
    }
    return bytes;
  }

  // Reading the stream by hand takes half the time of `new Response(stream).arrayBuffer()`.
  async function gunzip(packed) {
    const stream = new DecompressionStream("gzip");
    const writer = stream.writable.getWriter();
    const written = writer.write(packed).then(() => writer.close());
    const [bytes] = await Promise.all([readAll(stream.readable), written]);
    return bytes;
  }

  async function fetched(address) {
    const response = await fetch(address).catch(() => null);
    return response?.ok ? new Uint8Array(await response.arrayBuffer()) : null;
  }

  async function unpack({ name, base64, address }) {
    const zipped = name.endsWith(".gz");
    const plainName = zipped ? name.slice(0, -3) : name;
    try {
      const packed = address ? await fetched(address) : bytesOf(base64);
      if (!packed) {
        postMessage({ name: plainName, reason: `${plainName} could not be loaded` });
        return;
      }
      const bytes = zipped ? await gunzip(packed) : packed;
      postMessage({ name: plainName, bytes }, [bytes.buffer]);
    } catch (error) {
      postMessage({ name: plainName, reason: `${plainName} is damaged: ${error.message}` });
    }
  }

  self.onmessage = ({ data }) => unpack(data);
}

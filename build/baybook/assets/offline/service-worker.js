/*
 * Keeps the book for use without a network. The build puts the line with EDITION before this.
 *
 * A new edition is fetched beside the one in use, and only what changed. It takes over when the
 * reader says so, or when no window of the book is open any more. The files of the edition before
 * stay until then and one turn longer: a window that still shows it misses nothing.
 */
const PREFIX = `baybook ${self.registration.scope} `;
const CACHE = PREFIX + EDITION;
const LIST = "baybook-files.json";
const AT_ONCE = 6;

const here = (name) => new URL(name, self.registration.scope).href;

async function editions() {
  const names = await caches.keys();
  return names.filter((name) => name.startsWith(PREFIX));
}

/** What an edition that is kept holds: hash by name. */
async function listOf(name) {
  const kept = await (await caches.open(name)).match(here(LIST));
  return kept ? kept.json() : {};
}

async function tell(message) {
  const windows = await self.clients.matchAll({ includeUncontrolled: true });
  windows.forEach((window) => window.postMessage(message));
}

async function keep() {
  const answer = await fetch(here(LIST), { cache: "no-store" });
  if (!answer.ok) throw new Error("the list of the files could not be loaded");
  const list = answer.clone();
  const files = Object.entries(await answer.json());
  const cache = await caches.open(CACHE);
  const older = await Promise.all(
    (await editions()).filter((name) => name !== CACHE).map(async (name) => [name, await listOf(name)]),
  );
  let done = 0;
  const one = async ([name, hash]) => {
    const same = older.find(([, kept]) => kept[name] === hash);
    const copy = same && (await (await caches.open(same[0])).match(here(name)));
    const found = copy ?? (await fetch(here(name), { cache: "no-cache" }));
    if (!found.ok) throw new Error(`${name} could not be loaded`);
    await cache.put(here(name), found);
    done += 1;
    if (done % 20 === 0) await tell({ offline: "keeping", done, of: files.length });
  };
  const turns = Array.from({ length: AT_ONCE }, async () => {
    while (files.length) await one(files.pop());
  });
  await Promise.all(turns);
  await cache.put(here(LIST), list); // last: with it the edition is whole
}

self.addEventListener("install", (event) => {
  event.waitUntil(
    keep().catch(async (error) => {
      await caches.delete(CACHE);
      await tell({ offline: "failed" });
      throw error;
    }),
  );
});

/** Drops all editions but this one and the one before it. */
async function sweep() {
  const others = (await editions()).filter((name) => name !== CACHE);
  const old = others.slice(0, -1);
  await Promise.all(old.map((name) => caches.delete(name)));
}

self.addEventListener("activate", (event) => {
  event.waitUntil(sweep().then(() => self.clients.claim()).then(() => tell({ offline: "kept" })));
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

/** A file of this edition, of the one before it, or of the network. */
async function answer(request) {
  const url = new URL(request.url);
  const page = url.pathname.endsWith("/") ? `${url.origin}${url.pathname}index.html` : request.url;
  for (const name of [CACHE, ...(await editions()).reverse()]) {
    const kept = await (await caches.open(name)).match(page, { ignoreSearch: true });
    if (kept) return kept;
  }
  try {
    return await fetch(request);
  } catch (error) {
    const missing = request.mode === "navigate" && (await caches.match(here("404.html")));
    if (missing) return new Response(missing.body, { status: 404, headers: missing.headers });
    throw error;
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const own = request.method === "GET" && request.url.startsWith(self.registration.scope);
  if (own && !request.url.startsWith(here(LIST))) event.respondWith(answer(request));
});

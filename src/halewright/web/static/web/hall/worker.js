/**
 * Keeps the whole hall screen on this device, so that it plays and reloads without the server.
 *
 * The server writes two lines above this text: VERSION, a fingerprint of everything below ASSETS,
 * and ASSETS, the addresses to keep. A change to any of it is therefore a new worker. A new one
 * waits until the page says that no session is running: what plays is never changed under way.
 */

const CACHE = `halewright-hall-${VERSION}`;
const PAGE = "/hall/";

self.addEventListener("install", (event) => {
  event.waitUntil(keepAll());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOlder().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  if (event.data === "take-over") {
    self.skipWaiting();
  }
  if (event.data === "complete?") {
    event.waitUntil(complete().then((yes) => event.ports[0].postMessage(yes)));
  }
});

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method === "GET" && url.origin === location.origin) {
    const address = url.pathname === PAGE ? PAGE : url.pathname;
    if (ASSETS.includes(address)) {
      event.respondWith(kept(address, event.request));
    }
  }
});

async function keepAll() {
  const cache = await caches.open(CACHE);
  await cache.addAll(ASSETS.map((address) => new Request(address, { cache: "reload" })));
}

async function complete() {
  const cache = await caches.open(CACHE);
  const found = await Promise.all(ASSETS.map((address) => cache.match(address)));
  return found.every(Boolean);
}

async function kept(address, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(address)) ?? fetch(request);
}

async function dropOlder() {
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith("halewright-hall-") && name !== CACHE);
  await Promise.all(older.map((name) => caches.delete(name)));
}

/* Keeps the boards on the device once one was visited. Every file is known by its hash: what comes
   over the network is kept only if it is whole and the one that was published with this worker. */
"use strict";
const FILES = {/* files */};
const STORE = "benchleaf-boards";

async function isRight(name, answer) {
  const digest = await crypto.subtle.digest("SHA-256", await answer.clone().arrayBuffer());
  const hex = Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex === FILES[name];
}
function keyOf(name) { return new URL(name + "?" + FILES[name], self.registration.scope).href; }

async function fetched(name) {
  const answer = await fetch(new URL(name, self.registration.scope), { cache: "no-cache" });
  if (!answer.ok || !(await isRight(name, answer))) throw new Error(name);
  return answer;
}
async function keepAll() {
  const store = await caches.open(STORE);
  for (const name of Object.keys(FILES)) {
    if (!(await store.match(keyOf(name)))) await store.put(keyOf(name), await fetched(name));
  }
}
async function dropOld() {
  const store = await caches.open(STORE);
  const wanted = new Set(Object.keys(FILES).map(keyOf));
  for (const request of await store.keys()) if (!wanted.has(request.url)) await store.delete(request);
  await self.clients.claim();
}
async function answer(request, name) {
  const kept = await (await caches.open(STORE)).match(keyOf(name));
  return kept || fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(keepAll().then(() => self.skipWaiting())));
self.addEventListener("activate", (event) => event.waitUntil(dropOld()));
self.addEventListener("fetch", (event) => {
  const name = event.request.url.split(/[?#]/)[0].slice(self.registration.scope.length);
  if (event.request.method === "GET" && Object.prototype.hasOwnProperty.call(FILES, name)) event.respondWith(answer(event.request, name));
});

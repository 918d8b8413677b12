/* Stands between the pages and the line: what was read last can be read again without a signal.

   It answers GETs of pages and of files named by their content, nothing else: a form goes to the
   larder or fails. FIRST and EDITION are written above it by api/web/phone/scripts.py. */

// The ways in and out: whoever went through one of them, the copies before are not for them.
const WAYS = /^\/(sign-in|sign-out|join|password)\//;

self.addEventListener("install", (event) => {
  self.skipWaiting(); // What waits is in the phone, not in the worker: nothing is lost by it.
  event.waitUntil(layIn(FIRST));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(self.clients.claim());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (address.origin !== self.location.origin) return;
  if (request.method !== "GET") {
    if (WAYS.test(address.pathname)) event.waitUntil(forgetPages());
  } else if (NAMED_BY_CONTENT.test(address.pathname)) {
    event.respondWith(fileOf(request));
  } else if (request.mode === "navigate") {
    event.respondWith(pageOf(event));
  }
});

self.addEventListener("message", (event) => {
  const { carry, whose } = event.data ?? {};
  if (carry) event.waitUntil(carryAlong(new URL(carry), whose));
});

self.addEventListener("sync", (event) => {
  if (event.tag === "larder-notes") event.waitUntil(sendWhileAway(event.lastChance));
});

/** What waits goes when there is a signal again, also with every page closed. */
async function sendWhileAway(lastChance) {
  for (const whose of (await whoIsHere()).whose) {
    const how = await sendAll(whose);
    // Said to the browser, which then tries again later.
    if (how !== "done" && !lastChance) throw new Error(how);
  }
}

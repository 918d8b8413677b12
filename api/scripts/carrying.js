/* The copies that a phone carries along: pages of whoever is signed in, and the files they need. */

const NAMED_BY_CONTENT = /\.[0-9a-f]{12}\.\w+$/;
const FILES = "files";
const NO_SIGNAL = "/no-signal/";
const CARRIED = ["/today/", "/", "/shelves/", "/note/", "/note/kept/"];
const ALL_FORMS = "/note/carried/"; // in one answer (api/web/note/carried.py)
const MOST_PAGES = 120; // of one person
const MOST_FILES = 120;
const SHORT_WAIT_MS = 3000; // for the larder, when there is a copy
const CARRIED_FOR_MS = 10 * 60 * 1000;
const KEPT_AT = "X-Kept-At";
const underway = new Set(); // what this worker fetches just now, so that two pages start one

const pagesOf = (whose) => `pages ${whose}`;

/** A page from the larder, or after a short wait its last copy, which says so. */
async function pageOf(event) {
  const { request } = event;
  const asked = freshPage(event);
  try {
    const copy = await copyOf(request.url);
    if (!copy) return await asked;
    return await sooner(asked, SHORT_WAIT_MS).catch(() => asACopy(copy));
  } catch {
    return (await caches.match(NO_SIGNAL)) ?? Response.error();
  }
}

function freshPage(event) {
  const asked = fetchedPage(event);
  // Also when the copy was shown meanwhile: what comes late is kept for the next time.
  event.waitUntil(asked.then(({ kept }) => kept, () => {}));
  return asked.then(({ answer }) => answer);
}

async function fetchedPage(event) {
  const { turn } = await whoIsHere();
  const answer = await fetch(event.request);
  const kept = isPage(answer) ? keepPage(event.request.url, answer.clone(), turn) : undefined;
  return { answer, kept: kept?.catch(() => {}) };
}

function isPage(answer) {
  const kind = answer.headers.get("Content-Type") ?? "";
  return answer.status === 200 && answer.type === "basic" && kind.startsWith("text/html");
}

/** Keep a copy for the one whose page it is, and remember that they are here. */
async function keepPage(url, answer, turn) {
  const address = new URL(url);
  const text = await answer.text();
  const whose = whoseIs(text);
  if (!whose) {
    if (address.pathname === "/sign-in/") await forgetPages();
    return;
  }
  const here = await whoIsHere();
  if (here.turn !== turn) return; // Somebody came or went while it was on its way.
  if (!here.whose.includes(whose)) await welcome(here, whose, address);
  if (/no-store/.test(answer.headers.get("Cache-Control") ?? "")) return;
  const headers = new Headers(answer.headers);
  headers.set(KEPT_AT, new Date().toISOString());
  const pages = await caches.open(pagesOf(whose));
  await pages.put(url, new Response(text, { headers }));
  await dropOldest(pages, MOST_PAGES, (each) => isCarried(new URL(each.url)));
  await layIn(filesNamedIn(text));
}

function isCarried(address) {
  return CARRIED.includes(address.pathname) || (isForm(address) && !address.search);
}

/** Another studio of the same person stands beside the first; another person in its place. */
async function welcome(here, whose, address) {
  const beside = address.searchParams.has("studio") ? here.whose : [];
  for (const other of here.whose) {
    if (!beside.includes(other)) await caches.delete(pagesOf(other));
  }
  const now = { ...here, whose: [...beside, whose], carried: beside.length ? here.carried : {} };
  await sayWhoIsHere(now);
  return now;
}

/** Nobody is here: no copy of anybody's page is left. What waits to be handed over stays. */
async function forgetPages() {
  const here = await whoIsHere();
  await sayWhoIsHere({ ...here, whose: [], turn: here.turn + 1, carried: {} });
  for (const name of await caches.keys()) {
    if (name.startsWith(pagesOf(""))) await caches.delete(name);
  }
}

/** The last copy of a page for whoever is here; of a form also that with nothing filled in. */
async function copyOf(url) {
  for (const whose of (await whoIsHere()).whose) {
    const pages = await caches.open(pagesOf(whose));
    for (const name of [url, blankForm(new URL(url))]) {
      const copy = name && (await pages.match(name, { ignoreVary: true }));
      if (copy) return copy;
    }
  }
  return undefined;
}

/** The page then fills in what the address says, as the larder would have (taking.js). */
function blankForm(address) {
  if (!isForm(address)) return "";
  return address.origin + address.pathname + ofStudio(address.searchParams.get("studio"));
}

function isForm(address) {
  return /^\/note\/(?!said\/)/.test(address.pathname);
}

/** A copy with its moment written into it, for the page to say. */
async function asACopy(copy) {
  const text = await copy.text();
  const headers = new Headers(copy.headers);
  for (const name of ["Content-Encoding", "Content-Length", "ETag"]) headers.delete(name);
  const mark = `<html data-kept="${headers.get(KEPT_AT)}" `;
  return new Response(text.replace("<html ", mark), { headers });
}

function sooner(asked, wait) {
  const late = new Promise((_, failed) => setTimeout(() => failed(new Error("late")), wait));
  return Promise.race([asked, late]);
}

/** A file under the name of its content, which never changes: from here when it is here. */
async function fileOf(request) {
  const files = await caches.open(FILES);
  const copy = await files.match(request.url, { ignoreVary: true });
  if (copy) return copy;
  const answer = await fetch(request);
  if (answer.status === 200 && answer.type === "basic") await files.put(request.url, answer.clone());
  return answer;
}

function filesNamedIn(text) {
  const named = [...text.matchAll(/(?:href|src)="(\/[^"?#]+)"/g)].map((found) => found[1]);
  return named.filter((name) => NAMED_BY_CONTENT.test(name));
}

/** Fetch what is not here yet. */
async function layIn(names) {
  const files = await caches.open(FILES);
  for (const name of new Set(names)) {
    if (await files.match(name, { ignoreVary: true })) continue;
    await files.add(name);
  }
  await dropOldest(files, MOST_FILES, (each) => FIRST.includes(new URL(each.url).pathname));
}

async function dropOldest(cache, most, stays) {
  const all = await cache.keys();
  const free = all.filter((each) => !stays(each));
  for (const each of free.slice(0, Math.max(all.length - most, 0))) await cache.delete(each);
}

/** Fetch the pages that are wanted in a garden, now and then, while there is a signal.

    `address` is of the page that somebody reads just now; before the first worker came, no answer
    had told it whose. What is broken off is gone on with when the next page is read. */
async function carryAlong(address, whose) {
  let here = await whoIsHere();
  if (!here.whose.includes(whose)) here = await welcome(here, whose, address);
  const studio = ofStudio(address.searchParams.get("studio"));
  const mark = `${here.turn} ${whose}`;
  const before = here.carried[studio] ?? 0;
  if (underway.has(mark) || Date.now() - before < CARRIED_FOR_MS) return;
  underway.add(mark);
  try {
    await carryPages(studio, here.turn);
  } catch {
    // No signal, or somebody else's turn: without its moment it is not taken for done.
  } finally {
    underway.delete(mark);
  }
}

async function carryPages(studio, turn) {
  for (const name of CARRIED) await carryPage(name + studio, turn);
  await carryForms(studio, turn);
  const here = await whoIsHere();
  if (here.turn !== turn) return;
  await sayWhoIsHere({ ...here, carried: { ...here.carried, [studio]: Date.now() } });
}

async function carryPage(name, turn) {
  await sameTurn(turn);
  if (await youngCopyOf(new URL(name, self.location.origin).href)) return;
  const answer = await fetch(name);
  if (isPage(answer) && !answer.redirected) await keepPage(answer.url, answer, turn);
}

/** Every form, from one answer; where it is still the same, none of it comes over the line. */
async function carryForms(studio, turn) {
  await sameTurn(turn);
  const answer = await fetch(ALL_FORMS + studio);
  const kind = answer.headers.get("Content-Type") ?? "";
  if (answer.status !== 200 || answer.redirected || !kind.startsWith("application/json")) return;
  const { page, word, forms } = await answer.json();
  const whose = whoseIs(page);
  const here = await sameTurn(turn);
  if (!here.whose.includes(whose)) return;
  const headers = new Headers(answer.headers);
  for (const name of ["Content-Encoding", "Content-Length", "ETag"]) headers.delete(name);
  headers.set("Content-Type", "text/html; charset=utf-8");
  headers.set(KEPT_AT, new Date().toISOString());
  const pages = await caches.open(pagesOf(whose));
  for (const { address, title, middle } of forms) {
    const text = page
      .replace("<!--title-->", () => title)
      .replace("<!--middle-->", () => middle.replace("<!--word-->", () => word));
    const url = new URL(address + studio, self.location.origin).href;
    await pages.put(url, new Response(text, { headers }));
  }
  await layIn(filesNamedIn(page));
}

/** Who is here, as long as nobody came or went meanwhile. */
async function sameTurn(turn) {
  const here = await whoIsHere();
  if (here.turn !== turn) throw new Error("somebody came or went");
  return here;
}

/** A copy that need not be fetched once more where the carrying was broken off. */
async function youngCopyOf(url) {
  const copy = await copyOf(url);
  const age = Date.now() - Date.parse(copy?.headers.get(KEPT_AT) ?? "");
  return age < CARRIED_FOR_MS ? copy : undefined;
}

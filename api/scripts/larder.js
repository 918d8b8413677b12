/* What a page does by itself: nothing that it would not be read or sent without. */

const EVERY_MS = 30 * 1000; // a signal may come back without a word of it
const AT_LEISURE_MS = 5 * 1000; // by then what was looked for first is found or tapped
const ROWS_A_FRAME = 25;

async function handOver() {
  if (!canKeep()) return;
  await tidyUp(whoseHere);
  await sendAll(whoseHere);
  await showWaiting();
}

/** A page that the browser had put aside may be somebody else's by now. */
async function lookAgain(event) {
  if (!event.persisted) return;
  const { whose } = await whoIsHere();
  const watched = navigator.serviceWorker?.controller;
  if (whoseHere && watched && !whose.includes(whoseHere)) location.reload();
  document.querySelectorAll("form.note[data-verb]").forEach(beginAnew);
  await handOver();
}

async function startWorker() {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register("/worker.js");
  const worker = await navigator.serviceWorker.ready;
  if (!whoseHere || isACopy) return;
  whenIdle(() => worker.active.postMessage({ carry: location.href, whose: whoseHere }));
}

function whenIdle(work) {
  if (self.requestIdleCallback) requestIdleCallback(work);
  else setTimeout(work);
}

/** What a style sheet puts off below the first screen, once nobody waits: a part with each frame. */
function layOutTheRest() {
  const parts = [...document.querySelectorAll("main > section, .jar-tickets")].map((part) => [part]);
  const rows = [...document.querySelectorAll(".figures tbody tr")];
  while (rows.length) parts.push(rows.splice(0, ROWS_A_FRAME));
  const next = () => {
    const some = parts.shift();
    if (!some) return;
    for (const part of some) part.style.contentVisibility = "visible";
    requestAnimationFrame(() => whenIdle(next));
  };
  setTimeout(() => whenIdle(next), AT_LEISURE_MS);
}

/** After the page itself, which is what somebody is waiting for. */
function afterwards() {
  layOutTheRest();
  startWorker();
}

function start() {
  showSignal();
  countByTaps();
  watchOn();
  if (canKeep()) {
    takeForms();
    showWaiting();
    handOver();
    addEventListener("online", handOver);
    addEventListener("pageshow", lookAgain);
    document.addEventListener("visibilitychange", () => document.hidden || handOver());
    news.addEventListener("message", showWaiting);
    setInterval(async () => {
      const notes = await notesOf(whoseHere);
      if (notes.some((note) => note.state === "waiting")) handOver();
    }, EVERY_MS);
  }
  if (document.readyState === "complete") afterwards();
  else addEventListener("load", afterwards);
}

start();

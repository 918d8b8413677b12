/* Hands the larder what waits, each note once, however many tabs and workers would like to.

   The id of a note was made with it, so what was handed over and never answered is handed over
   again and counts once. Only an answer ends the waiting; no error does. */

const WAITING = "/note/waiting/";
const KEPT = "/note/kept/";
const AT_ONCE = 20; // notes in one letter
const PATIENCE_MS = 8000; // with a larder that says nothing
const SOON_MS = 2000; // until a note is asked about again that the larder has in hand
const TIMES_IN_HAND = 5;
const SHOWN_FOR_MS = 24 * 3600 * 1000; // a note that has landed
// Not about the note itself: another try may be answered otherwise.
const PASSING = [401, 403, 408, 425, 429];
const news = new BroadcastChannel("larder");

/** Hand over everything of one person that waits: "done", or why it stopped. */
function sendAll(whose) {
  return navigator.locks.request("larder-sending", () => sendWaiting(whose));
}

async function sendWaiting(whose) {
  let atOnce = AT_ONCE;
  let timesInHand = 0;
  for (;;) {
    const waiting = (await notesOf(whose)).filter((note) => note.state === "waiting");
    if (!waiting.length) return "done";
    const studio = waiting[0].studio;
    const letter = waiting.filter((note) => note.studio === studio).slice(0, atOnce);
    const answer = await handedOver(letter, whose, studio);
    if (answer.why) return answer.why;
    if (answer.refused && letter.length > 1) {
      atOnce = 1; // One of them spoils the letter: each goes alone.
      continue;
    }
    const moved = await writtenDown(letter, answer);
    news.postMessage("moved");
    if (moved) continue;
    if (!isInHand(answer) || ++timesInHand > TIMES_IN_HAND) return "later";
    await new Promise((done) => setTimeout(done, SOON_MS));
  }
}

/** The larder's answers to some notes; `why` there are none. */
async function handedOver(letter, whose, studio) {
  try {
    const door = await theDoor(whose, studio);
    if (door.why) return door;
    const body = { whose, sent_at: new Date().toISOString(), notes: letter.map(asSent) };
    const answer = await fetch(WAITING + ofStudio(studio), {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-CSRFToken": door.token },
      body: JSON.stringify(body),
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    if (answer.ok) return await answer.json();
    if (answer.status >= 500 || PASSING.includes(answer.status)) return { why: "later" };
    return { refused: answer.status, said: await saidIn(answer) };
  } catch {
    return { why: "no signal" };
  }
}

/** The word that a letter needs, fresh from the larder, if the one who is signed in wrote it. */
async function theDoor(whose, studio) {
  const signal = AbortSignal.timeout(PATIENCE_MS);
  const answer = await fetch(KEPT + ofStudio(studio), { cache: "no-store", signal });
  if (answer.redirected) return { why: "sign in" };
  if (!answer.ok) return { why: "later" };
  const text = await answer.text();
  if (whoseIs(text) !== whose) return { why: "somebody else" };
  const token = /name="csrfmiddlewaretoken" value="([^"]+)"/.exec(text);
  return token ? { token: token[1] } : { why: "later" };
}

/** Whose page this is; empty: nobody's in particular. */
function whoseIs(text) {
  return /<html[^>]* data-whose="([^"]*)"/.exec(text)?.[1] ?? "";
}

function ofStudio(studio) {
  return studio ? `?studio=${encodeURIComponent(studio)}` : "";
}

function asSent(note) {
  return { verb: note.verb, fields: note.fields };
}

async function saidIn(answer) {
  const text = await answer.text();
  try {
    const said = JSON.parse(text);
    return said.words ?? said.detail ?? "";
  } catch {
    return "";
  }
}

/** Every answer beside its note; whether any note is further than before. */
async function writtenDown(letter, answer) {
  let moved = false;
  for (const note of letter) {
    const said = answer.refused
      ? { status: answer.refused, words: answer.said }
      : (answer.answers ?? []).find((each) => each.id === note.id);
    const state = said ? stateOf(said) : "waiting";
    if (state === "waiting") continue;
    moved = true;
    const at = answer.received_at ?? new Date().toISOString();
    const rest = { words: said.words ?? "", address: said.address ?? "", landed_at: at };
    await keepNote({ ...note, ...rest, state });
  }
  return moved;
}

/** The larder records just now what a page before this one handed over. */
function isInHand(answer) {
  return (answer.answers ?? []).some((said) => said.state === "waiting");
}

function stateOf(said) {
  if (said.state === "recorded") return "landed";
  if (said.state === "needs a look") return "look";
  if (said.state === "waiting") return "waiting";
  if (said.status < 300) return "landed";
  return said.status >= 500 || PASSING.includes(said.status) ? "waiting" : "refused";
}

/** Let go what landed a day ago; the larder itself shows it for ever. */
async function tidyUp(whose) {
  const before = new Date(Date.now() - SHOWN_FOR_MS).toISOString();
  for (const note of await notesOf(whose)) {
    const over = note.state === "landed" || note.state === "look";
    if (over && note.landed_at < before) await letGo(note.id);
  }
}

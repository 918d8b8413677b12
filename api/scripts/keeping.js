/* What this phone keeps: notes until the larder has answered, and whose pages it may show.

   A note: { id, whose, studio, verb, action, heading, line, fields, occurred_at, kept_at, state,
   words, address, landed_at }. Its state is "waiting", "refused", "look" or "landed". The page and
   the worker both have this file, so neither keeps a second account of it. */

const LARDER = "larder";
const EDITION_OF_SHELF = 1; // a later edition only adds: what waits survives it
const NOTES = "notes";
const HERE = "here";

function opened() {
  return new Promise((done, failed) => {
    const asked = indexedDB.open(LARDER, EDITION_OF_SHELF);
    asked.onupgradeneeded = (event) => {
      if (event.oldVersion >= 1) return;
      asked.result.createObjectStore(NOTES, { keyPath: "id" });
      asked.result.createObjectStore(HERE, { keyPath: "name" });
    };
    asked.onerror = () => failed(asked.error);
    asked.onsuccess = () => {
      // A later edition in another tab is not kept waiting by this one.
      asked.result.onversionchange = () => asked.result.close();
      done(asked.result);
    };
  });
}

/** What `work` asked of a store, once the phone has truly written it down. */
async function inStore(name, mode, work) {
  const larder = await opened();
  try {
    return await new Promise((done, failed) => {
      const writing = larder.transaction(name, mode, { durability: "strict" });
      const asked = work(writing.objectStore(name));
      writing.oncomplete = () => done(asked.result);
      writing.onerror = writing.onabort = () => failed(writing.error);
    });
  } finally {
    larder.close();
  }
}

/** Write a note down, or write it anew. */
function keepNote(note) {
  return inStore(NOTES, "readwrite", (notes) => notes.put(note));
}

/** Let a note go: it was answered long ago, or its owner said so. */
function letGo(id) {
  return inStore(NOTES, "readwrite", (notes) => notes.delete(id));
}

/** The notes of one person in one studio, as they happened; never anybody else's. */
async function notesOf(whose) {
  if (!whose) return [];
  const all = await inStore(NOTES, "readonly", (notes) => notes.getAll());
  const theirs = all.filter((note) => note.whose === whose);
  return theirs.sort((one, other) => (one.occurred_at < other.occurred_at ? -1 : 1));
}

/** Whose pages may be shown on this phone now; `turn` counts how often somebody came or went. */
async function whoIsHere() {
  const found = await inStore(HERE, "readonly", (here) => here.get("here"));
  return found ?? { name: "here", whose: [], turn: 0, carried: {} };
}

function sayWhoIsHere(here) {
  return inStore(HERE, "readwrite", (store) => store.put(here));
}

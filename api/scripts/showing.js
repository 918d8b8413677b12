/* Says on every page whether it is a copy and how many notes wait, and lists them on /note/kept/. */

/** Words stand in the page, so that they are said in its language. */
function wordsOf(name) {
  const words = document.getElementById("kept-words")?.content;
  return words?.querySelector(`[data-word="${name}"]`)?.textContent ?? "";
}

function clockOf(iso) {
  const looks = { weekday: "short", day: "numeric", month: "short", hour: "2-digit" };
  const form = { ...looks, minute: "2-digit", hourCycle: "h23" };
  return new Intl.DateTimeFormat(document.documentElement.lang, form).format(new Date(iso));
}

function showSignal() {
  const lost = document.getElementById("signal-lost");
  if (!lost || !isACopy) return;
  lost.querySelector("time").textContent = clockOf(isACopy);
  lost.hidden = false;
}

async function showWaiting() {
  const notes = await notesOf(whoseHere);
  for (const state of ["waiting", "refused"]) {
    const place = document.getElementById(`signal-${state}`);
    if (!place) continue;
    const count = notes.filter((note) => note.state === state).length;
    place.querySelector("[data-count]").textContent = count;
    place.hidden = !count;
  }
  showList(notes);
}

function showList(notes) {
  const list = document.getElementById("kept");
  if (!list) return;
  list.replaceChildren(...notes.reverse().map(rowOf));
  document.getElementById("kept-none").hidden = notes.length > 0;
}

/** One note: what, when it happened, what became of it, and what can be done about it. */
function rowOf(note) {
  const row = document.getElementById(`kept-${note.state}`).content.cloneNode(true);
  const said = {
    heading: note.heading,
    line: note.line,
    happened: clockOf(note.occurred_at),
    landed: note.landed_at ? clockOf(note.landed_at) : "",
    words: note.words ?? "",
  };
  for (const [name, text] of Object.entries(said)) {
    for (const place of row.querySelectorAll(`[data-say="${name}"]`)) place.textContent = text;
  }
  const again = row.querySelector("a[data-again]");
  if (again) again.href = note.address || `${note.action}?${new URLSearchParams(filledIn(note))}`;
  const saying = row.querySelector("a[data-said]");
  if (saying && note.address) saying.href = note.address;
  row.querySelector("button[data-let-go]")?.addEventListener("click", async () => {
    await letGo(note.id);
    news.postMessage("moved");
    await showWaiting();
  });
  return row;
}

function filledIn(note) {
  return note.fields.filter(([name, value]) => value && !["id", "occurred_at"].includes(name));
}

/* Takes the forms of /note/: a note is on the phone before anything else happens to it.

   Without this file, or where a phone keeps nothing, a form goes to the larder as forms do. */

const LONGEST_LINE = 160;

const whoseHere = document.documentElement.dataset.whose ?? "";
const isACopy = document.documentElement.dataset.kept ?? "";

/** Whether this phone can keep a note and hand it over; not so over plain http, or years ago. */
function canKeep() {
  const parts = [self.indexedDB, navigator.locks, crypto.randomUUID, AbortSignal.timeout];
  return Boolean(whoseHere && self.isSecureContext && parts.every(Boolean));
}

function takeForms() {
  for (const form of document.querySelectorAll("form.note[data-verb]")) {
    if (isACopy) fillFromAddress(form);
    beginAnew(form);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      take(form, event.submitter);
    });
  }
}

/** A copy of a page would hand out the same id twice; each note gets one of its own. */
function beginAnew(form) {
  fieldOf(form, "id").value = crypto.randomUUID();
  form.removeAttribute("aria-busy");
  delete form.dataset.since;
}

/** A hidden field of a form, made where the form has none. */
function fieldOf(form, name) {
  const found = form.elements.namedItem(name);
  if (found) return found;
  const made = form.appendChild(document.createElement("input"));
  return Object.assign(made, { type: "hidden", name });
}

/** Which button was pressed, which `submit()` would not say. */
function rememberButton(form, { name, value }) {
  const made = form.appendChild(document.createElement("input"));
  Object.assign(made, { type: "hidden", name, value });
}

/** What the larder would have filled in, had there been a signal. */
function fillFromAddress(form) {
  for (const [name, value] of new URLSearchParams(location.search)) {
    const fields = [...form.elements].filter((each) => each.name === name);
    const choices = fields.filter((each) => each.type === "radio");
    if (choices.length) choose(form, choices, value);
    else if (!["id", "csrfmiddlewaretoken"].includes(name)) {
      for (const field of fields) field.value = value;
    }
  }
}

/** Choose what the address names; never another thing in its place, where a copy lacks it. */
function choose(form, choices, value) {
  for (const each of choices) each.checked = each.value === value;
  if (choices.some((each) => each.checked)) return;
  const typed = form.elements.namedItem(`${choices[0].name}_typed`);
  if (!typed) return;
  typed.value = value;
  for (const each of choices) each.required = false;
  typed.closest("details")?.setAttribute("open", "");
}

/** Keep a note, then hand it over; the form stays until one of both is certain. */
async function take(form, button) {
  if (form.getAttribute("aria-busy")) return; // The second tap of a wet finger.
  form.setAttribute("aria-busy", "true");
  let note;
  try {
    note = noteOf(form, button);
    await keepNote(note);
  } catch {
    form.removeAttribute("aria-busy");
    if (button?.name) rememberButton(form, button);
    form.submit(); // The phone is full or forbids it: to the larder, with the same id.
    return;
  }
  navigator.vibrate?.(40);
  const how = await sendAll(whoseHere);
  const now = (await notesOf(whoseHere)).find((each) => each.id === note.id) ?? note;
  if (now.state === "landed" || now.state === "look") return onwards(now);
  if (now.state === "refused") return sayRefused(form, now);
  remindTheBrowser();
  return sayKept(form, now, how);
}

function noteOf(form, button) {
  // Of the first tap: put right after a refusal, it happened no later.
  form.dataset.since ??= new Date().toISOString();
  const fields = [...new FormData(form)].filter(([name]) => name !== "csrfmiddlewaretoken");
  if (button?.name) fields.push([button.name, button.value]);
  const moment = fields.find(([name]) => name === "occurred_at");
  if (!moment) fields.push(["occurred_at", form.dataset.since]);
  else if (!moment[1]) moment[1] = form.dataset.since;
  const said = Object.fromEntries(fields);
  const when = new Date(said.when || form.dataset.since);
  return {
    id: said.id,
    whose: whoseHere,
    studio: said.studio ?? new URLSearchParams(location.search).get("studio") ?? "",
    verb: form.dataset.verb,
    action: new URL(form.action).pathname,
    heading: document.querySelector("h1").textContent.trim(),
    line: lineOf(form) || (button?.textContent ?? "").trim(),
    fields,
    occurred_at: when.toISOString(),
    kept_at: new Date().toISOString(),
    state: "waiting",
  };
}

/** What was chosen and written, in the words of the form. */
function lineOf(form) {
  const words = [];
  for (const field of form.elements) {
    const isChoice = field.type === "radio" || field.type === "checkbox";
    if (!field.name || field.type === "hidden" || (isChoice && !field.checked)) continue;
    if (field.tagName === "SELECT") words.push(field.selectedOptions[0]?.textContent);
    else if (isChoice) words.push(field.labels?.[0]?.textContent);
    else if (field.tagName !== "BUTTON") words.push(field.value);
  }
  const said = words.map((each) => (each ?? "").replace(/\s+/g, " ").trim());
  return said.filter(Boolean).join(", ").slice(0, LONGEST_LINE);
}

function onwards(note) {
  location.assign(note.address || `/note/said/${note.id}/${ofStudio(note.studio)}`);
}

/** The form again with the larder's sentence; sent once more it is the same note, put right. */
function sayRefused(form, note) {
  form.removeAttribute("aria-busy");
  form.querySelector("[role=alert]")?.remove();
  const said = document.createElement("p");
  said.setAttribute("role", "alert");
  said.className = "caution note-faults";
  said.textContent = note.words || wordsOf("refused");
  form.prepend(said);
  said.scrollIntoView({ block: "center" });
}

/** The note is safe here; the form makes room for the next one. */
function sayKept(form, note, how) {
  const said = document.getElementById("note-kept").content.cloneNode(true).firstElementChild;
  said.querySelector("[data-when]").textContent = clockOf(note.occurred_at);
  said.querySelector("[data-line]").textContent = note.line;
  said.querySelector("[data-why]").textContent = wordsOf(how);
  said.querySelector("button").addEventListener("click", () => {
    form.reset();
    beginAnew(form);
    said.replaceWith(form);
    form.scrollIntoView();
  });
  form.replaceWith(said);
  said.focus();
  // Asked where it is plain what for: a phone may else throw away what was kept for a week.
  navigator.storage?.persist?.().catch(() => {});
}

/** Where a browser can, it hands over what waits with every page closed. */
function remindTheBrowser() {
  navigator.serviceWorker?.ready
    .then((worker) => worker.sync?.register("larder-notes"))
    .catch(() => {}); // Not allowed or not there: it goes when a page is opened.
}

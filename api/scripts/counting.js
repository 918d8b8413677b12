/* A count by taps, and keys, beside a field that takes a number: comfort, and nothing but that. */

const MOST_COUNTED = 9999;

function countByTaps() {
  for (const shape of document.querySelectorAll("template[data-taps]")) {
    const asked = shape.closest("fieldset");
    const taps = shape.content.cloneNode(true).firstElementChild;
    shape.before(taps);
    tapsFor(asked, asked.querySelector("input[inputmode]"), taps);
  }
}

function tapsFor(asked, field, taps) {
  const there = () => Number.parseInt(field.value, 10) || 0;
  const set = (number) => {
    field.value = number > 0 ? Math.min(number, MOST_COUNTED) : "";
    show();
  };
  const show = () => {
    const piece = pieceOf(asked);
    taps.hidden = !piece;
    taps.querySelector("[data-count]").textContent = there();
    if (piece) showLikely(taps.querySelector("[data-likely]"), Number(piece.dataset.eachG), there());
  };
  const add = (by) => {
    set(there() + by);
    navigator.vibrate?.(15);
  };
  taps.querySelector("[data-tap]").addEventListener("click", () => add(1));
  taps.querySelector("[data-less]").addEventListener("click", () => add(-1));
  for (const key of taps.querySelectorAll("[data-key]")) {
    key.addEventListener("click", () => set(Number(`${there()}${key.dataset.key}`)));
  }
  taps.querySelector("[data-rub-out]").addEventListener("click", () => set(Math.floor(there() / 10)));
  asked.addEventListener("input", show); // the number itself, and its unit
  field.form.addEventListener("reset", () => setTimeout(show));
  show();
}

/** What is counted, where the unit that is chosen counts at all. */
function pieceOf(asked) {
  const unit = asked.querySelector("input[type=radio]:checked")?.value;
  const pieces = [...asked.querySelectorAll("[data-piece]")];
  return pieces.find((each) => each.dataset.piece === unit);
}

/** What so many likely weigh, by what the studio weighed before. */
function showLikely(place, eachG, count) {
  place.hidden = !eachG || !count;
  const looks = { maximumFractionDigits: 0 };
  const grams = new Intl.NumberFormat(document.documentElement.lang, looks).format(eachG * count);
  place.querySelector("[data-grams]").textContent = grams;
}

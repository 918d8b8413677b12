/* A count by taps, and a keypad, beside the field that takes the count as a number. */

const MOST_COUNTED = 9999;

function countByTaps() {
  const shape = document.getElementById("count-by-taps");
  if (!shape) return;
  for (const field of document.querySelectorAll("input[data-taps]")) {
    const taps = shape.content.cloneNode(true).firstElementChild;
    field.closest(".field, p, fieldset").after(taps);
    tapsFor(field, taps);
  }
}

function tapsFor(field, taps) {
  const set = (number) => {
    field.value = number > 0 ? Math.min(number, MOST_COUNTED) : "";
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const there = () => Number.parseInt(field.value, 10) || 0;
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
  const show = () => {
    taps.querySelector("[data-count]").textContent = there();
    showLikely(field, taps, there());
  };
  field.addEventListener("input", show);
  show();
}

/** What so many likely weigh, by the studio's own mean where it has one. */
function showLikely(field, taps, count) {
  const each = Number(field.dataset.eachG);
  const likely = taps.querySelector("[data-likely]");
  likely.hidden = !each || !count;
  likely.querySelector("[data-grams]").textContent = Math.round(each * count).toLocaleString();
}

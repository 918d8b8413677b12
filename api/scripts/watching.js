/* A page that tells how far something has come tells it anew by itself. */

const AGAIN_AT_LEAST_MS = 1000;

/** Ask for the page once more and put its middle in place of this one, as long as it is to go on. */
function watchOn() {
  const told = document.querySelector("[data-again]");
  if (!told || isACopy) return;
  const wait = Math.max(AGAIN_AT_LEAST_MS, Number(told.dataset.again) || 0);
  setTimeout(lookOnce, wait);
}

async function lookOnce() {
  if (document.hidden) return watchOn();
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const [now, next] = [document.querySelector("main"), page.querySelector("main")];
    if (answer.ok && now && next) now.replaceWith(next);
  } catch {
    // Without a signal it is asked again later.
  }
  watchOn();
}

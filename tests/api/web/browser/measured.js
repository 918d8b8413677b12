// What axe does not ask of a page: each function gives sentences, none when all is well.
() => {
  const LEAST = 48;
  const TOUCHED = "a[href], button, input:not([type=hidden]), select, textarea, summary";

  const named = (node) => {
    const words = (node.innerText || node.getAttribute("aria-label") || node.name || "").trim();
    return `<${node.localName}> “${words.replace(/\s+/g, " ").slice(0, 40)}”`;
  };
  const shown = (node) => {
    const box = node.getBoundingClientRect();
    const seen = node.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true });
    return seen && box.width > 1 && box.height > 1 && !node.closest(".unseen, .skip");
  };
  const framed = (node) => {
    for (let above = node.parentElement; above; above = above.parentElement) {
      if (getComputedStyle(above).overflowX !== "visible") return above !== document.body;
    }
    return false;
  };
  // A link among words has the height of its line; one with nothing beside it is touched alone.
  const amongWords = (node) => {
    if (!getComputedStyle(node).display.startsWith("inline") || node.localName !== "a") return false;
    let block = node.parentElement;
    while (getComputedStyle(block).display.startsWith("inline")) block = block.parentElement;
    const beside = block.innerText.replace(/\s+/g, "").length;
    return beside > node.innerText.replace(/\s+/g, "").length;
  };
  // A box to tick is touched on its words too, whether they stand round it or beside it.
  const touchable = (node) => {
    const words = ["checkbox", "radio"].includes(node.type) ? [...node.labels] : [];
    const boxes = [node, ...words].map((each) => each.getBoundingClientRect());
    const span = (low, high) =>
      Math.max(...boxes.map((box) => box[high])) - Math.min(...boxes.map((box) => box[low]));
    return span("top", "bottom") >= LEAST - 0.5 && span("left", "right") >= LEAST - 0.5;
  };
  const sized = (node) => {
    const box = node.getBoundingClientRect();
    return `${named(node)} is ${Math.round(box.width)} × ${Math.round(box.height)} px`;
  };

  const sideways = () => {
    const room = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= room) return [];
    const out = [...document.body.querySelectorAll("*")].filter(
      (node) => shown(node) && node.getBoundingClientRect().right > room + 1 && !framed(node),
    );
    const first = out.slice(0, 4).map((node) => `${named(node)} .${node.className.baseVal ?? node.className}`);
    return [`${document.documentElement.scrollWidth} px wide in ${room}: ${first.join(", ")}`];
  };
  const targets = () =>
    [...document.querySelectorAll(TOUCHED)]
      .filter((node) => shown(node) && !amongWords(node) && !touchable(node))
      .map(sized);
  // A state has its colour, a mark and a word, so each of the three may fail a reader.
  const marks = () => {
    const silent = [...document.querySelectorAll(".mark")]
      .filter((node) => shown(node) && !(node.parentElement.innerText || "").trim())
      .map((node) => `a mark without a word in ${node.parentElement.outerHTML.slice(0, 80)}`);
    const unmarked = [...document.querySelectorAll(".is-yes, .is-wait, .is-no, .is-see")]
      .filter((node) => shown(node) && !node.querySelector(".mark, [aria-hidden=true]") && !node.closest("svg"))
      .map((node) => `a colour without a mark: ${named(node)}`);
    return [...silent, ...unmarked];
  };
  const landmarks = () => {
    const count = (what) => document.querySelectorAll(what).length;
    const wanted = { main: 1, "body > header": 1, "body > footer": 1, "h1": 1 };
    return Object.entries(wanted)
      .filter(([what, times]) => count(what) !== times)
      .map(([what]) => `${count(what)} of ${what}`);
  };
  return { sideways: sideways(), targets: targets(), marks: marks(), landmarks: landmarks() };
}

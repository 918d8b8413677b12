// Where the keyboard is: its place among all that it should reach, and what is wrong with it there.
() => {
  const REACHED = "a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex='0']";
  const node = document.activeElement;
  if (!node || node === document.body) return null;
  const all = [...document.querySelectorAll(REACHED)].filter((each) => each.checkVisibility());
  const words = (node.innerText || node.name || node.localName).trim().replace(/\s+/g, " ").slice(0, 40);
  const box = node.getClientRects()[0];
  const faults = [];
  const look = getComputedStyle(node);
  if (look.outlineStyle === "none" || parseFloat(look.outlineWidth) < 2) faults.push("no outline");
  if (!box || box.bottom <= 0 || box.top >= innerHeight) faults.push("outside of what is seen");
  else {
    const there = document.elementFromPoint(
      Math.min(Math.max(box.left + box.width / 2, 1), innerWidth - 1),
      Math.min(Math.max(box.top + box.height / 2, 1), innerHeight - 1),
    );
    if (there && !node.contains(there) && !there.contains(node)) faults.push("covered");
  }
  return { at: all.indexOf(node), of: all.length, words, faults };
}

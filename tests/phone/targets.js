// Every control that can be seen: its size, and how far it is from the nearest other one.
() => {
  // Lines off the screen are not laid out until they come near; here all are looked at as if they had.
  for (const line of document.querySelectorAll(".step, .gate")) line.style.contentVisibility = "visible";
  const asking = document.querySelector("dialog:modal") ?? document;
  const controls = [...asking.querySelectorAll("a[href], button, summary, input, textarea, select")]
    .map((node) => (node.matches("input[type=radio], input[type=file]") ? node.closest("label") : node))
    .filter((node) => node.checkVisibility({ visibilityProperty: true }) && !node.closest(".unseen, .skip"));
  const box = (node) => (node.closest(".gauge") ?? node).getBoundingClientRect();
  // What stays in place while the rest scrolls under it is never pressed by mistake for what it covers.
  const fixed = (node) => node.closest(".bar, dialog form > .choices") !== null;
  return controls.map((node) => {
    const here = box(node);
    const gaps = controls.filter((other) => other !== node && fixed(other) === fixed(node) && !node.contains(other) && !other.contains(node)).map((other) => {
      const there = box(other);
      return Math.max(there.left - here.right, here.left - there.right, there.top - here.bottom, here.top - there.bottom);
    });
    return { text: (node.innerText || node.id).trim().slice(0, 40), width: here.width, height: here.height, gap: Math.min(...gaps, 999) };
  });
}

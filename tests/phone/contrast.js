// Every piece of text on the page with its contrast against what lies behind it.
() => {
  const channels = (colour) => colour.match(/[\d.]+/g).map(Number);
  const luminance = ([red, green, blue]) => {
    const [r, g, b] = [red, green, blue].map((c) => (c / 255 <= 0.03928 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = (node) => {
    for (let at = node; at; at = at.parentElement) {
      const colour = channels(getComputedStyle(at).backgroundColor);
      if (colour[3] !== 0) return colour;
    }
    return [255, 255, 255];
  };
  const found = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !node.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    if (node.closest(".unseen, noscript, script")) continue;
    const style = getComputedStyle(node);
    const [ink, ground] = [luminance(channels(node.closest("svg") ? style.fill : style.color)), luminance(behind(node))];
    const ratio = (Math.max(ink, ground) + 0.05) / (Math.min(ink, ground) + 0.05);
    found.push({ text: walker.currentNode.data.trim().slice(0, 40), ratio });
  }
  return found;
}

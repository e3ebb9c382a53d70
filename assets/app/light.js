// Day or night, settled before the first paint so that nobody's eyes are flashed in the dark.
// A classic script: a module would run only after the page is drawn.
{
  const darkOutside = matchMedia("(prefers-color-scheme: dark)");
  const show = () => {
    let chosen = null;
    try { chosen = localStorage.getItem("pitslate-light"); } catch { /* no store: follow the phone */ }
    document.documentElement.dataset.light = chosen ?? (darkOutside.matches ? "night" : "day");
    const bar = /** @type {HTMLMetaElement|null} */ (document.querySelector("meta[name=theme-color]"));
    if (bar) bar.content = document.documentElement.dataset.light === "night" ? "#0b0f12" : "#ffffff";
  };
  show();
  darkOutside.addEventListener("change", show);
  addEventListener("pitslate-light", show);
}

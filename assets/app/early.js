// What must be settled before the page is drawn, or must run even where the app's own script does not.
// A classic script: a module would run only after the page is drawn.

// Day or night, so that nobody's eyes are flashed in the dark.
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

// What the app works from is asked for at once. It is asked here and not there, since a browser that notes where a
// request came from reads the whole script again to find the line.
{
  const { root } = document.documentElement.dataset;
  const own = new URL(root || "./", location.href);
  const asked = ["job.json", "words.json", "build.json"].map((path) => fetch(new URL(path, own)).then((response) => response.json()));
  Object.assign(globalThis, { pitslateData: Promise.all(asked) });
}

// A build that does not start is told to the worker, which goes back to the one that did.
{
  const { dataset } = document.documentElement;
  const told = () => {
    if ("started" in dataset || "failed" in dataset) return;
    dataset.failed = "";
    const words = /** @type {HTMLElement|null} */ (document.querySelector("[data-part=not-started]"));
    if (words) words.hidden = false;
    navigator.serviceWorker?.controller?.postMessage({ failed: dataset.build });
  };
  // Also what can't be loaded: such errors do not bubble.
  addEventListener("error", told, true);
  addEventListener("unhandledrejection", told);
  // Long enough for the slowest phone.
  setTimeout(told, 30000);
}

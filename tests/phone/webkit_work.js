// Works one sheet in a frame of the same origin, where no driver can: a browser that is driven keeps nothing on disk.
// Tells the test's server what was held at the start, and each reading that the screen showed as saved.
const frame = document.querySelector("iframe");
const one = (selector) => frame.contentDocument.querySelector(selector);
const tell = (kind, value) => fetch("/told", { method: "POST", body: JSON.stringify([kind, value]) });
const until = async (holds) => {
  for (;;) {
    try {
      if (holds()) return;
    } catch { /* The page is on its way. */ }
    await new Promise((done) => { setTimeout(done, 5); });
  }
};
onerror = (fault) => { tell("fault", String(fault)); };
onunhandledrejection = ({ reason }) => { tell("fault", String(reason)); };

const held = () => new Promise((done) => {
  const asked = indexedDB.open("pitslate-record-yard");
  asked.onsuccess = () => {
    const all = asked.result.transaction("chain").objectStore("chain").getAll();
    all.onsuccess = () => {
      asked.result.close();
      done(all.result.map(({ payload }) => JSON.parse(payload).value));
    };
  };
});

async function introduce() {
  one("[data-part=next]").click();
  await until(() => one("dialog input[name=person]"));
  one("dialog input[name=person]").click();
  one("dialog form > label input.field").value = "Pit one";
  one("[data-part=ask-yes]").click();
  await until(() => one("[data-part=crew]").textContent.includes("Ada Quill"));
}

async function work() {
  frame.src = "tasks/drawing/draw.html#R1";
  await until(() => one("[data-part=next]").textContent !== "");
  await tell("start", { held: await held(), notices: one("[data-part=notices]").textContent, crew: one("[data-part=crew]").textContent });
  if (!one("[data-part=crew]").textContent.includes("Ada Quill")) await introduce();
  await enterAgain(() => frame.contentDocument, (typed) => tell("saved", typed));
}
work();

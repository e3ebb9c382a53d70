// Works the sheet of a page as fast as it answers: enters the drum's number again and again, and tells each one that was
// shown as saved. `page` gives the document, which may be on its way.
async function enterAgain(page, saved) {
  const one = (selector) => page().querySelector(selector);
  const until = async (holds) => {
    for (;;) {
      try {
        if (holds()) return;
      } catch { /* The page is on its way. */ }
      await new Promise((done) => { setTimeout(done, 5); });
    }
  };
  for (let number = 0; ; number += 1) {
    const typed = `D ${performance.timeOrigin} ${number}`;
    const step = one("#step-drum-number");
    await until(() => !step.querySelector("form[aria-busy]"));
    if (step.querySelector("form").hidden) {
      step.querySelector("details.more").open = true;
      [...step.querySelectorAll("button")].find((button) => button.textContent === "Enter again").click();
    }
    step.querySelector("[name=reading]").value = typed;
    step.querySelector("form").requestSubmit();
    await until(() => {
      const given = step.querySelector(".given").textContent;
      return given.includes(typed) && given.includes("saved");
    });
    saved(typed);
  }
}

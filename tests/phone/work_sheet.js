// Works steps of the sheet in sight through its own buttons and fields, and looks at what each then shows. `steps` are
// those that apply, in order: {name, kind, text, unit, choice, photo, who, signed}. Gives one line for each step that is not as it should be.
async (steps) => {
  const found = [];
  const turn = () => new Promise((go) => { setTimeout(go); });
  const until = async (wanted, what) => {
    const last = performance.now() + 20000;
    while (!wanted()) {
      if (performance.now() > last) throw new Error(`${what} did not come`);
      await turn();
    }
  };
  const inside = (node, name) => node.querySelector(`[data-part=${name}]`);
  const dialog = () => document.querySelector("dialog");
  const ready = (node) => !inside(node, "form").hidden && !inside(node, "form").hasAttribute("aria-busy");
  const picture = async () => {
    const canvas = Object.assign(document.createElement("canvas"), { width: 64, height: 48 });
    canvas.getContext("2d").fillRect(8, 8, 24, 16 + found.length);
    const files = new DataTransfer();
    files.items.add(new File([await new Promise((done) => { canvas.toBlob(done, "image/jpeg"); })], "pit.jpg", { type: "image/jpeg" }));
    return files.files;
  };
  const agree = async (what) => {
    dialog().querySelector("[data-part=ask-yes]").click();
    await until(() => !dialog(), `the end of the question of ${what}`);
  };

  const answer = async (node, step) => {
    if (step.kind === "read" && step.choice) {
      node.querySelector(`button[value="${step.text}"]`).click();
    } else {
      if (step.kind === "read") {
        const field = node.querySelector("[name=reading]");
        field.value = step.text;
        field.dispatchEvent(new Event("input", { bubbles: true }));
      }
      node.querySelector("form .act").click();
    }
    await until(() => node.dataset.state === "answered" || inside(node, "refused").textContent, `the answer of ${step.name}`);
    if (step.photo) {
      const camera = inside(node, "photos").querySelector("input[type=file]");
      camera.files = await picture();
      camera.dispatchEvent(new Event("change"));
      await until(dialog, `the photo of ${step.name}`);
      await agree(step.name);
      await until(() => node.dataset.shown !== "photo", `the photo of ${step.name} on the sheet`);
    }
    const said = node.querySelector(".given")?.textContent ?? "";
    const shown = step.choice ? node.querySelector(`button[value="${step.text}"]`).textContent.trim() : step.text;
    if (node.dataset.shown !== "done") found.push(`${step.name} is shown as ${node.dataset.shown}: ${inside(node, "refused").textContent} ${inside(node, "verdict").textContent}`);
    if (step.kind === "read" && !said.startsWith(`${shown} `)) found.push(`${step.name}: ${shown} was entered, and it says: ${said}`);
    if (!said.includes("Saved on this phone") && !said.includes(step.who)) found.push(`${step.name} does not say who: ${said}`);
    if (step.accept !== (inside(node, "verdict").textContent.trim() !== "")) found.push(`${step.name} has no verdict, or one too many`);
  };

  const release = async (node, step) => {
    node.querySelector("form .act").click();
    await until(dialog, `the question of ${step.name}`);
    [...dialog().querySelectorAll(".person")].find((label) => label.textContent.includes(step.who)).querySelector("input").click();
    if (step.signed) dialog().querySelector(".sign input").value = "EW 4711";
    await agree(step.name);
    await until(() => node.dataset.state === "open", `the opening of ${step.name}`);
    if (!inside(node, "answer").textContent.includes(step.who)) found.push(`${step.name} does not say who released it`);
  };

  for (const step of steps) {
    const node = document.getElementById(`step-${step.name}`);
    const hold = step.kind === "hold";
    await until(() => ready(node) && (hold || node.dataset.state === "open"),
      `the form of ${step.name} (${node.dataset.state}; ${hold ? inside(node, "blocks").textContent : inside(node, "answer").textContent})`);
    if (!node.querySelector(".say").checkVisibility()) found.push(`${step.name} is not in sight`);
    await (hold ? release : answer)(node, step);
  }
  return found;
}

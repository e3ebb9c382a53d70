"""From a phone's screen to the desk: what the phone works out and shows is what collect works out again."""

import random
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

from builder.record.collect import GOOD
from tests.compile.page import write_page
from tests.record.phone import record_text
from tests.record.test_collect import Desk

READ = """
async ([root, build, taken]) => {
  const { Environment, plausible } = await import(`${root}app/environment.mjs`);
  const { openRecord } = await import(`${root}app/store.mjs`);
  const { units } = await import(`${root}app/units.mjs`);
  const job = await fetch(`${root}job.json`).then((got) => got.json());
  const surroundings = { indexedDB, subtle: crypto.subtle, locks: navigator.locks, clock: () => new Date("2026-03-04T10:00:00+10:00") };
  const record = await openRecord(surroundings, job, build);
  await record.begin({ name: "Ana's phone", who: "Ana" });
  for (const sheet of job.sheets) {
    const task = job.tasks[sheet.task];
    const readings = {};
    for (const { name, unit, workings } of task.steps) {
      if (!(sheet.id in taken) || !(name in taken[sheet.id])) continue;
      const read = plausible(task, name, taken[sheet.id][name]);
      readings[name] = read;
      const environment = new Environment(job, sheet, readings);
      const working = {};
      for (const wanted of workings) {
        const { outputs, cannot_tell } = environment.working(wanted);
        working[wanted] = cannot_tell ? {} : Object.fromEntries(Object.entries(outputs).map(([output, { text }]) => [output, text]));
      }
      await record.append({
        who: "Ana", kind: "reading", sheet: sheet.id, step: name, value: taken[sheet.id][name],
        unit: unit ? units[unit].ucum : null, shown: { verdict: environment.step(name).verdict, working },
      });
    }
  }
  return (await record.export()).text;
}
"""


def _taken(job: dict[str, Any], chance: random.Random, sheets: int) -> dict[str, dict[str, str]]:
    """A believable reading for every reading of some sheets, of as many figures as people read off."""
    taken: dict[str, dict[str, str]] = {}
    for sheet in chance.sample(job["sheets"], sheets):
        for step in job["tasks"][sheet["task"]]["steps"]:
            if step["kind"] == "read":
                low, high = step["plausible"] or (0, 0)
                number = f"{min(high, low + (high - low) * chance.random() ** 4):.{chance.randrange(3)}f}"
                inside = number if low <= float(number) <= high else str(int(high))
                value = chance.choice(step["one_of"]) if step["one_of"] else inside if step["unit"] else "as seen"
                taken.setdefault(sheet["id"], {})[step["name"]] = value
    return taken


def test_what_the_phone_showed_is_worked_out_again_alike(
    browser: Any, demo_folder: Path, serve_folder: Callable[[Path], Any], tmp_path: Path, full: bool
) -> None:
    """Readings of the demo job, taken on the phone at random: signed, sent, accepted, and nothing differs."""
    seed = random.randrange(2**32)
    print(f"seed {seed}")
    chance = random.Random(seed)
    desk = Desk(demo_folder, tmp_path)
    apart = tmp_path / "apart"
    apart.mkdir()
    write_page(apart, desk.job)
    shutil.copy(demo_folder / "job.json", apart)
    site = serve_folder(apart).url
    sheets = len(desk.job["sheets"])
    for number in range(20 if full else 1):
        context = browser.new_context(bypass_csp=True)
        page = context.new_page()
        page.goto(site)
        text = page.evaluate(READ, [site, desk.build, _taken(desk.job, chance, sheets if full else sheets // 3)])
        context.close()
        code = desk.collect(desk.put(f"ana-{number}.json", text))
        assert GOOD == code, desk.said


def test_the_board_works_from_a_file(browser: Any, demo_folder: Path, tmp_path: Path) -> None:
    """Its style comes along, nothing is refused by its own policy, and it fits a narrow screen."""
    desk = Desk(demo_folder, tmp_path)
    phone = desk.phone("Bo's <b>phone</b>")
    phone.tell("snag", sheet="cable-pulling/before-the-pull/R1", value="Edge at the <script>pit</script>")
    desk.collect(desk.put("bo.json", record_text(phone.entries, phone)))
    context = browser.new_context(viewport={"width": 320, "height": 640})
    page = context.new_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.goto((desk.out / "board.html").as_uri())
    assert "32px" == page.evaluate("getComputedStyle(document.querySelector('h1')).fontSize")
    assert 320 == page.evaluate("document.documentElement.scrollWidth")
    assert page.locator("#look").get_by_text("Edge at the <script>pit</script>").is_visible()
    assert [] == complaints
    context.close()

"""A signature under a release: drawn or typed, and the gate stays shut without it."""

from playwright.sync_api import expect

from tests.phone.hands import Phone
from tests.phone.test_photos import jpeg, phone, take, weir  # noqa: F401 - the same job and phone


def ready(phone: Phone) -> None:  # noqa: F811 - the fixture's name
    """Works the sheet up to its hold."""
    phone.do("fence")
    phone.do("service")
    take(phone, "service", jpeg(phone))


def test_a_release_is_signed_with_a_finger(phone: Phone) -> None:  # noqa: F811
    """The strokes are kept as whole points of their field, shown under the release, and the gate opens."""
    ready(phone)
    phone.step("may-dig").get_by_role("button", name="Release this hold").click()
    field = phone.dialog.locator(".sign-field")
    field.scroll_into_view_if_needed()
    box = field.bounding_box()
    phone.page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    phone.page.mouse.down()
    phone.page.mouse.move(box["x"] + box["width"] + 40, box["y"] + box["height"] / 2, steps=5)
    phone.page.mouse.up()
    phone.dialog.get_by_label("Licence number").fill("EW 4711")
    phone.agree()
    expect(phone.step("may-dig")).to_have_attribute("data-state", "open")
    release, signed = phone.entries("weir")[-2:]
    assert ("release", "signed", [signed["prev"]]) == (release["kind"], signed["kind"], signed["about"])
    assert ("EW 4711", "Ada Quill") == (signed["value"], signed["who"])
    assert signed["drawn"].startswith("M300 100L300 100L")
    assert 596 <= int(signed["drawn"].split("L")[-1].split()[0]) <= 600
    phone.open("tasks/evidence/dig.html#T1")
    expect(phone.step("may-dig").locator(".signature path")).to_have_attribute("d", signed["drawn"])
    expect(phone.step("may-dig")).to_contain_text("Signed: Ada Quill, licence EW 4711")


def test_a_typed_name_is_signature_enough_and_a_release_without_one_is_none(phone: Phone) -> None:  # noqa: F811
    """Where the phone fell asleep between release and signature the gate stays shut and asks for it; the keyboard alone gives it."""
    ready(phone)
    phone.page.evaluate("""() => {
      const real = IDBObjectStore.prototype.add;
      let count = 0;
      IDBObjectStore.prototype.add = function add(value) {
        count += 1;
        if (count === 2) throw new DOMException("made to fail", "QuotaExceededError");
        return real.call(this, value);
      };
    }""")
    phone.release("may-dig", "Ada Quill")
    expect(phone.page.locator("[data-part=notices]")).to_contain_text("the phone is full")
    gate = phone.step("may-dig")
    expect(gate).to_have_attribute("data-state", "shut")
    expect(gate.locator("[data-part=gate-state]")).to_have_text("Released, and not signed yet")
    gate.get_by_role("button", name="Sign", exact=True).focus()
    phone.page.keyboard.press("Enter")
    phone.dialog.locator("[data-part=ask-yes]").focus()
    phone.page.keyboard.press("Enter")
    expect(gate).to_have_attribute("data-state", "open")
    expect(gate).to_contain_text("Signed: Ada Quill")
    assert ("", "") == tuple(phone.entries("weir")[-1][key] for key in ("value", "drawn"))

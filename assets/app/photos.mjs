/** Photos on a sheet: taken, shown small beside what they show, and opened large. */

import { ask } from "./ask.mjs";
import { scaledPhoto } from "./camera.mjs";
import { element } from "./element.mjs";
import { notice } from "./needed.mjs";
import { byLine } from "./said.mjs";
import { say } from "./words.mjs";

/**
 * What opens the camera. The words of a step or a snag are on disk by then, whatever the camera does to this page.
 * @param {string} words @param {{step: string|null, about?: string[]}} where @param {Object} page the sheet's page
 */
export function photoButton(words, where, page) {
  const input = element("input", { type: "file", accept: "image/*", capture: "environment", class: "unseen" });
  input.onchange = async () => {
    const [file] = input.files;
    input.value = "";
    if (file) await takePhoto(file, where, page);
  };
  return element("label", { class: "plain-act quiet file" }, element("span", {}, words), input);
}

async function takePhoto(file, where, page) {
  const { hand } = page;
  if (hand.person === null && await hand.askPerson() === null) return;
  try {
    const { photo, described } = await scaledPhoto(hand.record.subtle, file);
    const address = hand.pictures.keep(photo);
    await ask({
      question: say("photo.ask"), detail: say("photo.ask_detail"), yes: say("photo.keep"),
      inside: element("img", { class: "large", src: address, alt: "" }), words: { label: say("photo.caption"), missing: null },
      // The photo stays in sight until it is on disk.
      refuse: (answer) => page.tell({ kind: "photo", ...where, value: answer.words, photo: described }, hand.person, photo)
        .then(() => null, (problem) => problem.message),
    }, hand.people);
  } catch (problem) {
    notice(say("photo.not_taken"), problem.message);
  }
}

/**
 * @param {import("./payload.mjs").Said[]} photos @param {import("./job-in-hand.mjs").JobInHand} hand
 * @returns {HTMLElement[]}
 */
export function photoStrip(photos, hand) {
  return photos.length === 0 ? [] : [element("div", { class: "photos" }, ...photos.map((entry) => thumb(entry, hand)))];
}

function thumb(entry, hand) {
  const image = element("img", { alt: entry.value || say("photo.by", { name: entry.who }), decoding: "async" });
  const button = element("button", { type: "button", class: "thumb", click: () => openLarge(entry, hand) }, image);
  hand.pictures.show(entry.photo.sha256, image, () => button.replaceChildren(say("photo.missing")));
  return button;
}

async function openLarge(entry, hand) {
  let unwanted = false;
  const image = element("img", { class: "large", alt: entry.value || say("photo.by", { name: entry.who }) });
  const back = element("button", {
    type: "button", class: "quiet", click: () => {
      unwanted = true;
      back.form.requestSubmit();
    },
  }, say("step.take_back"));
  hand.pictures.show(entry.photo.sha256, image, () => image.replaceWith(element("p", {}, say("photo.missing_detail"))));
  await ask({
    question: say("photo.title"), yes: say("photo.close"), only: true,
    inside: element("div", { class: "opened" }, image, element("p", {}, entry.value, " ", byLine(entry, hand)), back),
  }, hand.people);
  if (unwanted) await takeBack(entry, hand);
}

async function takeBack({ id, sheet, step }, hand) {
  await ask({
    question: say("step.take_back_ask"), detail: say("step.take_back_detail"), yes: say("step.take_back"),
    words: { label: say("step.reason"), missing: say("step.reason_missing") }, person: hand.person,
    refuse: ({ words, person }) => hand.tell({ kind: "withdraw", sheet, step, value: words, about: [id] }, person)
      .then(() => null, (problem) => problem.message),
  }, hand.people);
}

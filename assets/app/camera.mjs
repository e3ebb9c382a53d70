/** A photo from the camera, made small enough for a record of many. What the camera wrote beside it stays behind. */

import { namedPhoto, NoPhoto, photoSize } from "./photo.mjs";
import { say } from "./words.mjs";

// Longest side in points and quality, the best first; a busy picture is made plainer until it is small enough.
const WAYS = [[1600, 0.8], [1600, 0.6], [1200, 0.6], [1000, 0.4]];
const SMALL_ENOUGH = 600 * 1024;

/**
 * @param {SubtleCrypto} subtle @param {Blob} file
 * @returns {Promise<{photo: import("./photo.mjs").Photo, described: {sha256: string, bytes: number, width: number, height: number}}>}
 */
export async function scaledPhoto(subtle, file) {
  const picture = await opened(file);
  let bytes = null;
  for (const [longest, quality] of WAYS) {
    bytes = await written(picture, longest, quality);
    if (bytes.length <= SMALL_ENOUGH) break;
  }
  const [width, height] = photoSize(bytes);
  const photo = await namedPhoto(subtle, bytes);
  return { photo, described: { sha256: photo.sha256, bytes: photo.size, width, height } };
}

async function opened(file) {
  const address = URL.createObjectURL(file);
  const picture = new Image();
  picture.src = address;
  try {
    // Turned the right way up: the browser follows what the camera wrote about it.
    await picture.decode();
    return picture;
  } catch {
    throw new NoPhoto(say("photo.unreadable"));
  } finally {
    URL.revokeObjectURL(address);
  }
}

async function written(picture, longest, quality) {
  const scale = Math.min(1, longest / Math.max(picture.naturalWidth, picture.naturalHeight));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.naturalWidth * scale));
  canvas.height = Math.max(1, Math.round(picture.naturalHeight * scale));
  const field = canvas.getContext("2d");
  field.imageSmoothingQuality = "high";
  field.drawImage(picture, 0, 0, canvas.width, canvas.height);
  /** @type {Blob|null} */
  const blob = await new Promise((done) => { canvas.toBlob(done, "image/jpeg", quality); });
  if (blob === null) throw new NoPhoto(say("photo.unreadable"));
  return new Uint8Array(await blob.arrayBuffer());
}

/** Pictures for the screen: each photo is read from disk once, and shown from an address of this page alone. */

export class Pictures {
  /** @param {import("./photo-store.mjs").PhotoStore} photos */
  constructor(photos) {
    this.photos = photos;
    /** @type {Map<string, string>} */
    this.addresses = new Map();
  }

  /** A photo that was just taken. @param {import("./photo.mjs").Photo} photo @returns {string} its address */
  keep({ sha256, bytes }) {
    const address = URL.createObjectURL(new Blob([/** @type {Uint8Array<ArrayBuffer>} */ (bytes)], { type: "image/jpeg" }));
    this.addresses.set(sha256, address);
    return address;
  }

  /**
   * Shows a photo in an image, or does `missing` where there is none, or none that can be shown.
   * @param {string} sha256 @param {HTMLImageElement} image @param {() => void} missing
   */
  async show(sha256, image, missing) {
    image.onerror = missing;
    if (!this.addresses.has(sha256)) {
      const bytes = await this.photos.bytes(sha256).catch(() => null);
      if (bytes === null) return missing();
      this.keep({ sha256, size: bytes.length, bytes });
    }
    image.src = this.addresses.get(sha256);
  }
}

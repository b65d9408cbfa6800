// Pictures of a job, photos and curves: taken or chosen, scaled down, kept in this browser with the job, never sent.
import { all, element, one } from "./dom.js";
import { complain } from "./fill.js";
import { job } from "./job.js";
import { newId } from "./record.js";
import { store } from "./store.js";
import { say } from "./words.js";

const LONGEST = 1600; // the longer side of a kept photo [px]
const QUALITY = 0.8;
const addresses = new Map();

async function scaledDown(file) {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return canvas;
}

/**
 * Keeps what was drawn on a canvas with the job.
 * @param {HTMLCanvasElement} canvas
 * @param {string} about
 */
export async function keepPicture(canvas, about) {
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
  if (!job.record()) job.begin();
  const record = job.record();
  const photo = { id: newId(), at: new Date().toISOString(), about };
  await store.putPhoto({ ...photo, job: record.id, blob });
  job.note({ photos: [...record.photos, photo] });
  drawPhotos();
}

async function addressOf(id) {
  if (!addresses.has(id)) {
    const kept = await store.photo(id);
    if (kept) addresses.set(id, URL.createObjectURL(kept.blob));
  }
  return addresses.get(id);
}

/**
 * The photos of a record as figures with their captions.
 * @param {{photos: {id: string, about: string}[]}} record
 */
export async function figuresOf(record) {
  const made = [];
  for (const { id, about } of record.photos) {
    const address = await addressOf(id);
    if (!address) continue;
    const figure = element("figure");
    const picture = element("img", "", "print");
    picture.src = address;
    picture.alt = about;
    figure.append(picture, element("figcaption", about));
    made.push(figure);
  }
  return made;
}

/** Draws the strips of the page anew. */
export async function drawPhotos() {
  const record = job.record();
  const figures = record ? await figuresOf(record) : [];
  for (const strip of all("[data-job=photos]")) {
    for (const old of all("figure", strip)) old.remove();
    strip.prepend(...figures.map((figure) => figure.cloneNode(true)));
  }
}

export function startPhotos() {
  document.addEventListener("change", async (event) => {
    const field = /** @type {HTMLInputElement} */ (event.target);
    if (!field.matches("[data-photo]") || !field.files[0]) return;
    const about = one(".now h3, .made h2")?.firstChild?.textContent ?? "";
    try {
      await keepPicture(await scaledDown(field.files[0]), about.trim());
    } catch {
      complain(say("photo-refused"));
    }
    field.value = "";
  });
  job.onChange(drawPhotos);
}

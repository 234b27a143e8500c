// Photos of a find while it is filled in. The camera is the phone's own, behind a file input: the
// page may be loaded again while it is open, so what was entered is kept before.

import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { html } from '../parts/html.js';
import { announce } from '../parts/announce.js';
import { record } from '../../data/errors.js';
import { keepPhoto } from '../../data/photos.js';
import { Thumb } from './thumb.js';
import { text } from '../../text/en.js';

/**
 * @param {{photos: () => string[], before: () => Promise<unknown>, set: (photos: string[]) => Promise<unknown>, back: () => void}} props before keeps
 *   what was entered; set is given all photos, also when the page has moved on; back: the camera has come back
 */
export function PhotoPick({ photos, before, set, back }) {
  const t = text.photo;
  const input = useRef(/** @type {HTMLInputElement | null} */ (null));
  const says = useSignal('');
  const say = (/** @type {string} */ words) => {
    says.value = words;
    announce(words);
  };
  const open = async () => {
    await before();
    input.current?.click();
  };
  useEffect(() => {
    const cancelled = () => {
      back();
      say(t.cancelled);
    };
    input.current?.addEventListener('cancel', cancelled);
    return () => input.current?.removeEventListener('cancel', cancelled);
  }, []);
  const taken = async (/** @type {any} */ event) => {
    const files = [...event.target.files];
    event.target.value = ''; // the same picture may be chosen again
    back();
    if (files.length === 0) return say(t.cancelled);
    say(t.coming);
    let trouble = '';
    for (const file of files) {
      try {
        const { sha, kept } = await keepPhoto(file);
        if (!kept) trouble = t.noRoom;
        else if (!photos().includes(sha)) await set([...photos(), sha]);
      } catch (error) {
        record(`a photo: ${error}`);
        trouble = t.noPicture;
      }
    }
    say(trouble || t.kept(photos().length));
  };
  const list = photos();
  return html`<div class="photos">
    ${list.length > 0 && html`<ul class="thumbs">${list.map((sha, i) => html`<li key=${sha}><${Thumb} sha=${sha} alt=${t.alt(i + 1)} />
      <button type="button" class="quiet" aria-label=${t.removeLabel(i + 1)} data-do="remove-photo" onClick=${() => set(photos().filter((one) => one !== sha))}>${t.remove}</button></li>`)}</ul>`}
    <input ref=${input} class="unseen" type="file" accept="image/*" capture="environment" tabindex="-1" aria-hidden="true" data-camera onChange=${taken} />
    <button type="button" class="quiet" data-do="photo" onClick=${open}>${t.take}</button>
    <p class="soft">${t.scaleHint}</p>
    <p data-photo-says>${says.value}</p>
  </div>`;
}

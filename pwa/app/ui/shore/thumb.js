// A small picture, from the phone or, where that has none, from the household's server.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { html } from '../parts/html.js';
import { keptPhoto } from '../../data/photos.js';
import { syncState } from '../../data/sync.js';
import { text } from '../../text/en.js';

/** @param {{sha: string, alt: string}} props */
export function Thumb({ sha, alt }) {
  const source = useSignal('');
  const away = useSignal(false);
  useEffect(() => {
    let url = '';
    let gone = false;
    keptPhoto(sha).then((blob) => {
      if (gone) return;
      url = blob ? URL.createObjectURL(blob) : '';
      source.value = url || `/api/photos/${sha}`;
    });
    return () => {
      gone = true;
      if (url) URL.revokeObjectURL(url);
    };
  }, [sha]);
  // A find may come before its photo does: the next exchange brings it.
  useEffect(() => void (away.value = false), [syncState.value.lastMs]);
  if (away.value) return html`<span class="no-thumb soft">${text.photo.away}</span>`;
  return html`<img class="thumb" src=${source.value || undefined} alt=${alt} loading="lazy" onError=${() => (away.value = true)} />`;
}

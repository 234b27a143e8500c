// The list of stations has changed under a shore: whether its heights still hold is asked
// before a window is shown.

import { html } from '../parts/html.js';
import { CatalogueAsk } from './catalogue-ask.js';
import { doubt, save, shore } from './shore-state.js';
import { told } from './station-state.js';
import { follow } from '../route.js';
import { level } from '../parts/when.js';
import { text } from '../../text/en.js';

export function ShoreDoubt() {
  const at = shore.value;
  const why = doubt.value;
  if (!at || !why) return null;
  const t = text.doubt;
  const station = told.value?.id === at.station ? told.value : undefined;
  const now = station?.answer;
  const gone = station?.error?.code === 'unknown_station';
  const moved = now && at.datum !== '' && now.datum !== at.datum;
  const holds = async () => {
    await save({ ...at, release: why.is, datum: now.datum, stationName: now.name, place: now.place || now.country, source: now.source }, at);
    document.getElementById('page')?.focus();
  };
  return html`<section class="doubt" aria-labelledby="doubt" data-doubt=${gone ? 'gone' : moved ? 'datum' : now ? 'release' : 'unknown'}>
    <h2 id="doubt">${t.title}</h2>
    <p>${why.was ? t.release(why.was, why.is) : t.unknownRelease(why.is)}</p>
    <p>${gone ? t.gone(at.stationName) : moved ? t.datum(at.stationName, at.datum, now.datum) : now ? t.same(at.stationName, now.datum) : station?.error ? station.error.message : t.looking}</p>
    ${!gone && html`<p>${t.ask(level(at.below), at.wayOff === null ? undefined : level(at.wayOff))}</p>`}
    <${CatalogueAsk} />
    <div class="actions">
      ${now && now.datum !== 'MSL' && html`<button type="button" class=${moved ? 'quiet' : 'main'} data-do="holds" onClick=${holds}>${moved ? t.checked : t.holds}</button>`}
      <a class="button" href=${'/plan/shore/' + at.id} data-do="again" onClick=${follow}>${gone ? t.choose : t.again}</a>
    </div>
  </section>`;
}

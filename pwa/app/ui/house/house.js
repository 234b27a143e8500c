// House: this phone and its household. Its pages are under /house; /pair is where an
// invitation's link leads.

import { html } from '../parts/html.js';
import { parts } from '../route.js';
import { me } from '../../data/door.js';
import { BackupPage } from './backup-page.js';
import { DevicesPage } from './devices-page.js';
import { HistoryPage } from './history-page.js';
import { Home } from './home.js';
import { HouseholdPage } from './household-page.js';
import { InvitePage } from './invite-page.js';
import { JoinPage } from './join-page.js';
import { MeasuresPage } from './measures-page.js';
import { KindsPage } from './kinds-page.js';
import { MemberPage } from './member-page.js';
import { MembersPage } from './members-page.js';
import { later } from '../parts/later.js';
import { Page } from './page.js';
import { ReachPage } from './reach-page.js';
import { text } from '../../text/en.js';

/** Pages that only a keeper's device has a use for. */
const keepers = { devices: DevicesPage, invite: InvitePage, backup: BackupPage };

/** /house/rules: the rule sets. */
const Rules = later(async () => (await import('../rules/rules.js')).Rules);

export function House() {
  const [place, page, of, id] = parts.value;
  if (place === 'pair') return html`<${JoinPage} />`;
  if (page === 'members') return of ? html`<${MemberPage} key=${of} of=${of} />` : html`<${MembersPage} />`;
  if (page === 'household') return html`<${HouseholdPage} />`;
  if (page === 'measures') return html`<${MeasuresPage} />`;
  if (page === 'kinds') return html`<${KindsPage} />`;
  if (page === 'rules') return html`<${Rules} />`;
  if (page === 'history') return html`<${HistoryPage} key=${id} kind=${of ?? ''} id=${id ?? ''} />`;
  if (page === 'reach') return html`<${ReachPage} />`;
  if (page && page in keepers) {
    const name = /** @type {keyof typeof keepers} */ (page);
    if (me.value?.device.role === 'keeper') return html`<${keepers[name]} />`;
    return html`<${Page} title=${text[name].title}><h2>${text.house.keeperOnly}</h2><p>${text.house.keeperOnlyWhy}</p><//>`;
  }
  return html`<${Home} />`;
}

// Where the person is: the part of the address after #. Sheets are places too, so that the phone's
// back button closes them and a reload opens them again.
//
//   #/                        quick check          #/sites      #/settings
//   #/site/KEY                the site             #/site/KEY/PLACE, #/site/KEY/PLACE/DETAIL
//   #/site/KEY/start/skip/STEP                     why a step is skipped
//   #/site/KEY/start/soon/STEP                     is a step done before its wait is over?
//   #/site/KEY/start/found/STEP/SIGN               a number that a step shows
//   #/site/KEY/blend/POINT, read, leave, shut      the blend: a reading, and how it is left
//   #/meter/ID                a meter of one's own
//   #/machine/ID              the site of the machine whose label was scanned
//   #/check                   a signed record: was anything in it changed?

export interface Route {
  screen: string;
  site: string;
  place: string;
  detail: string;
  step: string;
  sign: string;
}

function read(): Route {
  const [screen = '', ...rest] = location.hash.replace(/^#\//, '').split('/').map(decodeURIComponent);
  if (screen !== 'site') return { screen, site: '', place: rest[0] ?? '', detail: '', step: '', sign: '' };
  const [site = '', place = '', detail = '', step = '', sign = ''] = rest;
  return { screen, site, place, detail, step, sign };
}

export const route: Route = $state(read());
const trail = [location.hash]; // the places on the way here, this one last
let replacing = false;

addEventListener('hashchange', ({ newURL }) => {
  const here = new URL(newURL).hash; // each step, also of several at once
  if (replacing) trail[trail.length - 1] = here;
  else if (trail.at(-2) === here) trail.pop();
  else trail.push(here);
  replacing = false;
  Object.assign(route, read());
});

export const link = (...steps: string[]) => `#/${steps.map(encodeURIComponent).join('/')}`;

/** Leaves for the place above: back when one came from it, so that back does not come here again. */
export function leave(above: string) {
  if (location.hash === above) return; // a second tap
  if (trail.at(-2) === above) {
    history.back();
  } else {
    replacing = true;
    location.replace(above);
  }
}

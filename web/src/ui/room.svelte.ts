// Whether the screen has room for actions that stay in sight. Two rows of them are a good seven
// times as high as the text: where that is more than a quarter of the screen they would cover what
// they are about, and stand in the page instead.
const least = 29; // height of the screen in sizes of the text

export const room: { enough: boolean } = $state({ enough: true });

// Not a media query: those do not follow the size that the page's own text has.
function look() {
  room.enough = innerHeight >= least * parseFloat(getComputedStyle(document.documentElement).fontSize);
}
addEventListener('resize', look);
new ResizeObserver(look).observe(document.documentElement); // a new size of text resizes no window
look();

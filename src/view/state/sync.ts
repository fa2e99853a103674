/** Keeps the address and the choices in step; a step worth coming back from gets an entry in the browser's history. */
import { formatAddress, isStep, parseAddress } from "./address.ts";
import { keptOwn, type Shelf } from "./keep.ts";
import type { AppStore } from "./store.ts";

/** Browsers limit how often an address may be replaced (about a hundred times in half a minute). */
const REPLACE_AFTER_MS = 350;
/** Marks the entries of the browser's history that this page made. */
const OWN = "linewright";

/** Follows the address at once and from now on. @returns an end to it */
export function syncAddress(store: AppStore, shelf: Shelf | undefined): () => void {
  let following = false;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const follow = (event?: PopStateEvent): void => {
    clearTimeout(timer);
    following = true;
    // Going back among this page's own entries must not lose a rigging or a trial; a typed address says all.
    const own = event?.state === OWN;
    store
      .getState()
      .follow(parseAddress(location.hash, keptOwn(shelf) === undefined ? "school" : "own"), own);
    following = false;
    if (own) replace();
  };
  const replace = (): void => history.replaceState(OWN, "", formatAddress(store.getState().choices));

  follow();
  replace();
  window.addEventListener("popstate", follow);
  const end = store.subscribe((state, before) => {
    if (state.choices === before.choices || following) return;
    const address = formatAddress(state.choices);
    if (address === location.hash) return;
    clearTimeout(timer);
    if (isStep(before.choices, state.choices)) history.pushState(OWN, "", address);
    else timer = setTimeout(replace, REPLACE_AFTER_MS);
  });
  return () => {
    clearTimeout(timer);
    window.removeEventListener("popstate", follow);
    end();
  };
}

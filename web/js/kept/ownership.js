/** Each tab owns one session, by a lock that ends with the tab, however it ends. */

/** Which session this tab had before it was reloaded. */
const TAB = "lookwright.session";
/** How long a page waits for the page before it to go, in ms: one that was reloaded knows that it will. */
const PATIENCE = 2000;
const RELOADED_PATIENCE = 15_000;

/** @param {string} id */
const lockName = (id) => `lookwright.session.${id}`;

/** @returns {string | null} */
export function tabSession() {
  try {
    return sessionStorage.getItem(TAB);
  } catch {
    return null;
  }
}

/** @param {string} id the session that this tab comes back to */
export function rememberSession(id) {
  try {
    sessionStorage.setItem(TAB, id);
  } catch {
    // Without it a reload takes the session that was changed last.
  }
}

// A page that is put to sleep must not keep its session from the page that takes its place; when it
// is woken up, it asks for it anew.
addEventListener("pageshow", ({ persisted }) => {
  if (persisted) location.reload();
});

/**
 * Takes a session for this tab, for as long as the tab lives.
 * @param {string} id
 * @param {boolean} patient whether to wait a little for its owner to go
 * @returns {Promise<boolean>} whether it is this tab's now
 */
export function own(id, patient = false) {
  if (!navigator.locks) return Promise.resolve(true);
  return new Promise((resolve) => {
    const options = patient ? { signal: AbortSignal.timeout(wasReloaded() ? RELOADED_PATIENCE : PATIENCE) } : { ifAvailable: true };
    navigator.locks
      .request(lockName(id), options, (lock) => {
        resolve(lock !== null);
        return lock && new Promise((release) => addEventListener("pagehide", release, { once: true }));
      })
      .catch(() => resolve(false));
  });
}

function wasReloaded() {
  const [entry] = performance.getEntriesByType("navigation");
  return /** @type {PerformanceNavigationTiming | undefined} */ (entry)?.type === "reload";
}

/** @returns {Promise<(id: string) => boolean>} whether a session is open in a tab */
export async function openSessions() {
  const { held = [] } = (await navigator.locks?.query()) ?? {};
  const names = new Set(held.map(({ name }) => name));
  return (id) => names.has(lockName(id));
}

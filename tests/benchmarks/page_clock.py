"""When a page has answered: watched from inside the page, where nothing waits for a poll.

A page has answered when its program is not running and its content (all but the fields a reader
types in) has not changed for QUIET_MS; it answered at the last of those changes.
"""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page

QUIET_MS = 250
PATIENCE_MS = 180_000
_WATCH = """(() => {
  const fields = ['TextInput', 'NumberInput', 'Selectbox', 'DateInput', 'Slider', 'MultiSelect']
    .map((each) => `[data-testid=st${each}]`).join() + ',[role=tablist]';
  const drawn = new Set(['d', 'transform', 'x', 'y', 'width', 'height', 'aria-label', 'src']);
  const clock = window.__clock = {began: 0, changed: 0, state: 0};
  clock.start = () => { clock.began = performance.now(); clock.changed = 0; };
  clock.answered = () => {
    const quiet = performance.now() - Math.max(clock.changed, clock.state);
    const app = document.querySelector('[data-testid=stApp]');
    const still = app && app.getAttribute('data-test-script-state') === 'notRunning';
    return still && clock.changed > 0 && quiet > QUIET;
  };
  new MutationObserver((all) => {
    for (const each of all) {
      const at = each.target.nodeType === 1 ? each.target : each.target.parentElement;
      if (!at) continue;
      if (each.attributeName === 'data-test-script-state') clock.state = performance.now();
      if (!at.closest('[data-testid=stMain]') || at.closest(fields)) continue;
      if (each.type !== 'attributes' || drawn.has(each.attributeName))
        clock.changed = performance.now();
    }
  }).observe(document, {subtree: true, childList: true, characterData: true, attributes: true});
})()""".replace("QUIET", str(QUIET_MS))


def start_clock(page: Page) -> None:
    """Watch every page that this window opens from now on."""
    if not getattr(page, "_watched", False):
        page.add_init_script(_WATCH)
        page._watched = True  # type: ignore[attr-defined]


def settled(page: Page) -> float:
    """Wait until the page has answered; return for how many milliseconds it has been still."""
    page.wait_for_function("() => window.__clock && window.__clock.answered()", timeout=PATIENCE_MS)
    return float(page.evaluate("() => performance.now() - window.__clock.changed"))


def wait_milliseconds(page: Page, act: Callable[[], None]) -> float:
    """Do something and return how long its reader waited for the answer."""
    page.evaluate("() => window.__clock.start()")
    act()
    page.wait_for_function("() => window.__clock.answered()", timeout=PATIENCE_MS)
    return float(page.evaluate("() => window.__clock.changed - window.__clock.began"))

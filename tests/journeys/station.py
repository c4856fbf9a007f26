"""One screen at the bench as the journeys speak of it: who signs in, what is read, pressed and scanned."""

import os
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page, ViewportSize, expect

__all__ = ["LYING", "PASSWORD", "STANDING", "Station"]

PASSWORD = "tern-street-2026"
_AXE = (Path(__file__).parent / "vendor" / "axe.min.js").read_text("utf-8")
_GRAVE = {"serious", "critical"}
_SMALLEST = 56  # pixels: what a gloved finger meets
LYING, STANDING = ViewportSize(width=1080, height=810), ViewportSize(width=810, height=1080)  # a 10-inch tablet


class Station:
    """A page of a browser that knows which place at the bench it stands at."""

    def __init__(self, page: Page, name: str) -> None:
        self.page = page
        self.name = name
        self.refused_by_policy: list[str] = []
        self._may_change = False  # something was pressed, and what it leads to was not seen yet
        page.on("console", lambda message: self._hear(message.type, message.text))
        page.on("pageerror", lambda error: self.refused_by_policy.append(str(error)))

    def _hear(self, kind: str, text: str) -> None:
        if kind == "error" and "status of 4" not in text:
            self.refused_by_policy.append(text)

    def sign_in(self, username: str, password: str = PASSWORD) -> "Station":
        self.page.goto("/sign-in")
        self.page.get_by_label("Name you sign in with").fill(username)
        self.page.get_by_label("Password").fill(password)
        self.page.get_by_label("Where you stand").fill(self.name)
        self.press("Sign me in here")
        return self

    def sign_out(self) -> "Station":
        self.page.get_by_role("button", name="Sign out").click()
        return self

    def go(self, path: str) -> "Station":
        self.page.goto(path)
        self._may_change = False
        return self

    def press(self, words: str) -> "Station":
        """Press the button or follow the words that begin so."""
        found = self.page.get_by_role("button", name=words).or_(self.page.get_by_role("link", name=words))
        found.first.click()
        self._may_change = True
        return self

    def tap(self, words: str) -> "Station":
        """The same with a finger."""
        found = self.page.get_by_role("button", name=words).or_(self.page.get_by_role("link", name=words))
        found.first.tap()
        self._may_change = True
        return self

    def scan(self, code: str) -> "Station":
        """What a scanner does: it types quickly, wherever the focus is, and ends with Enter."""
        self.page.wait_for_function("document.readyState === 'complete' && document.activeElement !== null")
        self.page.evaluate(_TYPE_LIKE_A_SCANNER, code)
        self._may_change = True
        return self

    def sees(self, words: str) -> "Station":
        expect(self.page.locator("main")).to_contain_text(words)
        self._may_change = False
        return self

    def never_sees(self, words: str) -> "Station":
        expect(self.page.locator("body")).not_to_contain_text(words)
        return self

    def main(self) -> Locator:
        return self.page.locator("main")

    def require_sound_screen(self) -> None:
        """No serious accessibility fault by axe-core, nothing that the content policy refused, nothing too small to touch."""
        # half a second without any request is waited for only where it is not known yet which page it will be
        self.page.wait_for_load_state("networkidle" if self._may_change else "load")
        self.page.wait_for_function("[...document.images].every(one => one.complete)")
        self._keep_picture()
        assert "UNDECLARED" not in self.page.content(), f"{self.page.url}: the template shows what its screen does not declare"
        broken = self.page.evaluate("[...document.images].filter(one => !one.naturalWidth).map(one => one.alt)")
        assert broken == [], f"{self.page.url}: no picture: {broken}"
        self.page.evaluate(_AXE)
        faults = self.page.evaluate("axe.run(document, {resultTypes: ['violations'], preload: false})")["violations"]
        grave = [_in_short(fault) for fault in faults if fault["impact"] in _GRAVE]
        assert grave == [], f"{self.page.url}: {grave}"
        assert self.refused_by_policy == [], f"{self.page.url}: {self.refused_by_policy}"
        small = self.page.evaluate(_TOO_SMALL, _SMALLEST)
        assert small == [], f"{self.page.url}: too small to touch: {small}"
        wide = self.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, f"{self.page.url}: {wide} px wider than the screen"
        assert self.page.locator(".next:visible").count() <= 1, f"{self.page.url}: more than one thing to do next"

    def require_readable_at_twice_the_size(self) -> None:
        """200 % zoom of 1280×800 is a page of 640×400: nothing is cut off to the side; what must stay wide scrolls within itself."""
        bench = self.page.viewport_size
        self.page.set_viewport_size({"width": 640, "height": 400})
        self._keep_picture("at-twice-the-size-", whole=True)
        wide = self.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, f"{self.page.url}: {wide} px wider than the screen"
        if bench:
            self.page.set_viewport_size(bench)

    def require_sound_on_a_tablet(self) -> "Station":
        """Lying and standing: nothing too small for a finger, nothing wider than the screen, and nothing hidden to the side of a table."""
        before = self.page.viewport_size
        for size in (STANDING, LYING):
            self.page.set_viewport_size(size)
            self._keep_picture("tablet-")
            small = self.page.evaluate(_TOO_SMALL, _SMALLEST)
            assert small == [], f"{self.page.url}: too small to touch: {small}"
            wide = self.page.evaluate(_WIDER)
            assert wide == [], f"{self.page.url} at {size}: wider than the screen: {wide}"
        if before:
            self.page.set_viewport_size(before)
        return self

    def _keep_picture(self, how: str = "", *, whole: bool = False) -> None:
        """PICTURES in the environment names a folder in which every screen that a journey examines is kept, to be looked at."""
        folder = os.environ.get("PICTURES", "")
        if folder:
            taken = Path(folder)
            taken.mkdir(parents=True, exist_ok=True)
            name = re.sub(r"[^a-z-]+", "-", self.page.title().split(" – ")[0].lower())
            self.page.screenshot(path=taken / f"{len(list(taken.iterdir())):02d}-{how}{name}.png", full_page=whole)


def _in_short(fault: dict[str, Any]) -> str:
    return f"{fault['id']}: {[node['html'][:160] for node in fault['nodes'][:3]]}"


_TYPE_LIKE_A_SCANNER = """code => {
  const press = key => document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key, bubbles: true, cancelable: true}));
  const typed = key => {  // what the browser itself does with a key that no script kept back
    const field = document.activeElement;
    if (press(key) && field.matches("input[type=text], input[type=search], textarea")) field.value += key;
  };
  for (const key of code) typed(key);
  if (press("Enter") && document.activeElement.matches("button")) document.activeElement.click();
}"""

_WIDER = """() => [document.documentElement, ...document.querySelectorAll(".scroll, .strip14")]
  .filter(one => one.scrollWidth > one.clientWidth + 1)
  .map(one => one.outerHTML.slice(0, 120))"""

_TOO_SMALL = """smallest => [...document.querySelectorAll("a, button, input:not([type=hidden]), select, textarea, label.choice")]
  .filter(one => !one.closest("label.choice") || one.matches("label.choice"))
  .filter(one => !one.classList.contains("skip"))
  .filter(one => one.offsetParent !== null && one.getBoundingClientRect().height < smallest)
  .map(one => one.outerHTML.slice(0, 120))"""

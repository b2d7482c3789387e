"""The hands that work a page: a mouse, a finger, or the keys alone. One script of the job serves all three.

A list that opens (`choose`) is the browser's own and not the page's; by mouse and finger it is set as the
browser would set it, by keys the letters of the option are typed into it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

TABS = 220  # more than any screen has stops
STEPS = 5  # of a pull


@dataclass
class Hand:
    """What every hand can do, done by mouse."""

    page: Any

    def press(self, what: Any) -> None:
        what.click()

    def type(self, where: Any, text: str) -> None:
        self.press(where)
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(text)

    def choose(self, where: Any, option: str) -> None:
        self.press(where)
        self.page.keyboard.press("Escape")  # its list covers the page
        where.select_option(option)

    def pull(self, what: Any, along: float, across: float, key: str, *, times: int = 4) -> None:
        """Takes hold of a thing and moves it by so many dots; by keys, presses an arrow so often."""
        del key, times
        x, y = _hold(what)
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + along, y + across, steps=STEPS)
        self.page.mouse.up()


@dataclass
class Finger(Hand):
    """A finger on glass."""

    def press(self, what: Any) -> None:
        what.tap()

    def choose(self, where: Any, option: str) -> None:
        where.select_option(option)

    def pull(self, what: Any, along: float, across: float, key: str, *, times: int = 4) -> None:
        del key, times
        x, y = _hold(what)
        glass = self.page.context.new_cdp_session(self.page)

        def touch(kind: str, *points: dict[str, float]) -> None:
            glass.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": list(points)})

        touch("touchStart", {"x": x, "y": y})
        for step in range(1, STEPS + 1):
            touch("touchMove", {"x": x + along * step / STEPS, "y": y + across * step / STEPS})
        touch("touchEnd")
        glass.detach()


@dataclass
class Keys(Hand):
    """The keys alone: the Tab key to get there, Enter, Space, letters and arrows."""

    def reach(self, what: Any) -> None:
        what.wait_for(state="attached")
        wanted = what.element_handle()
        for _ in range(TABS):
            way = wanted.evaluate(
                """e => { const now = document.activeElement;
                if (e === now) return ''; if (!now || now === document.body) return 'Tab';
                return now.compareDocumentPosition(e) & 2 ? 'Shift+Tab' : 'Tab'; }"""
            )
            if not way:
                return
            self.page.keyboard.press(way)
        raise AssertionError(f"the Tab key never came to {what}")

    def press(self, what: Any) -> None:
        kind = what.evaluate("e => e.control ? 'label' : e.type || e.tagName")
        if kind == "label":  # a label is pressed by its field
            what = what.locator("input")
            kind = what.get_attribute("type")
        if kind == "radio":
            self._among(what)
            return
        self.reach(what)
        self.page.keyboard.press("Space" if kind == "checkbox" else "Enter")

    def _among(self, radio: Any) -> None:
        """One of several: the Tab key comes to the first or the chosen one, the arrows to the others."""
        group = self.page.locator(f"input[name='{radio.get_attribute('name')}']")
        chosen = [one for one in group.all() if one.is_checked()]
        self.reach(chosen[0] if chosen else group.first)
        if not chosen:
            self.page.keyboard.press("Space")
        for _ in range(group.count()):
            if radio.is_checked():
                return
            self.page.keyboard.press("ArrowDown")
        assert radio.is_checked()

    def type(self, where: Any, text: str) -> None:
        self.reach(where)
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(text)

    def choose(self, where: Any, option: str) -> None:
        self.reach(where)
        words = where.evaluate("(e, v) => [...e.options].find(o => o.value === v || o.text === v).text", option)
        self.page.keyboard.type(words)
        assert where.input_value() == option

    def pull(self, what: Any, along: float, across: float, key: str, *, times: int = 4) -> None:
        del along, across
        self.reach(what)
        for _ in range(times):
            self.page.keyboard.press(key)


def _hold(what: Any) -> tuple[float, float]:
    """Where to take hold of it: at its name, which lies within its outline, or in its middle."""
    what.scroll_into_view_if_needed()
    name = what.locator("text")
    box = (name.first if name.count() else what).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


HANDS = {"mouse": Hand, "touch": Finger, "keys": Keys}

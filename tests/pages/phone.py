"""A browser's window on the live pages, as a person at the sink has it."""

import re
from typing import Any, Self

from playwright.sync_api import Browser, Page, expect

__all__ = ["DESK", "PHONE", "Phone"]

PHONE, DESK = {"width": 360, "height": 640}, {"width": 1280, "height": 900}


class Phone:
    """A browser's window; what went wrong in it is kept."""

    def __init__(self, browser: Browser, address: str, **context: Any) -> None:
        self.context = browser.new_context(**{"viewport": PHONE, **context})
        self.page: Page = self.context.new_page()
        self.page.set_default_timeout(20_000)
        self.address = address
        self.wrong: list[str] = []
        self.page.on("pageerror", lambda error: self.wrong.append(str(error)))
        self.page.on("request", lambda request: self._asked(request.url))
        self.page.on("console", lambda message: self._said(message.text))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.context.close()

    def _asked(self, url: str) -> None:
        if not url.startswith((self.address, "data:")):
            self.wrong.append(url)

    def _said(self, text: str) -> None:
        if "422" not in text:  # a fault in a form is told with this status
            self.wrong.append(text)

    def open(self, path: str) -> Page:
        self.page.goto(self.address + path)
        return self.page

    def press(self, name: str) -> None:
        self.page.get_by_role("button", name=name).click()

    def number(self) -> str:
        self.page.wait_for_url("**/weigh/**")
        return self.page.url.rpartition("/")[2].partition("#")[0]

    def start_weighing(self, recipe: str = "borate-alkali") -> str:
        """From the plan of a recipe to its weighing page; the number of the mix."""
        self.open(f"plan/{recipe}")
        self.press("Start weighing")
        return self.number()

    def read(self, step: int, word: str) -> None:
        """Type a reading and leave its field, upon which a script keeps it."""
        field = self.page.get_by_label(f"Read at step {step}")
        field.fill(word)
        field.blur()

    def says(self, words: str | re.Pattern[str]) -> None:
        """Wait until the line that tells what is kept reads like this."""
        expect(self.page.locator("#kept")).to_have_text(words, timeout=15_000)

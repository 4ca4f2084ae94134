"""A page with a form: what every one of them is told besides its own."""

from typing import Any

from labelkit.mixing.said import AID_FULL
from labelkit.pages.asked import Answer, Asked
from labelkit.pages.frozen_page import call_for
from labelkit.pages.renderer import render
from labelkit.pages.site import Site

__all__ = ["form_page"]


def form_page(
    site: Site, template: str, asked: Asked, status: int = 200, **values: Any
) -> Answer:
    """The page of a template, with the token that its forms must bring back.

    Args:
        site: for the settings.
        template: by the file's name without ``.html``.
        asked: what the page answers.
        status: of HTTP.
        **values: what else the template is told.
    """
    settings = site.settings
    usual = {
        "language": settings.language,
        "room": settings.room,
        "root": asked.root,
        "live": True,
        "call": call_for(settings.emergency),
        "aid": AID_FULL,
        "token": asked.token,
        "may_write": asked.may_write,
    }
    return Answer(status, render(template, **{**usual, **values}).encode())

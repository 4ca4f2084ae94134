"""A page of mixing read through, and checked for what every page must have."""

import re

from labelkit.pages.asked import Answer
from tests.pages.reading import Outline, outline

__all__ = ["page", "values"]


def page(answer: Answer, status: int = 200) -> Outline:
    """The page of an answer, checked for what every page must have."""
    assert answer.status == status, outline(answer.body).text
    read = outline(answer.body)
    assert read.faults == []
    assert [level for level, _ in read.headings][:1] == [1]
    assert "DO NOT DRINK" in read.text
    assert "data sheets and local rules come first" in read.text
    assert labelled(read) == []
    assert described(read) == []
    assert not re.search(r"https?://(?!www\.w3\.org)", " ".join(read.values("src")))
    return read


def labelled(read: Outline) -> list[str]:
    """Fields without a label of their own."""
    named = {attrs.get("for") for tag, attrs in read.tags if tag == "label"}
    return [
        str(attrs.get("id"))
        for tag, attrs in read.tags
        if tag in {"input", "select"}
        and attrs.get("type") not in {"hidden", "checkbox", "radio"}
        and attrs.get("id") not in named
    ]


def described(read: Outline) -> list[str]:
    """Names in ``aria-describedby`` and links into the page that lead nowhere."""
    ids = read.values("id")
    assert len(ids) == len(set(ids))
    wanted = [one for value in read.values("aria-describedby") for one in value.split()]
    wanted += [href[1:] for href in read.values("href") if href.startswith("#")]
    return [one for one in wanted if one not in ids]


def values(read: Outline) -> dict[str, str]:
    """What stands in each field."""
    return {
        str(attrs["name"]): attrs.get("value") or ""
        for tag, attrs in read.tags
        if tag == "input" and "name" in attrs
    }

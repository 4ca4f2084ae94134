"""Reads a page as a browser and a screen reader would: tags, text, headings, links."""

from html.parser import HTMLParser

__all__ = ["Outline", "outline"]

# Elements without an end tag: HTML Living Standard, 13.1.2.
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta"}
INLINE = {"a", "b", "code", "small", "span", "strong"}
UNSEEN = {"style", "script", "title"}


class Outline(HTMLParser):
    """What was found; ``faults`` holds every tag that does not close in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.faults: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.headings: list[tuple[int, str]] = []
        self.scripts: list[str] = []
        self.styles: list[str] = []
        self.title = ""
        self._text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if len({key for key, _ in attrs}) != len(attrs):
            self.faults.append(f"an attribute twice in {tag}")
        self.tags.append((tag, dict(attrs)))
        if tag not in INLINE:
            self._text.append(" ")
        if tag in VOID:
            return
        self.open.append(tag)
        if tag in {"h1", "h2", "h3", "h4"}:
            self.headings.append((int(tag[1]), ""))

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes nothing")
        if tag not in INLINE:
            self._text.append(" ")

    def handle_data(self, data: str) -> None:
        inside = set(self.open)
        if "title" in inside:
            self.title += data
        elif "script" in inside:
            self.scripts.append(data)
        elif "style" in inside:
            self.styles.append(data)
        if not inside & UNSEEN:
            self._text.append(data)
        if inside & {"h1", "h2", "h3", "h4"}:
            level, text = self.headings[-1]
            self.headings[-1] = level, f"{text}{data}"

    @property
    def text(self) -> str:
        """All text in reading order, spaces and line ends as one space each."""
        return " ".join("".join(self._text).split())

    def values(self, attribute: str) -> list[str]:
        """Every value an attribute has on the page."""
        found = (attributes.get(attribute) for _, attributes in self.tags)
        return [value for value in found if value is not None]

    def count(self, tag: str) -> int:
        return sum(name == tag for name, _ in self.tags)


def outline(body: bytes | str) -> Outline:
    """The page read through to its end."""
    found = Outline()
    found.feed(body if isinstance(body, str) else body.decode())
    found.close()
    found.faults += [f"<{tag}> is never closed" for tag in found.open]
    return found

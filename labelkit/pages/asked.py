"""What a browser asks for and what it is answered; knows nothing of HTTP libraries."""

from collections.abc import Mapping, Sequence
from typing import Protocol, runtime_checkable

from msgspec import Struct, field

__all__ = ["Answer", "Asked", "Part", "ReadPart"]


class Asked(Struct, frozen=True):
    """A question.

    Attributes:
        path: of the address, decoded, without its leading slash.
        query: the first value of each name after the question mark.
        form: what was sent, every value of each name.
        token: must come back in the field ``token`` of every form.
        may_write: whether who asks may change something: asked from this machine, or
            the PIN was given.
    """

    path: str
    query: Mapping[str, str] = field(default_factory=dict)
    form: Mapping[str, Sequence[str]] = field(default_factory=dict)
    token: str = ""
    may_write: bool = False

    @property
    def root(self) -> str:
        """The way from this page back to the front: ``../`` for each step."""
        return "../" * self.path.count("/")

    def sent(self, name: str) -> str:
        """The first value sent for a name, without white around it; "" for none."""
        values = self.form.get(name, ())
        return values[0].strip() if values else ""


class Answer(Struct, frozen=True):
    """A page or file with its HTTP status (RFC 9110, 15).

    Attributes:
        location: where to look instead, after something was written (status 303).
        file_name: under which a browser keeps it; "" for a page.
        retry_after_s: when to ask again [s]; 0 where that would change nothing.
        allow: the methods there are, where another was tried (status 405).
    """

    status: int
    body: bytes = b""
    mimetype: str = "text/html"
    location: str = ""
    file_name: str = ""
    retry_after_s: int = 0
    allow: Sequence[str] = ()


@runtime_checkable
class ReadPart(Protocol):
    """A part of the site that is only read, such as the labels."""

    @property
    def heads(self) -> frozenset[str]:
        """The first words of its paths, in upper case."""

    def get(self, asked: Asked) -> Answer:
        """A page, read only; whoever asks may see it."""


@runtime_checkable
class Part(ReadPart, Protocol):
    """A part of the site that takes forms, such as planning or the log."""

    def post(self, asked: Asked) -> Answer:
        """Do what a form asks; called where ``may_write``, with the right token."""

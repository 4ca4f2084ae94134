"""What a form sent, read within limits; whatever no page of ours sends is refused."""

from collections.abc import Iterable, Mapping
from urllib.parse import parse_qsl

from flask import Request
from werkzeug.exceptions import ClientDisconnected, RequestEntityTooLarge

from labelkit.errors import BadInput

__all__ = ["LONGEST_BODY", "MOST_FIELDS", "Form", "Refused", "read_form", "refused"]

LONGEST_BODY = 64 * 1024
MOST_FIELDS = 1000
FORM = "application/x-www-form-urlencoded"

Form = Mapping[str, tuple[str, ...]]

_WHY = {
    400: (
        "This cannot be read",
        "What was sent is nothing that a page of ours sends: the address or a field in "
        "it cannot be read. Nothing was written down.",
    ),
    403: (
        "Sent from elsewhere",
        "This was sent from another page than ours, or from one that is too old. "
        "Nothing was written down. Open the page again, and send it from there.",
    ),
    405: ("Only to be read", "These pages are read; nothing can be sent to them."),
    413: (
        "Too much was sent",
        "A form may hold 64 kB, and this was more. Nothing was written down. Go back, "
        "and write less.",
    ),
    415: (
        "This is no form",
        "What was sent is not written the way a form is sent. Nothing was written "
        "down. Open the page again, and send its form.",
    ),
    421: (
        "Not under this name",
        "This machine does not go by the name in the address. Open the address that "
        "labelkit serve shows.",
    ),
    431: (
        "Too much was sent",
        "The address or what the browser sends with it is too long. Nothing was "
        "written down.",
    ),
    500: ("Our fault", "Something in labelkit went wrong; it is no fault of yours."),
}


class Refused(BadInput):
    """What was sent is not taken.

    Attributes:
        status: of HTTP (RFC 9110, 15).
        title: in a few words.
    """

    def __init__(self, status: int, title: str, problem: str) -> None:
        super().__init__(problem)
        self.status = status
        self.title = title


def refused(status: int, problem: str = "") -> Refused:
    """The refusal for a status, in our own words."""
    known = status if status in _WHY else (500 if status >= 500 else 400)
    title, usual = _WHY[known]
    return Refused(known, title, problem or usual)


def read_form(request: Request, single: Iterable[str] = ()) -> Form:
    """Every value of each field that was sent.

    Args:
        request: with a form in its body.
        single: names that may be sent once.

    Raises:
        Refused: it is too long, no form, not in UTF-8, or has too many fields.
    """
    if request.mimetype != FORM:
        raise refused(415)
    if (request.content_length or 0) > LONGEST_BODY:
        raise refused(413)
    form: dict[str, tuple[str, ...]] = {}
    for name, value in _fields(_body(request)):
        form[name] = (*form.get(name, ()), value)
    twice = [name for name in single if len(form.get(name, ())) > 1]
    if twice:
        raise refused(
            400,
            f"The field {twice[0]} was sent {len(form[twice[0]])} times. Nothing was "
            "written down. Open the page again, and send it once.",
        )
    return form


def _body(request: Request) -> str:
    try:
        return request.get_data(cache=False).decode()
    except RequestEntityTooLarge:
        raise refused(413) from None
    except (ClientDisconnected, UnicodeDecodeError):
        raise refused(400) from None


def _fields(body: str) -> list[tuple[str, str]]:
    try:
        return parse_qsl(
            body, keep_blank_values=True, errors="strict", max_num_fields=MOST_FIELDS
        )
    except UnicodeDecodeError:
        raise refused(400) from None
    except ValueError:
        raise refused(
            400,
            f"What was sent has more than {MOST_FIELDS} fields, as no page of ours "
            "has. Nothing was written down.",
        ) from None

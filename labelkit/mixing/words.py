"""What must be said on a bottle and on a card, ready to be arranged.

Nothing here knows about millimetres or type; printing and pages only arrange it.
"""

from decimal import Decimal

from msgspec import Struct

__all__ = [
    "BottleText",
    "CardAmount",
    "CardColumn",
    "CardNote",
    "CardRow",
    "CardText",
    "HazardText",
    "Headline",
    "PageCaution",
    "PageContent",
    "PageReason",
    "PageText",
    "PageWeighing",
    "PartMark",
    "Pictogram",
    "Run",
    "Scale",
    "Tally",
    "Words",
]


class Run(Struct, frozen=True, gc=False):
    """A stretch of text in one weight; no-break spaces bind number and unit."""

    text: str
    strong: bool = False


Words = tuple[Run, ...]


class Scale(Struct, frozen=True, gc=False):
    """The measuring scale: ``mL_per_g`` [mL/g]; both sides start at nothing."""

    mL_per_g: Decimal


class Headline(Struct, frozen=True, gc=False):
    """What a hand needs: one of four kinds.

    Attributes:
        kind: ``equivalence``, ``dilution``, ``ready`` or ``dry``.
        text: the whole in plain text, ``20 mL = 1 g`` or ``1 + 1 + 100``.
        substance: under it: ``sodium metaborate``, ``A + B + water``.
        hydrate: the hydrate word, set lighter: ``tetrahydrate``.
        beside: smaller, beside it: ``5 + 5 + 500 mL``, or the ratio.
        scale: the twin scale; None where there is none.
    """

    kind: str
    text: str
    substance: str = ""
    hydrate: str = ""
    beside: str = ""
    scale: Scale | None = None


class PartMark(Struct, frozen=True, gc=False):
    """Which part of a set this is, and what it goes with."""

    letter: str
    goes_with: str = ""
    ratio: str = ""


class Pictogram(Struct, frozen=True, gc=False):
    """A GHS pictogram and the word printed under it."""

    code: str
    word: str


class HazardText(Struct, frozen=True, gc=False):
    """The hazard block. Where no class is reached, ``none_reached`` stands alone.

    Attributes:
        signal: DANGER, WARNING or "".
        alert: SemiBold, directly under the signal word: "pH not measured: …".
        contains: "Contains …." or "".
        statements: H then EUH, complete wording, one a statement.
        precautions: P statements, complete wording; lead-ins are strong.
        none_reached: the block of a solution that reaches no class, else ().
        open_points: "No hazard data for: …", "Not determined: …", "No official
            entry: …", each a sentence.
    """

    signal: str = ""
    pictograms: tuple[Pictogram, ...] = ()
    alert: str = ""
    contains: str = ""
    statements: tuple[str, ...] = ()
    precautions: tuple[Words, ...] = ()
    none_reached: Words = ()
    open_points: tuple[str, ...] = ()


class Tally(Struct, frozen=True, gc=False):
    """Boxes to tick: ``boxes`` of them; ``caption`` says what one stands for."""

    boxes: int
    caption: str


class BottleText(Struct, frozen=True, gc=False):
    """Everything a bottle label says, in the ranking of what may give way.

    Attributes:
        name: title of the solution.
        bottle: ``bottle 1 of 2``; "" where there is only one.
        strength: short lines such as ``50 g/L`` and ``5 % w/v``.
        contents: every solute with g/L as formed, then what it was made from.
        made: "Mixed 2031-03-14 by M. Osei, Tern Street Print Room."
        mixed: the same in two, for labels where they stand apart: "mixed 14:40"
        by: and "M. Osei, Tern Street Print Room."; both or neither.
        discard_label: "Discard after", or "" where ``discard`` is a sentence.
        discard: ``2032-03-14``, with the clock time for hours.
        off_when: "or when darker than weak tea."
        first_words: what a helper does first.
        never_with: "NEVER WITH …", one line of its own.
        aid: that hazard text is an aid and what comes first.
        aid_full: the same in full.
        use_mark: SHARED, ASK NAME or HOLD; "" for none.
        emergency: the number to call; "" leaves a white field.
        supplier: name, address and phone, for supplied bottles.
        cautions: handling cautions that may move to the card.
        code: the payload of the code.
        code_means: what the code opens, in words for a reader who cannot see it.
        volume_mL: of this bottle; decides minimum type and pictogram size.
    """

    name: str
    number: str
    headline: Headline
    strength: tuple[str, ...]
    contents: Words
    made: str
    discard_label: str
    discard: str
    hazard: HazardText
    first_words: Words
    never_with: str
    aid: str
    aid_full: str
    code: str
    code_means: str
    volume_mL: Decimal
    bottle: str = ""
    part: PartMark | None = None
    off_when: str = ""
    use_mark: str = ""
    emergency: str = ""
    supplier: str = ""
    cautions: tuple[str, ...] = ()
    write_in: bool = False
    tally: Tally | None = None
    mixed: str = ""
    by: str = ""


class CardColumn(Struct, frozen=True, gc=False):
    """One batch size: ``500 mL``, and the beaker to mix it in."""

    quantity: str
    beaker: str


class CardAmount(Struct, frozen=True, gc=False):
    """What a step takes in one column, with its unit: ``8.7 g``."""

    text: str


class CardRow(Struct, frozen=True, gc=False):
    """One step.

    Attributes:
        kind: ``step``, ``fill`` (make up to), ``pour`` or ``text``.
        what: ``Borax decahydrate``, ``Water, 40 °C``.
        detail: a second, smaller line.
        amounts: one a column, or () where nothing is measured.
        caution: stands in a STOP bar above the step.
        vessel: "" for the main vessel, else the vessel's name.
    """

    kind: str
    number: int
    what: Words
    detail: str = ""
    amounts: tuple[CardAmount, ...] = ()
    caution: str = ""
    vessel: str = ""


class CardNote(Struct, frozen=True, gc=False):
    """A note on the card's back: a term and what is said of it.

    Attributes:
        gives_way: left off, the last first, where the back is full.
    """

    term: str
    text: Words
    gives_way: bool = False


class CardText(Struct, frozen=True, gc=False):
    """Everything a mixing card says, front then back.

    Attributes:
        summary: strength and keeping, ``50 g/L, 5 % w/v. Keeps 12 months.``
        revision: ``revision 1``.
        room: "Tern Street Print Room. Scan for this recipe and its batches."
    """

    name: str
    headline: Headline
    summary: str
    columns: tuple[CardColumn, ...]
    rows: tuple[CardRow, ...]
    hazard: HazardText
    first_words: Words
    never_with: str
    notes: tuple[CardNote, ...]
    aid_full: str
    code: str
    code_means: str
    volume_mL: Decimal
    part: PartMark | None = None
    revision: str = ""
    room: str = ""
    emergency: str = ""


class PageContent(Struct, frozen=True, gc=False):
    """One solute: its name and figures with their units, "" where unknown."""

    name: str
    g_per_L: str
    mol_per_L: str
    percent_ww: str


class PageWeighing(Struct, frozen=True, gc=False):
    """One step's amount: as planned and as read; ``read`` is "" where it was not."""

    step: int
    what: str
    planned: str
    read: str


class PageReason(Struct, frozen=True, gc=False):
    """Why a hazard class was reached or left out: the class, the sum, the rule."""

    hazard_class: str
    text: str
    rule: str


class PageCaution(Struct, frozen=True, gc=False):
    """A caution that is not law: its term, the sentence, and what it rests on."""

    term: str
    text: str
    source: str


class PageText(Struct, frozen=True, gc=False):
    """Everything a record page says; what happened since is added when it is shown.

    Attributes:
        mL_per_g: for the dose calculator [mL/g]; None without an equivalence.
        made: "Mixed 2031-03-14 by M. Osei, Tern Street Print Room."
        mixed: the same in two, for labels where they stand apart: "mixed 14:40"
        by: and "M. Osei, Tern Street Print Room."; both or neither.
        bottles: volume of each bottle, with its unit.
        steps: the recipe as it was followed.
        equations: reactions with what limited them and what is left over.
        remarks: checks, each a sentence.
        estimates: pH, density, warming and uncertainty, each a sentence.
        handling: cautions that are not law, the worst first.
    """

    name: str
    number: str
    recipe: str
    headline: Headline
    strength: tuple[str, ...]
    contents: tuple[PageContent, ...]
    contents_sentence: Words
    made: str
    discard_label: str
    discard: str
    hazard: HazardText
    first_words: Words
    never_with: str
    aid_full: str
    weighings: tuple[PageWeighing, ...]
    steps: tuple[CardRow, ...]
    notes: tuple[CardNote, ...]
    reasons: tuple[PageReason, ...]
    bottles: tuple[str, ...]
    mL_per_g: Decimal | None = None
    part: PartMark | None = None
    off_when: str = ""
    use_mark: str = ""
    emergency: str = ""
    room: str = ""
    keep_in: str = ""
    equations: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    estimates: tuple[str, ...] = ()
    handling: tuple[PageCaution, ...] = ()

"""How long solutions keep in practice, kind by kind, and who says so."""

from collections.abc import Callable

from msgspec import Struct

from labelkit.chemistry.amounts import Duration

__all__ = ["PRACTICES", "Held", "Practice", "practice_for"]

MANUAL = "handbooks"
OLD = "handbooks before 1935"
FORUM = "a hobby forum"
SITE = "a practitioner's site"
UNSOURCED = "common practice, no source"


class Held(Struct, frozen=True):
    """What a finished solution is, as far as keeping it goes.

    Attributes:
        tags: of everything in it.
        parents: of everything in it.
        poured: it is made from other recipes' solutions.
        used_as_is: it is not diluted for use.
        alone: it holds one chemical only.
    """

    tags: frozenset[str]
    parents: frozenset[str]
    poured: bool = False
    used_as_is: bool = True
    alone: bool = False

    @property
    def develops(self) -> bool:
        """Whether it holds a developing agent."""
        return "developer" in self.tags

    @property
    def alkaline(self) -> bool:
        """Whether it holds an alkali."""
        return bool(self.tags & {"base", "strong-base", "carbonate"})


class Practice(Struct, frozen=True):
    """One kind of solution.

    Attributes:
        longest: what it is seen to keep; longer than that is remarked on.
        says: the range as practice has it, with who says so; both where they differ.
        part_full: the same for a half-full bottle.
    """

    kind: str
    fits: Callable[[Held], bool]
    longest: Duration
    says: str
    part_full: Duration | None = None


def practice_for(held: Held) -> Practice | None:
    """The first kind that a solution is of; None where practice says nothing."""
    return next((one for one in PRACTICES if one.fits(held)), None)


def _is_pyro_bath(held: Held) -> bool:
    pyro = held.parents & {"pyrogallol", "pyrocatechol"}
    return bool(pyro) and held.alkaline and held.poured


def _is_blueprint(held: Held) -> bool:
    return {"iron3", "cyanide-complex"} <= held.tags


def _is_sensitised_colloid(held: Held) -> bool:
    return "dichromate" in held.tags and bool(held.parents & {"gum-arabic", "gelatin"})


def _is_ascorbate(held: Held) -> bool:
    return "ascorbic-acid" in held.parents and held.alkaline


# Most particular first. Figures and tags: the project's facts of practice, section 1.
PRACTICES = (
    Practice(
        "a pyro or catechol working bath",
        _is_pyro_bath,
        Duration(1, "hours"),
        f"minutes to an hour ({UNSOURCED})",
    ),
    Practice(
        "a blueprint sensitiser, mixed",
        _is_blueprint,
        Duration(24, "hours"),
        f"the same day ({UNSOURCED})",
    ),
    Practice(
        "peroxide with anything else in it",
        lambda held: "peroxide" in held.tags and not held.alone,
        Duration(24, "hours"),
        f"used at once, never closed tightly ({UNSOURCED})",
    ),
    Practice(
        "gum or gelatin with dichromate",
        _is_sensitised_colloid,
        Duration(7, "days"),
        f"a few days ({OLD}; {FORUM})",
    ),
    Practice(
        "an ascorbate developer without a sequestrant",
        lambda held: _is_ascorbate(held) and "chelator" not in held.tags,
        Duration(150, "minutes"),
        f"dead in 2 to 2.5 hours in a timed test ({SITE}), and no colour shows it: "
        f"with a strong sequestrant about 6 months are claimed ({FORUM})",
    ),
    Practice(
        "an ascorbate developer",
        _is_ascorbate,
        Duration(6, "months"),
        f"about 6 months with a strong sequestrant ({FORUM}); no colour shows its end",
    ),
    Practice(
        "a developer diluted for use",
        lambda held: held.develops and held.poured,
        Duration(24, "hours"),
        f"24 hours ({SITE}; community darkrooms)",
    ),
    Practice(
        "an amidol stock",
        lambda held: "amidol" in held.parents and "sulfite-source" in held.tags,
        Duration(4, "weeks"),
        f"a few weeks with sulfite, well corked ({OLD})",
    ),
    Practice(
        "amidol without sulfite",
        lambda held: "amidol" in held.parents,
        Duration(7, "days"),
        f"a few days ({OLD})",
    ),
    Practice(
        "plain hypo without sulfite",
        lambda held: "thiosulfate" in held.tags and "sulfite-source" not in held.tags,
        Duration(24, "hours"),
        f"old books say it keeps indefinitely ({OLD}), modern users mix it fresh "
        f"({UNSOURCED})",
    ),
    Practice(
        "a working fixer",
        lambda held: "thiosulfate" in held.tags and held.used_as_is,
        Duration(2, "months"),
        f"2 months at most, less above 29 °C ({MANUAL})",
    ),
    Practice(
        "a ferric citrate sensitiser",
        lambda held: "ferric-ammonium-citrate" in held.parents,
        Duration(15, "months"),
        f"'for ever' in old books ({OLD}), blue fog at 15 months in a test ({SITE})",
    ),
    Practice(
        "a developer stock",
        lambda held: held.develops and held.alkaline and "sulfite-source" in held.tags,
        Duration(6, "months"),
        f"about 6 months in a full bottle, 2 months half full ({UNSOURCED})",
        part_full=Duration(2, "months"),
    ),
)

"""What must hold for every mixture, whatever it is made of."""

from collections import defaultdict
from decimal import Decimal
from random import Random
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from labelkit.files.statements import read_statements
from labelkit.hazards.as_formed import classify_as_formed
from labelkit.hazards.classes import every_class, read_class
from labelkit.hazards.classify import classify
from labelkit.hazards.data import Basis, HazardData
from labelkit.hazards.label import label_elements
from labelkit.hazards.mixture import (
    Acidity,
    Classification,
    Ingredient,
    MixedPart,
    Mixture,
)
from labelkit.hazards.regimes import REGIMES
from labelkit.hazards.statements import hazard_sentences, precaution_sentences
from tests.hazards import making

ENGLISH = read_statements()
TAGS = (
    "acid", "strong-acid", "mild-acid", "very-weak-acid", "base", "strong-base",
    "weak-base", "carbonate", "bicarbonate", "borate", "surfactant", "oxidiser",
    "reducer", "silver", "ammonia", "hypochlorite", "sulfite-source", "sulfide",
)  # fmt: skip
REAL = [
    value
    for name in making.__all__
    if isinstance(value := getattr(making, name), HazardData)
]

CALM = settings(
    derandomize=True,
    deadline=None,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow],
)


@st.composite
def invented(draw: st.DrawFn) -> HazardData:
    """A chemical with any classes at all, and any data that can go with them."""
    classes = draw(st.lists(st.sampled_from(every_class()), max_size=4, unique=True))
    ates = st.decimals("0.001", "6000", places=3, allow_nan=False)
    routes = st.sampled_from(("oral", "dermal", "gas", "vapour", "dust/mist"))
    name = draw(st.sampled_from("ABCDEFGH"))
    return HazardData(
        id=f"{name}-{'/'.join(classes)}",
        name=name,
        classes=None if draw(st.integers(0, 9)) == 0 else tuple(classes),
        basis=draw(st.sampled_from([None, *Basis])),
        ate=draw(st.dictionaries(routes, ates, max_size=2)),
        m_acute=draw(st.sampled_from([None, Decimal(1), Decimal(10), Decimal(1000)])),
        m_chronic=draw(st.sampled_from([None, Decimal(1), Decimal(10)])),
        euh=tuple(
            draw(st.lists(st.sampled_from(("EUH031", "EUH066", "EUH071")), max_size=2))
        ),
        non_additive=draw(st.booleans()),
        unknown_acute=tuple(draw(st.lists(routes, max_size=2))),
        tags=frozenset(draw(st.lists(st.sampled_from(TAGS), max_size=3))),
    )


CHEMICALS = st.one_of(invented(), st.sampled_from(REAL))
# Shares crowd round the limits of the law; six of them never exceed 100 %
LIMITS = [
    "0", "0.01", "0.0999", "0.1", "0.2", "0.25", "0.3", "0.5", "0.99", "1", "2", "2.5",
    "2.99", "3", "4.99", "5", "8", "9.99", "10", "15", "16",
]  # fmt: skip
SHARES = st.one_of(
    st.sampled_from(LIMITS).map(Decimal),
    st.decimals("0", "16", places=4, allow_nan=False, allow_infinity=False),
)
PARTS = st.lists(st.tuples(CHEMICALS, SHARES), max_size=5, unique_by=lambda p: p[0].id)
PH = st.one_of(
    st.none(),
    st.floats(0, 14).map(lambda ph: Acidity(ph, ph, ph, "measured")),
    st.floats(0.3, 13.7).map(lambda ph: Acidity(ph, ph - 0.3, ph + 0.3, "estimate")),
)
BOUNDS = st.one_of(st.none(), st.tuples(st.floats(0, 7), st.floats(7, 14)))
REGIME = st.sampled_from(list(REGIMES))

Parts = list[tuple[HazardData, Decimal]]

# Families that are steps of one hazard, mildest first
STEPS = {
    "skin": ["Skin Irrit. 3", "Skin Irrit. 2", "Skin Corr."],
    "eye": ["Eye Irrit. 2B", "Eye Irrit. 2", "Eye Dam."],
}
WITHOUT_DETAIL = ("Repr.", "Carc.")  # letters and "i" are no matter of severity


def severities(found: Classification) -> dict[str, float]:
    """How severe each hazard is: the greater, the worse; 0 where it is not reached."""
    worst: dict[str, float] = defaultdict(float)
    for text in found.classes:
        hazard, severity = severity_of(text)
        worst[hazard] = max(worst[hazard], severity)
    return worst


def severity_of(text: str) -> tuple[str, float]:
    for hazard, steps in STEPS.items():
        reached = [n for n, step in enumerate(steps, 1) if text.startswith(step)]
        if reached:
            return hazard, max(reached)
    one = read_class(text)
    detail = "" if one.family in WITHOUT_DETAIL else one.detail
    half = 0.5 if one.category.endswith("B") else 0
    digits = one.category.rstrip("ABC")[-1:]
    rank = int(digits) if digits.isdigit() else 1
    return f"{one.family} {detail}", 10 - rank - half


def mixture(parts: Parts, **more: Any) -> Mixture:
    return Mixture(tuple(Ingredient(data, share) for data, share in parts), **more)


def not_milder(worse: Classification, than: Classification) -> None:
    after = severities(worse)
    for hazard, before in severities(than).items():
        assert after[hazard] >= before, hazard


@CALM
@given(PARTS, PH, BOUNDS, REGIME, st.booleans(), st.booleans())
def test_every_path_ends_in_a_verdict_that_can_be_printed(
    parts: Parts,
    ph: Acidity | None,
    bounds: tuple[float, float] | None,
    regime: str,
    solid: bool,
    public: bool,
) -> None:
    asked = mixture(parts, ph=ph, ph_bounds=bounds, solid=solid, for_public=public)
    found = classify(asked, regime)
    elements = label_elements(found.classes, found.euh)
    assert (found.signal, found.pictograms) == (elements.signal, elements.pictograms)
    assert set(found.p) == set() or found.classes
    skin = any(one.startswith("Skin Corr.") for one in found.classes)
    assert not skin or "Eye Dam. 1" in found.classes
    assert not found.assumed_corrosive or (skin and ph is None)
    assert len(set(found.classes)) == len(found.classes)
    sentences = hazard_sentences(ENGLISH, found)
    assert all(line.endswith(".") for line in sentences)
    assert len(precaution_sentences(ENGLISH, found, dry=solid)) == len(found.p)
    reasons = {reason.hazard_class for reason in found.because}
    assert all(one in reasons or _follows(one, reasons) for one in found.classes)


def _follows(one: str, reasons: set[str]) -> bool:
    """Eye Dam. 1 may follow from the pH, whose reason stands with the skin; the letters
    of Repr. and the i of Carc. are joined from several reasons."""
    if one == "Eye Dam. 1":
        return "Skin Corr. 1" in reasons
    family = one.split(" ")[0]
    joined = family in ("Repr.", "Carc.")
    mild = one == "Eye Irrit. 2B" and "Eye Irrit. 2" in reasons
    return mild or (joined and any(reason.startswith(family) for reason in reasons))


@CALM
@given(PARTS, PH, BOUNDS, REGIME, st.booleans(), st.data())
def test_more_of_a_classified_ingredient_never_lowers_a_class(
    parts: Parts,
    ph: Acidity | None,
    bounds: tuple[float, float] | None,
    regime: str,
    solid: bool,
    data: st.DataObject,
) -> None:
    if not parts:
        return
    which = data.draw(st.integers(0, len(parts) - 1))
    more = data.draw(SHARES)
    raised = [
        (one, min(share + more, Decimal(20)) if n == which else share)
        for n, (one, share) in enumerate(parts)
    ]
    given_ = {"ph": ph, "ph_bounds": bounds, "solid": solid}
    before = classify(mixture(parts, **given_), regime)
    not_milder(classify(mixture(raised, **given_), regime), before)


@CALM
@given(PARTS, PH, BOUNDS, REGIME, st.booleans(), SHARES)
def test_an_unclassified_carrier_never_raises_one(
    parts: Parts,
    ph: Acidity | None,
    bounds: tuple[float, float] | None,
    regime: str,
    solid: bool,
    share: Decimal,
) -> None:
    carrier = HazardData("carrier", "carrier", (), basis=Basis.HARMONISED)
    given_ = {"ph": ph, "ph_bounds": bounds, "solid": solid}
    before = classify(mixture(parts, **given_), regime)
    after = classify(mixture([*parts, (carrier, share)], **given_), regime)
    not_milder(before, after)


@CALM
@given(PARTS, PH, BOUNDS, REGIME, st.integers(2, 9))
def test_thinning_with_water_never_raises_a_class(
    parts: Parts,
    ph: Acidity | None,
    bounds: tuple[float, float] | None,
    regime: str,
    times: int,
) -> None:
    given_ = {"ph": ph, "ph_bounds": bounds}
    thin = [(one, share / times) for one, share in parts]
    before = classify(mixture(parts, **given_), regime)
    not_milder(before, classify(mixture(thin, **given_), regime))


@CALM
@given(PARTS, PH, BOUNDS, REGIME, st.integers(0, 10**6))
def test_the_order_of_the_ingredients_never_matters(
    parts: Parts,
    ph: Acidity | None,
    bounds: tuple[float, float] | None,
    regime: str,
    seed: int,
) -> None:
    mixed = list(parts)
    Random(seed).shuffle(mixed)
    given_ = {"ph": ph, "ph_bounds": bounds}
    straight = classify(mixture(parts, **given_), regime)
    assert classify(mixture(mixed, **given_), regime) == straight


@CALM
@given(PARTS, PH, REGIME)
def test_an_estimate_never_switches_a_hazard_off(
    parts: Parts, ph: Acidity | None, regime: str
) -> None:
    harmless = Acidity(7, 6.5, 7.5, "estimate")
    settled = classify(mixture(parts, ph_bounds=(6.5, 7.5)), regime)
    not_milder(classify(mixture(parts, ph=harmless), regime), settled)
    not_milder(classify(mixture(parts, ph=ph), regime), settled)


KEPT = (
    "Acute Tox.", "Resp. Sens.", "Skin Sens.", "Muta.", "Carc.", "Repr.", "Lact.",
    "STOT", "Asp. Tox.", "Aquatic",
)  # fmt: skip


@CALM
@given(PARTS, st.lists(CHEMICALS, max_size=2), PH, REGIME, st.data())
def test_a_reaction_never_lowers_what_skin_and_eye_do_not_show(
    parts: Parts,
    made: list[HazardData],
    ph: Acidity | None,
    regime: str,
    data: st.DataObject,
) -> None:
    ids = {one.id for one, _ in parts}
    mixed = [
        MixedPart(one, share, consumed=data.draw(st.sampled_from([Decimal(0), share])))
        for one, share in parts
    ]
    fresh = {one.id: one for one in made if one.id not in ids}
    unlisted = HazardData("made", "made", (), basis=Basis.SELF)
    mixed += [MixedPart(one, formed=Decimal(3)) for one in (*fresh.values(), unlisted)]
    found = classify_as_formed(mixed, ph=ph, regime=regime)
    assert found.as_added is not None
    before, after = severities(found.as_added), severities(found)
    for hazard, value in before.items():
        if hazard.startswith(KEPT):
            assert after[hazard] >= value, hazard

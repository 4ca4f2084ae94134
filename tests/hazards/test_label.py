"""Articles 20(3), 26 and 27, and the label tables of Annex I."""

import pytest

from labelkit.hazards.classes import every_class, read_class
from labelkit.hazards.label import ELEMENTS, label_elements
from labelkit.hazards.pictogram_words import pictogram_word

# Label tables of Annex I parts 3 and 4
TABLE = [
    ("Flam. Liq. 1", "GHS02", "Danger", "H224"),
    ("Flam. Liq. 2", "GHS02", "Danger", "H225"),
    ("Flam. Liq. 3", "GHS02", "Warning", "H226"),
    ("Flam. Sol. 1", "GHS02", "Danger", "H228"),
    ("Flam. Sol. 2", "GHS02", "Warning", "H228"),
    ("Self-heat. 1", "GHS02", "Danger", "H251"),
    ("Self-heat. 2", "GHS02", "Warning", "H252"),
    ("Ox. Liq. 1", "GHS03", "Danger", "H271"),
    ("Ox. Sol. 2", "GHS03", "Danger", "H272"),
    ("Ox. Sol. 3", "GHS03", "Warning", "H272"),
    ("Met. Corr. 1", "GHS05", "Warning", "H290"),
    ("Acute Tox. 1 (oral)", "GHS06", "Danger", "H300"),
    ("Acute Tox. 2 (dermal)", "GHS06", "Danger", "H310"),
    ("Acute Tox. 2 (dust/mist)", "GHS06", "Danger", "H330"),
    ("Acute Tox. 3 (oral)", "GHS06", "Danger", "H301"),
    ("Acute Tox. 3 (dermal)", "GHS06", "Danger", "H311"),
    ("Acute Tox. 3 (vapour)", "GHS06", "Danger", "H331"),
    ("Acute Tox. 4 (oral)", "GHS07", "Warning", "H302"),
    ("Acute Tox. 4 (dermal)", "GHS07", "Warning", "H312"),
    ("Acute Tox. 4 (gas)", "GHS07", "Warning", "H332"),
    ("Skin Corr. 1", "GHS05", "Danger", "H314"),
    ("Skin Corr. 1A", "GHS05", "Danger", "H314"),
    ("Skin Corr. 1B", "GHS05", "Danger", "H314"),
    ("Skin Corr. 1C", "GHS05", "Danger", "H314"),
    ("Skin Irrit. 2", "GHS07", "Warning", "H315"),
    ("Eye Dam. 1", "GHS05", "Danger", "H318"),
    ("Eye Irrit. 2", "GHS07", "Warning", "H319"),
    ("Resp. Sens. 1", "GHS08", "Danger", "H334"),
    ("Skin Sens. 1", "GHS07", "Warning", "H317"),
    ("Muta. 1B", "GHS08", "Danger", "H340"),
    ("Muta. 2", "GHS08", "Warning", "H341"),
    ("Carc. 1A", "GHS08", "Danger", "H350"),
    ("Carc. 1B i", "GHS08", "Danger", "H350i"),
    ("Carc. 2", "GHS08", "Warning", "H351"),
    ("Repr. 1B", "GHS08", "Danger", "H360"),
    ("Repr. 1B FD", "GHS08", "Danger", "H360FD"),
    ("Repr. 1A Df", "GHS08", "Danger", "H360Df"),
    ("Repr. 2", "GHS08", "Warning", "H361"),
    ("Repr. 2 d", "GHS08", "Warning", "H361d"),
    ("Lact.", "", "", "H362"),
    ("STOT SE 1", "GHS08", "Danger", "H370"),
    ("STOT SE 2", "GHS08", "Warning", "H371"),
    ("STOT SE 3 (H335)", "GHS07", "Warning", "H335"),
    ("STOT SE 3 (H336)", "GHS07", "Warning", "H336"),
    ("STOT RE 1", "GHS08", "Danger", "H372"),
    ("STOT RE 2", "GHS08", "Warning", "H373"),
    ("Asp. Tox. 1", "GHS08", "Danger", "H304"),
    ("Aquatic Acute 1", "GHS09", "Warning", "H400"),
    ("Aquatic Chronic 1", "GHS09", "Warning", "H410"),
    ("Aquatic Chronic 2", "GHS09", "", "H411"),
    ("Aquatic Chronic 3", "", "", "H412"),
    ("Aquatic Chronic 4", "", "", "H413"),
]


@pytest.mark.parametrize(("one", "pictogram", "signal", "h"), TABLE)
def test_each_class_has_the_elements_of_its_label_table(
    one: str, pictogram: str, signal: str, h: str
) -> None:
    found = label_elements([one])
    assert found.pictograms == ((pictogram,) if pictogram else ())
    assert (found.signal, found.h, found.label_h) == (signal, (h,), (h,))


def test_every_class_that_can_be_read_has_a_row() -> None:
    read = {(c.family, c.category) for c in map(read_class, every_class())}
    assert read == set(ELEMENTS)


@pytest.mark.parametrize(
    ("classes", "expected"),
    [
        # Article 26(1)
        (["Expl. 1.1", "Ox. Sol. 2", "Flam. Sol. 1"], {"GHS01"}),  # a
        (["Acute Tox. 3 (oral)", "Skin Irrit. 2", "Skin Sens. 1"], {"GHS06"}),  # b
        (["Skin Corr. 1B", "Eye Dam. 1"], {"GHS05"}),
        (["Eye Dam. 1", "Skin Irrit. 2"], {"GHS05"}),  # c
        (["Eye Dam. 1", "Skin Irrit. 2", "Skin Sens. 1"], {"GHS05", "GHS07"}),
        (["Skin Corr. 1B", "Acute Tox. 4 (oral)"], {"GHS05", "GHS07"}),
        (["Eye Dam. 1", "STOT SE 3 (H335)"], {"GHS05", "GHS07"}),
        (["Resp. Sens. 1", "Skin Sens. 1", "Eye Irrit. 2"], {"GHS08"}),  # d
        (["Resp. Sens. 1", "Acute Tox. 4 (oral)"], {"GHS08", "GHS07"}),
        (["Carc. 2", "Skin Sens. 1"], {"GHS08", "GHS07"}),
        (["Press. Gas", "Flam. Gas 1A"], {"GHS02"}),  # e
        (["Press. Gas", "Acute Tox. 3 (gas)"], {"GHS06"}),
        # 26(2)
        (["STOT SE 1", "STOT SE 3 (H335)"], {"GHS08"}),
        (["Acute Tox. 3 (dermal)", "Acute Tox. 4 (oral)"], {"GHS06"}),
        # ours: corrosion of metals alone leaves the exclamation mark
        (["Met. Corr. 1", "Skin Irrit. 2"], {"GHS05", "GHS07"}),
    ],
)
def test_pictograms_give_way_by_article_26(
    classes: list[str], expected: set[str]
) -> None:
    assert set(label_elements(classes).pictograms) == expected


def test_danger_suppresses_warning() -> None:
    assert label_elements(["Carc. 1B", "Eye Irrit. 2"]).signal == "Danger"
    assert label_elements(["Aquatic Chronic 3"]).signal == ""
    assert label_elements([]).signal == ""


@pytest.mark.parametrize(
    ("classes", "euh", "label_h"),
    [
        # Article 27
        (["Skin Corr. 1B", "Eye Dam. 1"], [], ("H314",)),
        (["Aquatic Acute 1", "Aquatic Chronic 1"], [], ("H410",)),
        (["Aquatic Acute 1", "Aquatic Chronic 2"], [], ("H400", "H411")),
        (["Aquatic Acute 1", "Aquatic Chronic 3"], [], ("H400", "H412")),
        (["Skin Corr. 1B", "STOT SE 3 (H335)"], ["EUH071"], ("H314",)),
        (["Skin Corr. 1B", "STOT SE 3 (H335)"], [], ("H314", "H335")),
        # Annex III, combined statements
        (["Acute Tox. 4 (oral)", "Acute Tox. 4 (dermal)"], [], ("H302+H312",)),
        (
            [f"Acute Tox. 4 ({r})" for r in ("oral", "dermal", "dust/mist")],
            [],
            ("H302+H312+H332",),
        ),
        (["Acute Tox. 3 (oral)", "Acute Tox. 4 (dermal)"], [], ("H301", "H312")),
        (["Acute Tox. 1 (oral)", "Acute Tox. 2 (dermal)"], [], ("H300+H310",)),
    ],
)
def test_what_is_said_already_is_left_off(
    classes: list[str], euh: list[str], label_h: tuple[str, ...]
) -> None:
    assert label_elements(classes, euh).label_h == label_h


def test_dryness_gives_way_to_burns() -> None:
    assert label_elements(["Skin Irrit. 2"], ["EUH066"]).euh == ()
    assert label_elements(["Eye Irrit. 2"], ["EUH066"]).euh == ("EUH066",)


def test_statements_stand_physical_health_environment_the_severe_first() -> None:
    classes = [
        "Aquatic Chronic 3", "Eye Irrit. 2", "Skin Sens. 1", "Muta. 2", "Carc. 2",
        "Ox. Sol. 2",
    ]  # fmt: skip
    assert label_elements(classes).label_h == (
        "H272", "H351", "H341", "H317", "H319", "H412",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("code", "classes", "word"),
    [
        ("GHS01", ["Expl. 1.1"], "Explosive"),
        ("GHS02", ["Flam. Liq. 2"], "Flammable"),
        ("GHS03", ["Ox. Sol. 2"], "Oxidising"),
        ("GHS04", ["Press. Gas"], "Gas under pressure"),
        ("GHS05", ["Skin Corr. 1"], "Corrosive"),
        ("GHS06", ["Acute Tox. 2 (oral)"], "Toxic"),
        ("GHS08", ["Carc. 2"], "Health hazard"),
        ("GHS09", ["Aquatic Acute 1"], "Environment"),
        ("GHS07", ["Acute Tox. 4 (oral)", "Eye Irrit. 2"], "Harmful"),
        ("GHS07", ["Skin Sens. 1", "Eye Irrit. 2"], "Irritant"),
        ("GHS07", ["STOT SE 3 (H335)"], "Irritant"),
        ("GHS07", ["Skin Sens. 1"], "Allergy"),
        ("GHS07", ["Skin Sens. 1", "Eye Dam. 1", "Skin Irrit. 2"], "Allergy"),
    ],
)
def test_every_pictogram_has_its_word(code: str, classes: list[str], word: str) -> None:
    assert pictogram_word(code, classes) == word

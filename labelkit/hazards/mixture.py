"""What the rules are asked about, and the shape of their answer."""

from collections.abc import Mapping
from decimal import Decimal

from msgspec import Struct, field

from labelkit.hazards.data import HazardData

__all__ = ["Acidity", "Classification", "Ingredient", "MixedPart", "Mixture", "Reason"]


class Acidity(Struct, frozen=True):
    """The pH of a solution with its band; ``source`` is "measured" or "estimate"."""

    value: float
    low: float
    high: float
    source: str

    @property
    def measured(self) -> bool:
        """Whether a meter or paper gave it."""
        return self.source == "measured"


class Ingredient(Struct, frozen=True):
    """One chemical at its share of the mixture [% w/w]."""

    data: HazardData
    percent: Decimal


class MixedPart(Struct, frozen=True):
    """One chemical as it went in and as it stands now, in % w/w of the mixture.

    Attributes:
        added: put in, in the form weighed.
        consumed: of that, used up by a declared reaction.
        formed: made by a declared reaction.
    """

    data: HazardData
    added: Decimal = Decimal(0)
    consumed: Decimal = Decimal(0)
    formed: Decimal = Decimal(0)

    @property
    def present(self) -> Decimal:
        """What the mixture holds of it now [% w/w]."""
        return self.added - self.consumed + self.formed


class Mixture(Struct, frozen=True):
    """Everything the rules may look at. Water need not be among the ingredients.

    Attributes:
        ph_bounds: between which pH it is proven to lie where no pH is known; None
            where nothing is proven.
        solid: a dry mixture, not a solution.
    """

    ingredients: tuple[Ingredient, ...]
    ph: Acidity | None = None
    solid: bool = False
    for_public: bool = True
    flash_point_C: Decimal | None = None
    ph_bounds: tuple[float, float] | None = None


class Reason(Struct, frozen=True):
    """Why one class was reached, or why it was not: the sum, the limit, the rule."""

    hazard_class: str
    rule: str
    text: str


class Classification(Struct, frozen=True):
    """The verdict on one mixture, with the elements of its label.

    Attributes:
        regime: ``eu-clp``, ``gb-clp``, ``un-ghs`` or ``us-hcs``.
        signal: ``Danger``, ``Warning`` or "".
        pictograms: GHS codes after precedence, most severe first.
        classes: class strings; Skin Corr. 1x always together with Eye Dam. 1.
        h: every H code of the classification.
        label_h: the H codes that are printed, after redundancy, in order.
        p: the P codes chosen, in order of printing.
        names: substances to name after "contains".
        unknown: [% w/w] of unknown acute toxicity by route.
        not_determined: what no calculation can settle, in words.
        no_data: names of chemicals without hazard data.
        no_entry: names of chemicals classified or cleared without an Annex VI entry.
        as_added: the verdict on the list as added, where a reaction was declared.
        assumed_corrosive: pH not measured, so labelled as corrosive to be safe.
        organs: text that H370 to H373 add, by H code.
    """

    regime: str
    signal: str = ""
    pictograms: tuple[str, ...] = ()
    classes: tuple[str, ...] = ()
    h: tuple[str, ...] = ()
    label_h: tuple[str, ...] = ()
    euh: tuple[str, ...] = ()
    p: tuple[str, ...] = ()
    ate_mix: Mapping[str, Decimal] = field(default_factory=dict)
    names: tuple[str, ...] = ()
    euh208_names: tuple[str, ...] = ()
    unknown: Mapping[str, Decimal] = field(default_factory=dict)
    not_determined: tuple[str, ...] = ()
    no_data: tuple[str, ...] = ()
    no_entry: tuple[str, ...] = ()
    as_added: "Classification | None" = None
    because: tuple[Reason, ...] = ()
    notices: tuple[str, ...] = ()
    assumed_corrosive: bool = False
    organs: Mapping[str, str] = field(default_factory=dict)

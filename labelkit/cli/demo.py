"""``labelkit demo``: a bench with the samples, mixed, labelled and published."""

import shutil
from datetime import datetime, timedelta
from importlib.resources import as_file
from importlib.resources.abc import Traversable
from pathlib import Path

import click

from labelkit.cli.card_prints import CardOrder, card_pdf
from labelkit.cli.cards import Cards
from labelkit.cli.keeping import keep_batch, print_labels
from labelkit.cli.order import MixOrder, as_it_was_read, batch_of
from labelkit.cli.prints import write
from labelkit.cli.workplace import Workplace
from labelkit.errors import ShelfError
from labelkit.mixing.batch import readings_from
from labelkit.mixing.doses import Stock
from labelkit.mixing.kept_stock import stock_from
from labelkit.mixing.ports import Record
from labelkit.resources import samples_dir

__all__ = ["command"]

# What the balance of the Tern Street Print Room read, by recipe: our own figures.
READ = {
    "borate-alkali": ("borax-decahydrate=17.4g", "sodium-hydroxide=3.7g"),
    "blueprint-a": ("ferric-ammonium-citrate-green=62.4g",),
    "blueprint-b": ("potassium-ferricyanide=25.1g",),
    "film-developer": ("metol=6.0g", "hydroquinone=20.1g", "potassium-carbonate=80.0g"),
    "pyro-a": ("pyrogallol=25.0g", "sodium-metabisulfite=2.5g"),
    "pyro-b": ("sodium-carbonate-anhydrous=50.0g",),
    "plain-fixer": ("sodium-thiosulfate-pentahydrate=250.2g",),
    "citric-stop": ("citric-acid-monohydrate=15.1g",),
    "bromide-stock": ("potassium-bromide=10.0g",),
    "silver-nitrate": ("silver-nitrate=5.0g",),
    "pyro-working": (),
}
INTO = {"borate-alkali": "2x250 mL"}
MAKER = "M. Osei"


@click.command("demo")
@click.argument(
    "folder", default="labelkit-demo", type=click.Path(file_okay=False, path_type=Path)
)
def command(folder: Path) -> None:
    """Set up a bench with the samples in FOLDER, mix, print and publish it all."""
    _set_up(folder)
    place = Workplace(folder)
    records = _mix_all(place)
    for record in records:
        path, told = print_labels(place, record)
        click.echo(f"{record.number}  {record.title:<24} {path or told}")
    cards = _print_cards(place)
    pages = _publish(place)
    click.echo(f"\nCards:  {cards}\nPages:  {pages}")
    click.echo(f"Try:    labelkit plan borate-alkali --bench {folder}")


def _set_up(folder: Path) -> None:
    if folder.exists() and any(folder.iterdir()):
        raise ShelfError(
            "there is something in it already",
            place=str(folder),
            remedy="Name a new folder: labelkit demo FOLDER.",
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _copy(samples_dir(), folder)
    except OSError as error:
        raise ShelfError(
            f"cannot be written: {error.strerror or error}",
            place=str(folder),
            remedy="Name a folder you may write to.",
        ) from None


def _copy(samples: Traversable, folder: Path) -> None:
    with as_file(samples) as source:
        shutil.copytree(source, folder, dirs_exist_ok=True)


def _mix_all(place: Workplace) -> list[Record]:
    """Mix every sample, the solutions before the baths that are made of them."""
    made: dict[str, Record] = {}
    start = place.now - timedelta(days=1)
    for count, name in enumerate(READ):
        stocks = {other: stock_from(record) for other, record in made.items()}
        made[name] = _mix(place, name, start + timedelta(minutes=25 * count), stocks)
    return list(made.values())


def _mix(place: Workplace, name: str, on: datetime, stocks: dict[str, Stock]) -> Record:
    recipe = place.recipe(name)
    needed = {s.recipe for s in recipe.steps if s.recipe}
    pinned = {other: stock for other, stock in stocks.items() if other in needed}
    order = _order(on, INTO.get(name))
    handbook = place.handbook(recipe)
    planned = place.plan(recipe, on=on, stocks=pinned)
    readings = readings_from(planned.job, READ[name], handbook.catalogue)
    plan = as_it_was_read(planned, order, readings, handbook, place.settings)
    return keep_batch(place, batch_of(planned, plan, order, ()), handbook)


def _order(on: datetime, into: str | None) -> MixOrder:
    return MixOrder(
        make=None,
        lot=(),
        stock=(),
        weighed=(),
        made_up_to=None,
        ph=None,
        density=None,
        into=into,
        by=MAKER,
        on=on,
        use=None,
        acknowledge=(),
    )


def _print_cards(place: Workplace) -> Path:
    cards = Cards(place)
    path = place.the_bench().prints / "cards.pdf"
    pdf = card_pdf(place, [cards.card(name) for name in READ], CardOrder())
    write(path, pdf)
    return path


def _publish(place: Workplace) -> Path:
    from labelkit.pages.publish import publish

    folder = place.the_bench().folder / "pages"
    publish(folder, place.shelf, Cards(place), place.settings)
    return folder / "index.html"

"""The house rules a reader may rely on: who imports whom, and what stays inside."""

import ast
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parent.parent / "labelkit"

ROOMS_BELOW = {
    "errors": set(),
    "resources": set(),
    "chemistry": {"errors"},
    "hazards": {"errors", "chemistry"},
    "mixing": {"errors", "chemistry", "hazards"},
    "files": {"errors", "resources", "chemistry", "hazards", "mixing"},
    "shelf": {"errors", "resources", "chemistry", "hazards", "mixing"},
    "printing": {"errors", "resources", "chemistry", "hazards", "mixing"},
    "pages": {"errors", "resources", "chemistry", "hazards", "mixing"},
    "cli": {
        "errors", "resources", "chemistry", "hazards", "mixing", "files", "shelf",
        "printing", "pages",
    },
}  # fmt: skip

EVERYWHERE = {"msgspec"}
OTHERS = {
    "printing": {
        "reportlab", "qrcode", "jinja2", "fontTools", "ghs_hazard_pictogram",
        "pypdfium2",
    },
    "pages": {"flask", "jinja2", "waitress", "werkzeug", "markupsafe"},
    "cli": {"click"},
}  # fmt: skip
OTHERS_BY_FILE = {
    "chemistry/amounts.py": {"pint"},
    "chemistry/formulas.py": {"molmass"},
}
ONLY_INSIDE_FUNCTIONS = {"pint", "molmass", "reportlab", "qrcode", "flask", "jinja2"}
PURE_ROOMS = {"chemistry", "hazards", "mixing"}
OUTSIDE_MODULES = {
    "io", "os", "pathlib", "random", "secrets", "shutil", "socket", "sqlite3",
    "subprocess", "sys", "tempfile", "time", "uuid",
}  # fmt: skip
OUTSIDE_CALLS = {"open", "print", "input", "today", "now", "utcnow"}
STANDARD_LIBRARY = __import__("sys").stdlib_module_names

SOURCES = sorted(HOUSE.rglob("*.py"))


def room_of(path: Path) -> str:
    first = path.relative_to(HOUSE).parts[0]
    return first.removesuffix(".py")


def imported(tree: ast.AST) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "relative imports hide the room"
            module = node.module or ""
            names |= {f"{module}.{alias.name}" for alias in node.names}
    return names


def calls(tree: ast.AST) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            called = node.func
            if isinstance(called, ast.Attribute):
                found.add(called.attr)
            elif isinstance(called, ast.Name):
                found.add(called.id)
    return found


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(HOUSE)))
def test_a_room_imports_only_what_stands_below_it(path: Path) -> None:
    room = room_of(path)
    if room in {"__init__", "__main__"}:
        return
    names = imported(ast.parse(path.read_text("utf-8")))
    ours = {n.split(".")[1] for n in names if n.startswith("labelkit.")}
    if room == "cli" or "labelkit.__version__" in names:
        ours.discard("__version__")
    assert not ours - ROOMS_BELOW[room] - {room}


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(HOUSE)))
def test_a_room_uses_only_its_own_libraries(path: Path) -> None:
    roots = {n.split(".")[0] for n in imported(ast.parse(path.read_text("utf-8")))}
    foreign = roots - set(STANDARD_LIBRARY) - {"labelkit"} - EVERYWHERE
    allowed = OTHERS.get(room_of(path), set()) | OTHERS_BY_FILE.get(
        str(path.relative_to(HOUSE)), set()
    )
    assert not foreign - allowed


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(HOUSE)))
def test_slow_libraries_load_only_where_they_are_used(path: Path) -> None:
    tree = ast.parse(path.read_text("utf-8"))
    at_top = {
        name.split(".")[0]
        for node in tree.body
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in imported(node)
    }
    assert not at_top & (ONLY_INSIDE_FUNCTIONS - {"flask", "jinja2"})
    if room_of(path) != "pages":
        assert not at_top & {"flask", "jinja2"}


@pytest.mark.parametrize(
    "path",
    [p for p in SOURCES if room_of(p) in PURE_ROOMS],
    ids=lambda p: str(p.relative_to(HOUSE)),
)
def test_chemistry_hazards_and_mixing_never_touch_the_outside(path: Path) -> None:
    tree = ast.parse(path.read_text("utf-8"))
    assert not {n.split(".")[0] for n in imported(tree)} & OUTSIDE_MODULES
    assert not calls(tree) & OUTSIDE_CALLS


def test_every_folder_is_a_room_in_the_table() -> None:
    folders = {p.name for p in HOUSE.iterdir() if p.is_dir() and p.name[0] != "_"}
    assert folders - {"data"} <= set(ROOMS_BELOW)


@pytest.mark.parametrize(
    ("room", "planted"),
    [
        ("chemistry", "import labelkit.mixing.recipe"),
        ("mixing", "from labelkit.files import recipes"),
        ("hazards", "def f():\n    from labelkit import shelf"),
    ],
)
def test_the_guard_sees_a_planted_fault(room: str, planted: str) -> None:
    names = imported(ast.parse(planted))
    ours = {n.split(".")[1] for n in names if n.startswith("labelkit.")}
    assert ours - ROOMS_BELOW[room] - {room}

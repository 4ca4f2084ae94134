"""``labelkit plan --why``."""

import json

from tests.cli.conftest import Run


def test_the_traces_stand_after_the_plan(run: Run) -> None:
    plain, traced = run("plan", "borate-alkali"), run("plan", "borate-alkali", "--why")
    assert traced.code == 0
    head, _, tail = traced.out.partition("\nWhy\n")
    assert head.rstrip() == plain.out.rstrip()
    assert "Source: conservation of atoms" in tail
    assert max(map(len, tail.splitlines())) <= 78


def test_json_carries_them_under_their_own_key(run: Run) -> None:
    plain = json.loads(run("plan", "borate-alkali", "--json").out)
    traced = json.loads(run("plan", "borate-alkali", "--json", "--why").out)
    assert "why" not in plain
    assert set(traced) - set(plain) == {"why"}
    assert set(traced["why"][0]) == {"figure", "how", "source"}


def test_the_assay_of_a_lot_is_traced_to_its_jar(run: Run) -> None:
    lot = run("plan", "borate-alkali", "--lot", "sodium-hydroxide=95%", "--why").out
    assert "98 % ÷ 95 %" in lot
    assert "assay 95 %" in " ".join(lot.split())

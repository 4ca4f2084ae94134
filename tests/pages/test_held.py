"""What is held is what was made of the same key, and no more than so many."""

from labelkit.pages.held import Held


def test_a_value_is_made_once_while_it_is_held() -> None:
    held: Held[str, object] = Held(2)
    first = held.get("a", object)
    assert held.get("a", object) is first
    assert held.get("b", object) is not first


def test_the_one_asked_for_longest_ago_is_forgotten() -> None:
    held: Held[str, object] = Held(2)
    a, b = held.get("a", object), held.get("b", object)
    assert held.get("a", object) is a
    held.get("c", object)
    assert held.get("a", object) is a
    assert held.get("b", object) is not b


def test_what_fails_is_not_held() -> None:
    held: Held[str, int] = Held(2)

    def fail() -> int:
        raise KeyError("a")

    for make, told in ((fail, None), (lambda: 1, 1)):
        try:
            assert held.get("a", make) == told
        except KeyError:
            assert told is None

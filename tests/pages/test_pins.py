"""Wrong PINs: slow for one address, slow for all together, and never a way around."""

from threading import Thread

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.pages.pins import FROM_ALL, FROM_ONE, Pin
from tests.pages.live import Seconds

FIGURES = "048151"
HERE = "192.0.2.7"


@pytest.fixture
def seconds() -> Seconds:
    return Seconds()


@pytest.fixture
def pin(seconds: Seconds) -> Pin:
    return Pin(FIGURES, seconds)


def wrong(pin: Pin, times: int, address: str = HERE) -> int:
    """The wait after some wrong tries."""
    return [pin.tried("000000", address).wait_s for _ in range(times)][-1]


@pytest.mark.parametrize("typed", [FIGURES, "048 151", " 048-151 ", "048\u00a0151"])
def test_the_right_pin_is_right_however_it_is_spaced(pin: Pin, typed: str) -> None:
    assert pin.tried(typed, HERE).right


@given(st.text(max_size=12).filter(lambda text: "048" not in text))
def test_nothing_else_is_right(typed: str) -> None:
    assert not Pin(FIGURES).tried(typed, HERE).right


def test_other_figures_than_ours_are_not_taken_for_them(pin: Pin) -> None:
    assert not pin.tried("٠٤٨١٥١", HERE).right
    assert not pin.tried("", HERE).right


def test_the_fifth_wrong_try_brings_a_wait(pin: Pin) -> None:
    assert wrong(pin, FROM_ONE.free - 1) == 0
    assert wrong(pin, 1) == 30


def test_while_waiting_not_even_the_right_pin_counts(
    pin: Pin, seconds: Seconds
) -> None:
    wrong(pin, FROM_ONE.free)
    seconds.now += 29.5
    tried = pin.tried(FIGURES, HERE)
    assert not tried.right
    assert tried.wait_s == 1
    seconds.now += 0.5
    assert pin.tried(FIGURES, HERE).right


def test_each_further_wait_is_twice_as_long_up_to_a_limit(
    pin: Pin, seconds: Seconds
) -> None:
    waits = [wrong(pin, FROM_ONE.free)]
    for _ in range(7):
        seconds.now += waits[-1]
        waits.append(wrong(pin, 1))
    assert waits == [30, 60, 120, 240, 480, 900, 900, 900]


def test_a_try_while_waiting_does_not_make_the_wait_longer(
    pin: Pin, seconds: Seconds
) -> None:
    wrong(pin, FROM_ONE.free)
    seconds.now += 20
    assert wrong(pin, 50) == 10


def test_another_address_is_not_kept_waiting(pin: Pin) -> None:
    wrong(pin, FROM_ONE.free)
    assert pin.tried(FIGURES, "192.0.2.8").right


def test_many_addresses_together_are_slowed_down_too(
    pin: Pin, seconds: Seconds
) -> None:
    for n in range(FROM_ALL.free - 1):
        assert wrong(pin, 1, f"192.0.2.{n}") == 0
    assert wrong(pin, 1, "192.0.2.100") == 2
    assert not pin.tried(FIGURES, "192.0.2.101").right
    seconds.now += 2
    assert pin.tried(FIGURES, "192.0.2.101").right


def test_a_machine_with_every_address_gets_one_try_a_minute(
    pin: Pin, seconds: Seconds
) -> None:
    # a day of it: less than one PIN of 600 is tried
    looked_at, end = 0, seconds.now + 24 * 3600
    while seconds.now < end:
        tried = pin.tried("000000", f"10.0.{looked_at // 250}.{looked_at % 250}")
        looked_at += 1
        seconds.now += max(tried.wait_s, 0.001)
    assert looked_at <= 24 * 60 + FROM_ALL.free + 10
    assert 10**6 / looked_at > 600


def test_the_right_pin_forgives_its_own_address_alone(
    pin: Pin, seconds: Seconds
) -> None:
    wrong(pin, FROM_ONE.free)
    seconds.now += 30
    assert pin.tried(FIGURES, HERE).right
    assert wrong(pin, FROM_ONE.free - 1) == 0


def test_after_a_day_without_a_wrong_try_counting_starts_again(
    pin: Pin, seconds: Seconds
) -> None:
    wrong(pin, FROM_ONE.free)
    seconds.now += FROM_ONE.forgotten_after_s + 1
    assert wrong(pin, FROM_ONE.free - 1) == 0


def test_tries_at_the_same_moment_are_counted_one_by_one(pin: Pin) -> None:
    looked_at: list[int] = []

    def knock() -> None:
        for _ in range(20):
            looked_at.append(pin.tried("000000", HERE).wait_s)

    threads = [Thread(target=knock) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert looked_at.count(0) == FROM_ONE.free - 1


def test_addresses_without_end_do_not_fill_the_memory(seconds: Seconds) -> None:
    pin = Pin(FIGURES, seconds)
    for n in range(3000):
        seconds.now += 3600
        pin.tried("000000", f"address {n}")
    assert len(pin._by_address) == 1000

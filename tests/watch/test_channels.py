"""The ways out under the watch: one that fails or hangs is told, retried, and stood in for."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

import pytest

from suntrack.clock import SystemClock
from suntrack.notify.channel import Accepted, Refused, Unknown

Make = Callable[..., Any]


@pytest.mark.promise("A way that is dead or hangs delays no other")
@pytest.mark.parametrize("answer", [Refused("no network"), Unknown("no answer in 7 s")])
def test_a_way_that_fails_is_retried_and_then_the_backup_is_used_and_the_screen_says_so(
    answer: Any, bench: Any, make_way: Make, make_plan: Make, make_load: Make
) -> None:
    phone, mail, screen = make_way("phone", answer), make_way("mail"), make_way("terminal")
    plan = make_plan([make_load(1, bench.at("10:00"))])
    watch = bench.watch(plan, screen, phone, mail, backups=["mail"])
    bench.run(watch, "10:00")
    assert (phone.keys(), mail.keys()) == (["load-1"], [])
    (trouble,) = watch.view(bench.clock.now()).trouble
    assert "phone" in trouble
    assert answer.reason in trouble
    assert "mail" in trouble
    bench.run(watch, "10:05")
    assert phone.keys()[:2] == ["load-1", "load-1"]
    assert mail.keys() == ["load-1"]
    assert screen.keys() == ["load-1"]


def test_a_backup_is_left_alone_while_the_first_way_works(
    bench: Any, make_way: Make, make_plan: Make, make_load: Make
) -> None:
    phone, mail = make_way("phone"), make_way("mail")
    plan = make_plan([make_load(1, bench.at("10:00"))])
    watch = bench.watch(plan, phone, mail, backups=["mail"])
    bench.run(watch, "10:30")
    assert (phone.keys(), mail.keys()) == (["load-1"], [])


def test_a_way_that_works_again_is_no_trouble_any_more(
    bench: Any, make_way: Make, make_plan: Make, make_load: Make
) -> None:
    phone = make_way("phone", Refused("no network"))
    watch = bench.watch(make_plan([make_load(1, bench.at("10:00"))]), phone)
    bench.run(watch, "10:00")
    assert "NOT DELIVERED" in " ".join(watch.view(bench.clock.now()).trouble)
    phone.answer = Accepted()
    bench.run(watch, "10:02")
    assert watch.view(bench.clock.now()).trouble == ()


@pytest.mark.promise("A way that is dead or hangs delays no other")
def test_a_way_that_hangs_delays_no_other_and_is_given_nothing_more_until_it_answers(
    bench: Any, make_way: Make, make_plan: Make, make_load: Make
) -> None:
    """Ten alerts while the phone hangs: the screen has them all, each at its own look."""
    release = threading.Event()
    phone, screen = make_way("phone", release), make_way("terminal")
    loads = [make_load(i, bench.at(f"10:{2 * i:02d}")) for i in range(10)]
    watch = bench.watch(make_plan(loads), screen, phone, soon_s=0.2)
    bench.clock.run_to(bench.at("09:59"))
    clock = SystemClock()
    began_s = clock.monotonic()
    bench.run(watch, "10:00")
    # Promised: other ways are not delayed by more than a second.
    assert screen.keys() == ["load-0"]
    assert clock.monotonic() - began_s < 5.0
    bench.run(watch, "10:19")
    assert screen.keys() == [f"load-{i}" for i in range(10)]
    assert phone.keys() == ["load-0"]
    release.set()
    while "phone" not in watch._hands.free:
        watch._take_outcomes(bench.clock.now(), wait_s=5.0)
    bench.run(watch, "10:20")
    assert phone.keys()[1:] != []
    assert bench.journal.alert_states(bench.at("10:00").date())["2026-11-25/load-0"] == "sent"


def test_nobody_knows_is_said_in_words(
    bench: Any, make_way: Make, make_plan: Make, make_load: Make
) -> None:
    """Two tries without an answer: no third, and the screen says that it may have been told."""
    phone = make_way("phone", Unknown("no answer in 7 s"))
    watch = bench.watch(make_plan([make_load(1, bench.at("10:00"))]), phone)
    bench.run(watch, "10:30")
    assert phone.keys() == ["load-1", "load-1"]
    assert "may have been told" in " ".join(watch.view(bench.clock.now()).trouble)


def test_a_watch_that_ends_waits_for_the_way_that_is_still_at_work(
    bench: Any, make_way: Make, make_plan: Make, make_load: Make
) -> None:
    """Else the next run would have to tell it again."""
    release = threading.Event()
    phone = make_way("phone", release)
    watch = bench.watch(make_plan([make_load(1, bench.at("10:00"))]), phone, soon_s=0.2)
    bench.run(watch, "10:00")
    threading.Timer(0.1, release.set).start()
    watch._finish()
    states = bench.journal.alert_states(bench.at("10:00").date())
    assert states["2026-11-25/load-1"] == "sent"


def test_food_past_saving_waits_for_a_way_that_is_busy_and_is_told_then(
    bench: Any, make_way: Make, make_plan: Make, make_soup: Make, make_load: Make
) -> None:
    """The only way hangs while the last moment goes by: it is told as soon as it answers."""
    release = threading.Event()
    phone = make_way("phone", release)
    dish = make_soup(
        status="not done", pull_at=None, pull_by=None, stove_by=bench.at("10:20")
    )  # to the stove from 10:05 on
    plan = make_plan([make_load(1, bench.at("10:00"))], dish)
    watch = bench.watch(plan, phone, soon_s=0.2)
    bench.run(watch, "10:30")
    assert phone.keys() == ["load-1"]
    release.set()
    phone.answer = Accepted()
    while "phone" not in watch._hands.free:
        watch._take_outcomes(bench.clock.now(), wait_s=5.0)
    bench.run(watch, "10:31")
    assert "Lentil soup" in phone.sent[-1].body
    assert "food authority" in phone.sent[-1].body
    count = len(phone.sent)
    bench.run(watch, "11:30")
    assert len([n for n in phone.sent[count:] if "Lentil" in n.title + n.body]) == 0

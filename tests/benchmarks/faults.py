"""Faults in large numbers; the small runs of the same are among the tests.

    python tests/benchmarks/faults.py --kills 1000 --configs 10000 --notes 10000 --journals 2000

Each kind prints one line; the status is 1 when a promise was broken.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import tempfile
from datetime import UTC, date, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
from benchmarks.killed_day import Tally, kill_through

from suntrack.config.reader import load_config
from suntrack.errors import InputError, JournalError
from suntrack.food.dishes import builtin_dishes
from suntrack.store.journal import Entry, Journal
from suntrack.store.note import parse_note

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
KILLS_A_DAY = 20
NOON = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
WILD = (
    "nan", "true", "0x10", "[]", "{}", '""', '"0 cm"', '"1/0 in"', '"99999 F"', '"24:00-0:00"',
    '["9:00-9:00"]', '"\\u0000"', "1979-05-27", '"${X}"', '"json://u:p@h/"', '"' + "9" * 500 + '"',
)  # fmt: skip
WORDS = (
    "turned", "loaded", "pulled", "reading", "skipped", "lentil-soup", "245F", "nan F", "-0 C",
    "1/0 C", "", "\x00", "\u0660 C", "9" * 400 + " F", "<b>", "--", "245 F 3",
)  # fmt: skip


def kills(count: int, order: random.Random) -> bool:
    """Kill the watch of a day so often; return True when the promise held."""
    whole = Tally()
    while whole.kills < count:
        with tempfile.TemporaryDirectory() as folder:
            today = min(KILLS_A_DAY, count - whole.kills)
            one = kill_through(Path(folder), kills=today, order=order, longest_s=0.06)
        if not one.kills:
            raise RuntimeError("nothing was alive to be killed; let it live longer")
        for name in Tally.__slots__:
            setattr(whole, name, getattr(whole, name) + getattr(one, name))
    print(
        f"kills: {whole.kills}, alerts {whole.alerts}: lost {whole.lost}, never told but said to"
        f" be in doubt {whole.doubtful} (two kills in one handing over), told twice"
        f" {whole.doubled} (at most one a kill), three times {whole.tripled},"
        f" second copies that do not say so {whole.unflagged}"
    )
    broken = whole.lost or whole.tripled or whole.unflagged or whole.doubled > whole.kills
    return not broken


def mangled(text: str, order: random.Random) -> bytes:
    """Return the example with some of it changed, gone, doubled or garbled."""
    lines = text.splitlines()
    for _ in range(order.randint(1, 4)):
        at = order.randrange(len(lines))
        kind = order.randrange(5)
        if kind == 0:
            del lines[at]
        elif kind == 1:
            lines.insert(at, lines[order.randrange(len(lines))])
        elif kind == 2:
            lines[at] = re.sub(r"= .*", lambda _: f"= {order.choice(WILD)}", lines[at])
        elif kind == 3:
            lines[at] = "".join(order.sample(lines[at], len(lines[at])))
        else:
            lines[at] = lines[at][: order.randrange(len(lines[at]) + 1)]
    content = bytearray("\n".join(lines).encode())
    if order.random() < 0.2:
        content[order.randrange(len(content))] = order.randrange(256)
    return bytes(content)


def configs(count: int, order: random.Random) -> bool:
    """Load so many spoilt configs: each is a config or a report, never another error."""
    text, refused = EXAMPLE.read_text(encoding="utf-8"), 0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "mine.toml"
        for _ in range(count):
            path.write_bytes(mangled(text, order))
            try:
                load_config(path)
            except InputError as error:
                refused += 1
                assert all(p.where and p.found and p.allowed and p.remedy for p in error.problems)
    print(f"configs: {count}, refused with a report {refused}, other errors 0")
    return True


def notes(count: int, order: random.Random) -> bool:
    """Read so many notes of random words: each is a note or a report, never another error."""
    dishes, refused = builtin_dishes(), 0
    for _ in range(count):
        words = [order.choice(WORDS) for _ in range(order.randrange(5))]
        if order.random() < 0.3:
            words.append("".join(chr(order.randrange(0x2FFF)) for _ in range(5)))
        try:
            parse_note(words, dishes=dishes)
        except InputError:
            refused += 1
    print(f"notes: {count}, refused with a report {refused}, other errors 0")
    return True


def journals(count: int, order: random.Random) -> bool:
    """Open so many damaged journals: each opens and takes a note, or is refused untouched."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        day = date(2026, 11, 25)
        with Journal.open(path) as journal:
            for i in range(60):
                data = {"box_c": float(i)}
                journal.append(Entry(at=NOON, kind="reading", day=day, data=data))
        whole, kept = path.read_bytes(), 0
        for _ in range(count):
            for file in Path(folder).iterdir():
                file.unlink()
            content = bytearray(
                whole[: order.randrange(len(whole))] if order.random() < 0.3 else whole
            )
            for _ in range(order.randrange(8)):
                if content:
                    content[order.randrange(len(content))] = order.randrange(256)
            path.write_bytes(content)
            try:
                with Journal.open(path, now=NOON) as journal:
                    kept += len(journal.entries(day))
                    journal.append(Entry(at=NOON, kind="turned", day=day))
            except JournalError:
                continue
    print(
        f"journals: {count} damaged, {kept / count / 60:.0%} of their entries kept, other errors 0"
    )
    return True


KINDS = {"kills": kills, "configs": configs, "notes": notes, "journals": journals}


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    for name in KINDS:
        parser.add_argument(f"--{name}", type=int, default=0, metavar="N")
    parser.add_argument("--seed", type=int, default=20261125)
    args = parser.parse_args()
    order = random.Random(args.seed)
    held = [run(vars(args)[name], order) for name, run in KINDS.items() if vars(args)[name]]
    return int(not all(held))


if __name__ == "__main__":
    sys.exit(main())

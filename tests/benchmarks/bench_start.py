"""How long commands take to start: run `python tests/benchmarks/bench_start.py`.

Against importing pvlib in the same run, each the shortest of several fresh processes.
Prints times and ratios; nothing here is a test, because machines differ.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
ROUNDS = 5


def shortest_s(words: list[str], env: dict[str, str]) -> float:
    """Return the shortest of a few runs of a process.  [s]"""
    times = []
    for i in range(ROUNDS):
        # Another minute each time, where the words ask for one, so that nothing is kept.
        said = [word.format(i) for word in words]
        begun = perf_counter()
        subprocess.run([sys.executable, *said], env=env, check=True, capture_output=True)
        times.append(perf_counter() - begun)
    return min(times)


def main() -> None:
    """Print the table."""
    with TemporaryDirectory() as home:
        env = {**os.environ, "SUNTRACK_HOME": home, "SUNTRACK_CONFIG": str(EXAMPLE)}
        command = ["-m", "suntrack"]
        # Compiles, and keeps the day's sun and plan.
        subprocess.run([sys.executable, *command, "today"], env=env, check=True,
                       capture_output=True)  # fmt: skip
        yardstick = shortest_s(["-c", "import pvlib"], env)
        print(f"{'import pvlib':24s} {yardstick:6.2f} s")
        for name, words in (
            ("python, nothing", ["-c", ""]),
            ("suntrack --help", [*command, "--help"]),
            ("suntrack now", [*command, "now"]),
            ("suntrack today, kept", [*command, "today"]),
            ("suntrack today, anew", [*command, "today", "--at", "05:0{}"]),
            ("the same, new morning", [*command, "today", "--at", "2027-03-1{}T05:00"]),
        ):
            taken = shortest_s(words, env)
            print(f"{name:24s} {taken:6.2f} s, {taken / yardstick:5.2f} of it")


if __name__ == "__main__":
    main()

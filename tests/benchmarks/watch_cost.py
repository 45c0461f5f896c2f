"""What a quiet watch costs: memory and share of a core, measured on the real process.

    python tests/benchmarks/watch_cost.py --seconds 60

Starts `suntrack watch --headless` in a home of its own, waits until its plans are made,
and reads /proc (Linux).  Promised: at most 90 MB resident at the highest, and 0.2 % of a
core.  Ends with status 1 when a promise is broken.
"""

from __future__ import annotations

import argparse
import os
import signal
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

MOST_MB, MOST_SHARE = 90.0, 0.002
EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
PAUSE = threading.Event()


def cpu_s(pid: int) -> float:
    """Return the processor time a process has used itself, without its children.  [s]"""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def memory_mb(pid: int, key: str) -> float:
    """Return a size from /proc/PID/status, such as VmRSS or VmHWM.  [MB]"""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith(f"{key}:"):
            return int(line.split()[1]) / 1024.0
    raise ValueError(key)


def children(pid: int) -> list[str]:
    """Return the processes that a process has started and that still run."""
    return Path(f"/proc/{pid}/task/{pid}/children").read_text().split()


def wait_for_plans(pid: int, home: Path) -> None:
    """Wait until a plan is kept and no planner has run for three seconds."""
    quiet = 0
    while quiet < 6:
        has_plan = any((home / "cache").glob("plan-*.json"))
        quiet = quiet + 1 if has_plan and not children(pid) else 0
        PAUSE.wait(0.5)


def measure(seconds: float) -> tuple[float, float, float]:
    """Return the highest and the present memory, and the share of a core.  [MB, MB, -]"""
    with tempfile.TemporaryDirectory() as folder:
        env = {**os.environ, "SUNTRACK_HOME": folder, "SUNTRACK_CONFIG": str(EXAMPLE)}
        command = [sys.executable, "-m", "suntrack", "watch", "--headless"]
        with subprocess.Popen(command, env=env, cwd=folder, stdout=subprocess.DEVNULL) as watch:
            try:
                wait_for_plans(watch.pid, Path(folder))
                before_s, began_s = cpu_s(watch.pid), time.monotonic()
                PAUSE.wait(seconds)
                share = (cpu_s(watch.pid) - before_s) / (time.monotonic() - began_s)
                highest = memory_mb(watch.pid, "VmHWM")
                return highest, memory_mb(watch.pid, "VmRSS"), share
            finally:
                watch.send_signal(signal.SIGTERM)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    highest_mb, present_mb, share = measure(parser.parse_args().seconds)
    print(f"memory: {present_mb:.1f} MB, at the highest {highest_mb:.1f} MB (at most {MOST_MB:g})")
    print(f"processor: {share:.3%} of a core (at most {MOST_SHARE:.1%})")
    return int(highest_mb > MOST_MB or share > MOST_SHARE)


if __name__ == "__main__":
    sys.exit(main())

"""Every ratio from one command: run `python tests/benchmarks/everything.py`.

Prints what machine it is, then what each script beside this one prints.  Takes some minutes;
a busy machine makes the times, and less so the ratios, worse.
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).parent
SCRIPTS = (
    "bench_start", "bench_heat", "score_skies", "bench_plan", "bench_season",
    "watch_cost", "lateness",
)  # fmt: skip
PACKAGES = ("numpy", "numba", "scipy", "pvlib", "pydantic", "rich")


def machine() -> str:
    """Return what the times were taken on."""
    model = platform.processor() or platform.machine()
    cpuinfo = Path("/proc/cpuinfo")
    if cpuinfo.exists():
        names = [
            line.partition(":")[2].strip()
            for line in cpuinfo.read_text(encoding="utf-8").splitlines()
            if line.startswith("model name")
        ]
        model = names[0] if names else model
    packages = ", ".join(f"{name} {version(name)}" for name in PACKAGES)
    load = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "not known"
    return (
        f"{model}, {os.cpu_count()} processors, load {load}; {platform.system()}, "
        f"Python {platform.python_version()}; {packages}"
    )


def main() -> None:
    """Print the page."""
    print(machine(), flush=True)
    paths = [str(HERE.parent), str(HERE.parents[1]), os.environ.get("PYTHONPATH", "")]
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in paths if path)}
    for name in SCRIPTS:
        script = HERE / f"{name}.py"
        if script.exists():
            print(f"\n{name}", flush=True)
            subprocess.run([sys.executable, str(script)], env=env, check=False)


if __name__ == "__main__":
    main()

"""`suntrack service`: print the file that keeps the watch running after every start.

Nothing is installed and nothing is started: the file goes to the standard output, and
what to do with it to the standard error, so that the one can be sent into a file.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
from pathlib import Path, PurePosixPath

from suntrack.commands.context import context_of, print_json
from suntrack.screen.text.ways import service_lines
from suntrack.store.paths import HOME
from suntrack.watch.service_files import ServiceFile, launchd_job, systemd_unit


def run(args: argparse.Namespace) -> int:
    """Print the file of this system, or of the one asked for; as JSON both."""
    context = context_of(args)
    files = _files(context.config.path.absolute())
    if args.json:
        print_json({file.kind: _as_json(file) for file in files.values()})
        return 0
    kind = args.kind or ("launchd" if platform.system() == "Darwin" else "systemd")
    print(files[kind].text, end="")
    for line in service_lines(files[kind].path, files[kind].commands):
        print(line, file=sys.stderr)
    return 0


def _files(config: Path) -> dict[str, ServiceFile]:
    """Return both files, with the paths of this very installation."""
    command = [sys.executable, "-m", "suntrack", "watch", "--headless", "--config", str(config)]
    kept = {HOME: str(Path(os.environ[HOME]).expanduser().absolute())} if _has_home() else {}
    home = PurePosixPath(Path.home().as_posix())
    return {
        "systemd": systemd_unit(command, environment=kept, home=home),
        "launchd": launchd_job(command, environment=kept, home=home),
    }


def _has_home() -> bool:
    return bool(os.environ.get(HOME))


def _as_json(file: ServiceFile) -> dict[str, object]:
    return {"path": file.path, "text": file.text, "commands": list(file.commands)}

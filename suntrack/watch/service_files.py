"""The files with which a system keeps the watch running: a systemd user unit, a launchd job.

Quoting follows systemd.service(5) "Command lines" and systemd.syntax(7); launchd's file is
a property list, which the standard library writes.
"""

from __future__ import annotations

import plistlib
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Literal

from suntrack.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

Kind = Literal["systemd", "launchd"]
LABEL = "suntrack.watch"
UNFIT_FOR_A_PROGRAM = frozenset("\"'\\")
"""Signs that systemd takes in every word of a command but the first (seen with 252)."""
ENV = "/usr/bin/env"
UNIT = """\
[Unit]
Description=Calls the cook for every step of the solar cooking day

[Service]
ExecStart={command}
{environment}Restart=on-failure
RestartSec=5
# A mistake in the config, or a watch that runs already: trying again would not help.
RestartPreventExitStatus=2 75
TimeoutStopSec=20
NoNewPrivileges=yes

[Install]
WantedBy=default.target
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceFile:
    """A file, where it belongs, and what to run then."""

    kind: Kind
    """Which system reads it."""
    path: str
    """Where it belongs."""
    text: str
    """What is in it."""
    commands: tuple[str, ...]
    """What to run then."""


def systemd_unit(
    command: Sequence[str], *, environment: Mapping[str, str], home: PurePosixPath
) -> ServiceFile:
    """Return the user unit; raise InputError for a path that no unit can hold."""
    lines = [f"Environment={_quoted(f'{name}={value}')}\n" for name, value in environment.items()]
    # With a colon in front, systemd takes a dollar sign for a dollar sign.
    if set(command[0]) & UNFIT_FOR_A_PROGRAM:
        command = [ENV, *command]
    colon = ":" if any("$" in word for word in command) else ""
    return ServiceFile(
        kind="systemd",
        path=str(home / ".config" / "systemd" / "user" / "suntrack.service"),
        text=UNIT.format(
            command=colon + " ".join(_quoted(word) for word in command),
            environment="".join(lines),
        ),
        commands=(
            "systemctl --user daemon-reload",
            "systemctl --user enable --now suntrack.service",
            # Else the watch ends when the cook logs out.
            "loginctl enable-linger",
        ),
    )


def launchd_job(
    command: Sequence[str], *, environment: Mapping[str, str], home: PurePosixPath
) -> ServiceFile:
    """Return the launchd job; raise InputError for a path that no property list can hold."""
    path = str(home / "Library" / "LaunchAgents" / f"{LABEL}.plist")
    job = {
        "Label": LABEL,
        "ProgramArguments": [_checked(word) for word in command],
        "EnvironmentVariables": {name: _checked(value) for name, value in environment.items()},
        "RunAtLoad": True,
        "KeepAlive": {"SuccessfulExit": False},
        "ThrottleInterval": 30,
        "ProcessType": "Background",
    }
    return ServiceFile(
        kind="launchd",
        path=path,
        text=plistlib.dumps(job, sort_keys=False).decode("utf-8"),
        commands=(f"launchctl bootstrap gui/$(id -u) {_for_shell(path)}",),
    )


def _quoted(text: str) -> str:
    """Return one word for a unit file: quoted, its percent signs doubled."""
    escaped = _checked(text).replace("\\", "\\\\").replace('"', '\\"').replace("%", "%%")
    return f'"{escaped}"'


def _checked(text: str) -> str:
    """Return a text that fits on a line; raise InputError for one that does not."""
    if text.isprintable():
        return text
    raise InputError(
        Problem(
            where="service",
            found=repr(text),
            allowed="paths of printable signs",
            remedy="Rename the folder or the file, and try again.",
        )
    )


def _for_shell(path: str) -> str:
    """Return a path as one word for a shell."""
    return "'" + path.replace("'", "'\\''") + "'"

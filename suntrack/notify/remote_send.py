"""The process that sends one notice to one address and prints what came of it.

    ready
    {"address": ..., "title": ..., "body": ..., "urgency": ...}  ->  {"outcome": ..., "reason": ...}

It asks for the notice only once everything slow is loaded.

The library says only yes or no.  A no can mean that the message never left, or that it
left and nobody knows what became of it; which of the two is read from what it logs, and
where that says nothing, the message may have left.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import logging
import re
import sys
from typing import TYPE_CHECKING, Any

from suntrack.notify.remote import READY

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

CONNECT_S, ANSWER_S = 2.5, 3.5
"""How long to wait for a connection, and then for an answer.  [s]"""
NEVER_LEFT = (
    "connection refused",
    "failed to resolve",
    "name or service not known",
    "temporary failure in name resolution",
    "nodename nor servname",
    "no route to host",
    "network is unreachable",
    "failed to establish a new connection",
    "connecttimeout",
    "certificate verify failed",
)
"""Words of an error that comes before anything was said, in lower case."""
ANSWERED = re.compile(r"error=(\d{3})")
WAYS_FOR_AN_ADDRESS = "the address is of no kind that is known"


def main() -> int:
    """Load what is slow, ask for the order, send, print the outcome."""
    with contextlib.suppress(ImportError):
        importlib.import_module("apprise")
    print(READY, flush=True)  # noqa: T201 - the question
    order = json.load(sys.stdin)
    outcome, reason = send(order)
    print(json.dumps({"outcome": outcome, "reason": reason}))  # noqa: T201 - the answer
    return 0


def send(order: Mapping[str, str]) -> tuple[str, str]:
    """Send a notice and return accepted, refused or unknown, with the reason."""
    try:
        import apprise
    except ImportError:
        return "refused", "sending needs one more package: pip install apprise"
    # Only the most talkative log tells a lost connection from one that never was.
    logging.getLogger("apprise").setLevel(logging.DEBUG)
    logging.getLogger("apprise").propagate = False
    asset = apprise.AppriseAsset(
        app_id="suntrack", app_desc="suntrack", async_mode=False, storage_mode="memory"
    )
    service = apprise.Apprise.instantiate(order["address"], asset=asset)
    if service is None:
        return "refused", WAYS_FOR_AN_ADDRESS
    service.socket_connect_timeout, service.socket_read_timeout = CONNECT_S, ANSWER_S
    ways = apprise.Apprise(asset=asset)
    ways.add(service)
    kinds = {"urgent": apprise.NotifyType.WARNING}
    result = ways.notify(
        title=order["title"],
        body=order["body"],
        notify_type=kinds.get(order["urgency"], apprise.NotifyType.INFO),
        # Words of a dish may look like markup: said to be plain, they are escaped where needed.
        body_format=apprise.NotifyFormat.TEXT,
        log_level=logging.DEBUG,
    )
    if result:
        return "accepted", ""
    return _no(_lines(result))


def _lines(result: Any) -> list[str]:
    """Return what the library logged, in lower case; it may hold secrets and is not kept."""
    return [str(getattr(entry, "message", entry)).lower() for entry in result.logs()]


def _no(lines: Iterable[str]) -> tuple[str, str]:
    """Return what a no of the library means, in words of our own."""
    text = "\n".join(lines)
    answered = ANSWERED.search(text)
    if answered:
        return "refused", f"it answered with an error ({answered[1]})"
    if any(words in text for words in NEVER_LEFT):
        return "refused", "it cannot be reached"
    if "socket exception" in text or "timed out" in text:
        return "unknown", "the connection was lost before it answered"
    return "refused", "it said no"


if __name__ == "__main__":
    sys.exit(main())

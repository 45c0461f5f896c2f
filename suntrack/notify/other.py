"""Notices on macOS and Windows, through an optional library; not run in our tests there.

The library returns an id even when nothing was shown (measured), so what it says is
never taken as a receipt.
"""

from __future__ import annotations

import asyncio
import platform

from suntrack.notify.channel import Notice, Notifier, Outcome, Refused, Unknown, printable

LIMIT_S = 5.0


class OtherDesktopNotifier:
    """Hands notices to the desktop and cannot know whether they were shown."""

    name = "desktop"

    def send(self, notice: Notice) -> Outcome:
        """Hand over; the library is only loaded here."""
        try:
            from desktop_notifier import DesktopNotifier, Urgency
        except ImportError:
            return Refused("desktop notices need one more package: pip install suntrack[desktop]")
        names = {"low": Urgency.Low, "normal": Urgency.Normal, "urgent": Urgency.Critical}

        async def hand_over() -> None:
            sending = DesktopNotifier(app_name="suntrack").send(
                title=printable(notice.title),
                message=printable(notice.body),
                urgency=names[notice.urgency],
            )
            await asyncio.wait_for(sending, LIMIT_S)

        try:
            asyncio.run(hand_over())
        except TimeoutError:
            return Unknown(f"the desktop did not answer in {LIMIT_S:.0f} s", repeat=False)
        except Exception as error:  # whatever a foreign desktop raises
            return Refused(f"the desktop said no: {error!r}")
        return Unknown("handed over, no receipt", repeat=False)


def desktop_way() -> Notifier:
    """Return the way to this system's desktop."""
    if platform.system() == "Linux":
        from suntrack.notify.linux import DesktopNotifier

        return DesktopNotifier()
    return OtherDesktopNotifier()

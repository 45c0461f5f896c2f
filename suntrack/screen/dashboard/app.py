"""The dashboard with keys: a Textual app around the renderables of `dashboard`.

It draws what it is handed and hands on what the cook says.  It knows no journal, no plan
and no clock; those are behind `Source` and `Hands`, so that a test brings its own.

Textual around the renderables that the one-shot commands print.  Lost: a live display without
keys (calls had to be answered from a second terminal) and reading keys with our own code
(terminal modes, resizing and a line to write on are general work).  A turn is asked for once
more with Enter, because a key leant on would write ten, and the journal only grows.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Protocol

from rich.console import Group, RenderableType
from rich.text import Text
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from suntrack.errors import SuntrackError
from suntrack.screen.dashboard.ask import Choice, Help, Words
from suntrack.screen.dashboard.style import CSS
from suntrack.screen.text import dashboard as words
from suntrack.screen.text.dashboard import rows_of_keys

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from suntrack.screen.charset import Charset
    from suntrack.screen.dashboard.view import Dashboard
    from suntrack.units import Units

ROOMY = 20
"""From this height on, the next step stays in sight while the rest scrolls.  [rows]"""
OTHER_KEY = "other dish"
"""Stands for a dish that is not in the list; no dish of the library has a blank in its key."""
DRAW_S = 0.5
"""Time between two drawings.  [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What there is to see at one moment."""

    dashboard: Dashboard | None
    """None until there is a plan, or when it cannot be drawn."""
    lines: tuple[str, ...] = ()
    """What is shown in its place."""
    rings: bool = False
    """True when the bell has to ring."""
    is_over: bool = False
    """True when the screen has to end."""


class Source(Protocol):
    """Where the app gets what it draws."""

    def look(self) -> Look:
        """Return what there is to see now."""
        ...  # pragma: no cover


class Hands(Protocol):
    """What the app does with what the cook says; each returns a sentence for the cook."""

    def done(self) -> str:
        """Answer every open call: done."""
        ...  # pragma: no cover

    def later(self) -> str:
        """Answer every open call: call again."""
        ...  # pragma: no cover

    def note(self, *said: str) -> str:
        """Write a note into the journal; raise InputError when it cannot be read."""
        ...  # pragma: no cover

    def turned_question(self) -> str:
        """Return what a turn noted now would say."""
        ...  # pragma: no cover

    def dishes(self, kind: str) -> Sequence[tuple[str, str]]:
        """Return the dishes that may have been loaded or pulled, as (key, words)."""
        ...  # pragma: no cover


class WatchApp(App[None]):
    """The screen of `suntrack watch`."""

    CSS = CSS
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("d", "done", show=False),
        Binding("s", "later", show=False),
        Binding("t", "turned", show=False),
        Binding("l", "dish('loaded')", show=False),
        Binding("p", "dish('pulled')", show=False),
        Binding("r", "reading", show=False),
        Binding("question_mark,f1", "keys", show=False),
        Binding("q,ctrl+c,ctrl+q", "quit", show=False),
    ]

    def __init__(self, source: Source, hands: Hands | None, *, units: Units, ink: Charset) -> None:
        super().__init__(ansi_color=True)
        # The terminal's own colours, whichever they are; both themes name only those.
        self.theme = "ansi-dark"
        self._source, self._hands, self._units, self._ink = source, hands, units, ink
        self.said = words.WELCOME if hands else words.REPLAYED
        # What was drawn last: laying out the same text again would keep the machine busy.
        self._drawn: object = None
        self._foot: object = None

    def compose(self) -> ComposeResult:
        """Yield what stays, what scrolls, what was said last, and the keys."""
        yield Static(id="top")
        with VerticalScroll(id="rest"):
            yield Static(id="small-top")
            yield Static(id="body")
        yield Static(id="said")
        yield Static(id="keys")

    def on_mount(self) -> None:
        """Draw, and again and again."""
        self.query_one("#rest").focus()
        self.draw()
        self.set_interval(DRAW_S, self.draw)

    def on_resize(self) -> None:
        """Draw for the new size."""
        self.draw()

    def draw(self) -> None:
        """Draw what there is to see now."""
        look = self._source.look()
        if look.is_over:
            self.exit()
            return
        if look.rings:
            self.bell()
        drawn = (look.dashboard.stamp() if look.dashboard else None, look.lines, self.size)
        if drawn != self._drawn:
            self._drawn = drawn
            self._draw_look(look)
        # What fits is known once the new text has been laid out.
        self.call_after_refresh(self._draw_foot)

    def _draw_look(self, look: Look) -> None:
        """Draw the dashboard, or the lines in its place."""
        width, height = self.size
        roomy = height >= ROOMY
        body: RenderableType = self._text("\n".join(look.lines))
        top: RenderableType = Group()
        if look.dashboard is not None:
            top = look.dashboard.top(height=height)
            body = look.dashboard.body(width=max(width, 1))
        for name, shown in (("#top", roomy), ("#small-top", not roomy)):
            part = self._part(name)
            part.display = shown and look.dashboard is not None
            if part.display:
                part.update(top)
        self._part("#body").update(body)

    def _draw_foot(self) -> None:
        """Draw what was said last, and the keys."""
        rest = self.screen_stack[0].query_one("#rest", VerticalScroll)
        said = self._text(f"{self._ink.mark('bullet')} {self.said}", "bold")
        if rest.scroll_offset.y < rest.max_scroll_y:
            said.append(self._ink.text(f"  ({words.MORE})"), "not bold")
        foot = (said.plain, self.size)
        if foot != self._foot:
            self._foot = foot
            self._part("#said").update(said)
            self._part("#keys").update(self._keys_line())

    def _part(self, name: str) -> Static:
        """Return a part of the dashboard, also while a panel stands over it."""
        return self.screen_stack[0].query_one(name, Static)

    def _text(self, said: str, style: str = "") -> Text:
        return Text(self._ink.text(said), style)

    def _keys_line(self) -> Text:
        """Return every key with its name, on as many lines as the width asks for."""
        rows = rows_of_keys(self.offered(), width=self.size.width)
        return Text("\n").join(
            Text("  ").join(
                Text.assemble((key.key, "bold reverse"), f" {key.label}") for key in row
            )
            for row in rows
        )

    def offered(self) -> tuple[words.Key, ...]:
        """Return the keys that do something here."""
        return (*(words.NOTING if self._hands else ()), *words.ALWAYS)

    def say(self, said: str) -> None:
        """Tell what a key did, and draw what has come of it."""
        self.said = said
        self.draw()

    def action_done(self) -> None:
        """Answer the open calls: done."""
        if self._hands is not None:
            self._do(self._hands.done)

    def action_later(self) -> None:
        """Answer the open calls: call again."""
        if self._hands is not None:
            self._do(self._hands.later)

    def action_turned(self) -> None:
        """Ask whether to write down a turn: a key leant on must not turn the box ten times."""
        if self._hands is None:
            return
        choices = (("yes", words.YES), ("no", words.NO))
        self.push_screen(
            Choice(self._hands.turned_question(), choices, ink=self._ink), self._turned
        )

    def _turned(self, answer: str | None) -> None:
        if answer == "yes":
            self._note("turned")
        else:
            self.say(words.LEFT)

    def action_dish(self, kind: str) -> None:
        """Ask which dish went in or came out."""
        if self._hands is None:
            return
        question = words.ASK_LOADED if kind == "loaded" else words.ASK_PULLED
        choices = (*self._hands.dishes(kind), (OTHER_KEY, words.OTHER))

        def chosen(key: str | None) -> None:
            if key is None:
                self.say(words.LEFT)
            elif key == OTHER_KEY:
                self._ask(question, words.ASK_OTHER, kind)
            else:
                self._note(kind, key)

        self.push_screen(Choice(question, choices, ink=self._ink), chosen)

    def action_reading(self) -> None:
        """Ask what the thermometer shows."""
        if self._hands is not None:
            self._ask(words.ASK_READING, words.READING_HINT, "reading")

    def _ask(self, question: str, hint: str, kind: str) -> None:
        """Ask for a few words and note them; the parser says what is wrong with them."""

        def take(text: str) -> str:
            assert self._hands is not None
            try:
                self.said = self._hands.note(kind, *text.split())
            except SuntrackError as error:
                return self._ink.text(str(error))
            return ""

        def taken(text: str | None) -> None:
            self.say(words.LEFT if text is None else self.said)

        self.push_screen(Words(question, hint, take), taken)

    def _note(self, *said: str) -> None:
        """Write a note that needs no more words."""
        hands = self._hands
        if hands is not None:
            self._do(lambda: hands.note(*said))

    def _do(self, work: Callable[[], str]) -> None:
        """Do it and say what it did, or why not."""
        try:
            said = work()
        except SuntrackError as error:
            said = words.failed_words(error)
        self.say(said)

    def action_keys(self) -> None:
        """Show the page of help."""
        self.push_screen(Help(words.help_lines(self.offered(), self._units)))

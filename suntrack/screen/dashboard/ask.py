"""What the dashboard asks, each in a panel at the foot: a choice, a few words, the help page."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from suntrack.screen.text import dashboard as words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from textual.events import Key

    from suntrack.screen.charset import Charset

ESCAPE: list[BindingType] = [
    Binding("escape", "leave", show=False),
    Binding("ctrl+c", "leave", show=False),
]


class Asking(ModalScreen[str | None]):
    """A panel that ends with an answer, or with None when the cook leaves it."""

    BINDINGS: ClassVar[list[BindingType]] = ESCAPE

    def action_leave(self) -> None:
        """Go back without an answer."""
        self.dismiss(None)


class Choice(Asking):
    """One of a few; a number is a short way to it."""

    def __init__(self, question: str, choices: Sequence[tuple[str, str]], *, ink: Charset) -> None:
        super().__init__()
        self._question, self._choices, self._ink = question, choices, ink

    def compose(self) -> ComposeResult:
        """Yield the question, the choices and how to choose."""
        options = [Option(self._prompt(number), id=str(number)) for number in self._numbers()]
        with Vertical(classes="panel"):
            yield Static(Text(self._ink.text(self._question), "bold"))
            yield OptionList(*options)
            yield Static(Text(words.CHOOSE, "dim"))

    def _numbers(self) -> range:
        return range(len(self._choices))

    def _prompt(self, number: int, *, marked: bool = False) -> Text:
        """Return a choice with its number; the one that Enter takes has a mark before it."""
        mark = self._ink.mark("next") if marked else " "
        text = self._ink.text(f"{mark} {number + 1}  {self._choices[number][1]}")
        return Text(text, "bold reverse" if marked else "")

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Move the mark."""
        for number in self._numbers():
            marked = number == event.option_index
            prompt = self._prompt(number, marked=marked)
            event.option_list.replace_option_prompt_at_index(number, prompt)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Answer with what was chosen."""
        self.dismiss(self._choices[event.option_index][0])

    def on_key(self, event: Key) -> None:
        """Answer with the choice of that number."""
        number = int(event.key) - 1 if event.key.isdecimal() else -1
        if number in self._numbers():
            event.stop()
            self.dismiss(self._choices[number][0])


class Words(Asking):
    """A few words; `take` returns what is wrong with them, or nothing once they are taken."""

    def __init__(self, question: str, hint: str, take: Callable[[str], str]) -> None:
        super().__init__()
        self._question, self._hint, self._take = question, hint, take

    def compose(self) -> ComposeResult:
        """Yield the question, the line to write on, and what was wrong."""
        with Vertical(classes="panel"):
            yield Static(Text(self._question, "bold"))
            yield Input(placeholder=self._hint, compact=True, select_on_focus=False)
            yield Static(Text(words.ENTER_ESCAPE, "dim"), id="wrong")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Hand the words over; stay and say so when they cannot be read."""
        wrong = self._take(event.value)
        if wrong:
            self.query_one("#wrong", Static).update(Text(wrong, "bold"))
        else:
            self.dismiss(event.value)


class Help(Asking):
    """The page of help."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *ESCAPE,
        Binding("question_mark", "leave", show=False),
        Binding("q", "leave", show=False),
    ]

    def __init__(self, lines: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._lines = lines

    def compose(self) -> ComposeResult:
        """Yield the lines; they scroll where there are too few rows."""
        table = Table.grid(padding=(0, 2, 0, 0))
        table.add_column(no_wrap=True)
        table.add_column(ratio=1, overflow="fold")
        for key, meaning in (line for line in self._lines if line[0]):
            table.add_row(Text(key, "bold"), meaning)
        with Vertical(classes="page"):
            with VerticalScroll():
                yield Static(table)
                for meaning in (text for key, text in self._lines if not key):
                    yield Static(Text(f"\n{meaning}"))
            yield Static(Text(words.BACK, "dim"))

"""Help on the command line: an example for each command, and the near one for a wrong word."""

from __future__ import annotations

import argparse
import re
from typing import TYPE_CHECKING, NoReturn

from suntrack.errors import near_words

if TYPE_CHECKING:
    from collections.abc import Mapping

EXAMPLES: Mapping[str, str] = {
    "today": "suntrack today --date tomorrow",
    "watch": "suntrack watch --replay 600",
    "note": "suntrack note reading 245F",
    "notify": "suntrack notify --test",
    "service": "suntrack service --kind systemd",
    "dish": "suntrack dish lentil-soup --why",
    "feed": "suntrack feed --fetch",
    "learn": "suntrack learn --use",
    "trial": "suntrack trial water --note 60C",
    "sheet": "suntrack sheet --date tomorrow --out tomorrow.html",
    "calendar": "suntrack calendar --date tomorrow --before 10min",
    "setup": 'suntrack setup --place Gaborone --inside "58 x 44 x 27 cm" --meal 13:00 --yes',
    "season": "suntrack season --meal lentil-soup@13:00 --weather year.epw",
    "whatif": 'suntrack whatif "mirror.length = 50 cm" "front = none"',
    "schema": "suntrack schema today",
    "completion": "suntrack completion bash > ~/.local/share/bash-completion/completions/suntrack",
}
"""For a command that is not here its bare name is the example."""
WRONG = re.compile(r"argument (\S+): invalid choice: '(.*)' \(choose from (.*)\)", re.DOTALL)


MORE: Mapping[str, str] = {
    "completion": """\
where it goes:
  bash  ~/.local/share/bash-completion/completions/suntrack
  zsh   a file named _suntrack in a folder of your $fpath
  fish  ~/.config/fish/completions/suntrack.fish
  The dishes you have now are in it: write it anew when you add one of your own.

""",
    "sheet": """\
what it writes:
  The name after --out decides: .html is the page, .png or .svg its curves as a
  picture. --chart box, sun or light is one curve alone.

""",
    "note": """\
to correct a note:
  Note the same thing again with its right time, --at 10:30. For a dish that went in
  or came out the note written last counts, whatever its time. Turns and readings are
  all kept, by their times; a day that was skipped stays skipped.

how a dish was:
  good DISH when it was done and hot enough by its meal, failed DISH when not. Only
  `suntrack record` counts it; no plan and no safety clock does.

""",
}
"""What a command's help says before its example."""


def example(name: str) -> str:
    """Return the end of a command's help."""
    return f"{MORE.get(name, '')}example:\n  {EXAMPLES.get(name, f'suntrack {name}')}"


class Parser(argparse.ArgumentParser):
    """A parser that answers a wrong word with the near ones."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and what was probably meant; leave with status 2."""
        wrong = WRONG.fullmatch(message)
        super().error(near(wrong[1], wrong[2], wrong[3]) if wrong else message)


def near(argument: str, word: str, allowed: str) -> str:
    """Return the message for a word that is none of those allowed."""
    known = [each.strip(" '") for each in allowed.split(",")]
    found = near_words(word.lower(), known, most=2, alike=0.6)
    kind = "command" if argument == "COMMAND" else argument
    if found:
        return f"no {kind} is called {word!r}; did you mean {' or '.join(found)}?"
    return f"no {kind} is called {word!r}; there are {', '.join(known)}"

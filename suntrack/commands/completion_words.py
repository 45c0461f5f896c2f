"""What completion offers beyond commands and options: dishes, what can be noted, files.

The words stand in the script: Tab has to be instant, and a program that reads the config is
not.  In each shell the words of a note are offered one by one: first what, then which dish.
"""

from __future__ import annotations

import argparse
import re
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

NOTES = ("turned", "loaded", "pulled", "reading", "core", "skipped", "good", "failed")
OF_DISHES = ("loaded", "pulled", "good", "failed")
FILES = ("config", "out", "csv", "weather")
"""Options that name a file."""
DAYS = ("today", "tomorrow", "yesterday")

BASH = """\
_suntrack_dishes() {{ compgen -W "{dishes}" -- "$1"; }}
_suntrack_days() {{ compgen -W "{days}" -- "$1"; }}
_suntrack_note() {{
  local word
  for word in "${{COMP_WORDS[@]:2:COMP_CWORD-2}}"; do
    case "$word" in
      {of_dishes}) compgen -W "{cooked}" -- "$1"; return ;;
      {others}) return ;;
    esac
  done
  compgen -W "{notes}" -- "$1"
}}
"""
ZSH = """\
_suntrack_dishes() {{ compadd -- {dishes} }}
_suntrack_days() {{ compadd -- {days} }}
_suntrack_note() {{
  local word
  for word in "${{(@)words[2,CURRENT-1]}}"; do
    case "$word" in
      {of_dishes}) compadd -- {cooked}; return ;;
      {others}) return 1 ;;
    esac
  done
  compadd -- {notes}
}}
"""
FISH = """\
function _suntrack_dishes; printf '%s\\\\n' {dishes}; end
function _suntrack_days; printf '%s\\\\n' {days}; end
function _suntrack_note
  for word in (commandline -opc)
    switch $word
      case {of_fish}
        printf '%s\\\\n' {cooked}
        return
      case {others_fish}
        return
    end
  end
  printf '%s\\\\n' {notes}
end
"""


FUNCTIONS: Mapping[str, str] = {"bash": BASH, "zsh": ZSH, "fish": FISH}


def add_words(
    top: argparse.ArgumentParser, *, dishes: Sequence[str], cooked: Sequence[str]
) -> None:
    """Give the arguments of every command what a shell may offer for them.

    `cooked` are those of the dishes that may go into a box; no other is offered for a note.
    """
    preamble = _functions(dishes, cooked)
    for name, argument in _arguments(top):
        kind = _kind(name, argument.dest)
        if kind == "files":
            _offer(argument, _FILES)
        elif kind:
            _offer(argument, {**_call(kind), "preamble": preamble})


def _kind(command: str, dest: str) -> str:
    """Return what an argument takes; empty for words of the cook's own."""
    if dest in FILES:
        return "files"
    if dest == "date":
        return "days"
    if command in ("dish", "dishes") and dest in ("words", "dish"):
        return "dishes"
    return "note" if (command, dest) == ("note", "words") else ""


_FILES: Mapping[str, Any] = {
    "bash": "_shtab_compgen_files",
    "zsh": "_files",
    "fish": "(__fish_complete_path (commandline -ct))",
}


def _call(kind: str) -> dict[str, Any]:
    name = f"_suntrack_{kind}"
    return {"bash": name, "zsh": name, "fish": f"({name})"}


def _functions(dishes: Sequence[str], cooked: Sequence[str]) -> dict[str, str]:
    """Return the functions of each shell; keys of dishes have no sign that a shell would read."""
    others = [note for note in NOTES if note not in OF_DISHES]
    words = {
        "dishes": " ".join(dishes),
        "cooked": " ".join(cooked),
        "days": " ".join(DAYS),
        "notes": " ".join(NOTES),
        "of_dishes": "|".join(OF_DISHES),
        "others": "|".join(others),
        "of_fish": " ".join(OF_DISHES),
        "others_fish": " ".join(others),
    }
    return {shell: text.format(**words) for shell, text in FUNCTIONS.items()}


def _arguments(top: argparse.ArgumentParser) -> Iterator[tuple[str, argparse.Action]]:
    """Yield every argument with the command it belongs to; the parser has no other door."""
    for action in top._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, command in action.choices.items():
                yield from ((name, argument) for argument in command._actions)


def _offer(argument: argparse.Action, offers: Mapping[str, Any]) -> None:
    argument.complete = dict(offers)  # type: ignore[attr-defined]


def for_every_word(script: str) -> str:
    """Return a script for zsh in which a note is completed word by word.

    The library writes `(*):`, which zsh takes for one word that ends the line.
    """
    return re.sub(r'^  "\(\*\)(?=:.*:_suntrack_note"$)', '  "*', script, flags=re.MULTILINE)

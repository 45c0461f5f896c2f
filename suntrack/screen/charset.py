"""Which characters a screen can show: marks with an ASCII twin, and text made ASCII.

Everything a screen writes passes through an `Charset`, so that a terminal without UTF-8
gets the same words, and never a question mark where a degree sign was meant.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

MARKS: Mapping[str, tuple[str, str]] = {
    "ready": ("●", "*"),
    "late": ("◐", "+"),
    "not done": ("○", "o"),
    "not safe": ("▲", "!"),
    "refused": ("✕", "x"),
    "spoiled": ("✕", "x"),
    "next": ("▶", ">"),
    "passed": ("·", "."),
    "box": ("■", "#"),
    "sun": ("☼", "*"),
    "aim": ("◇", "o"),
    "ring": ("·", "."),
    "bullet": ("•", "-"),
    "line": ("─", "-"),
    "edge": ("│", "|"),
    "corner": ("└", "+"),
    "threshold": ("╌", "-"),
    "empty box": ("·", "'"),
    "band": ("▒", ":"),
    "reading": ("◆", "@"),
    "now": ("▲", "^"),
}
"""Each mark as drawn, and its ASCII twin; both are one column wide."""

SPELLINGS: Mapping[str, str] = {
    "°C": "C", "°F": "F", "°": " deg", "\u00d7": "x", "\u2013": "-", "\u2014": "-",
    "\u2011": "-", "…": "...", "“": '"', "”": '"', "\u2018": "'", "\u2019": "'",
    "½": "1/2", "¼": "1/4", "¾": "3/4",
    "ß": "ss", "æ": "ae", "ø": "o", "œ": "oe", "Æ": "AE", "Ø": "O",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Charset:
    """What a screen can show."""

    ascii: bool = False
    """True where only ASCII can be shown."""

    def mark(self, name: str) -> str:
        """Return a mark by its name in `MARKS`."""
        drawn, twin = MARKS[name]
        return twin if self.ascii else drawn

    def text(self, words: str) -> str:
        """Return words as this screen can show them."""
        return to_ascii(words) if self.ascii else words


def to_ascii(words: str) -> str:
    """Return words in ASCII: signs spelled out, accents dropped, the rest a question mark."""
    words = re.sub(r"(?<=\d)(?=[½¼¾])", " ", words)
    for sign, spelling in SPELLINGS.items():
        words = words.replace(sign, spelling)
    if words.isascii():
        return words
    return "".join(_letter(letter) for letter in unicodedata.normalize("NFKD", words))


def _letter(letter: str) -> str:
    """Return one letter in ASCII; nothing for an accent standing on its own."""
    if letter.isascii():
        return letter
    return "" if unicodedata.combining(letter) else "?"

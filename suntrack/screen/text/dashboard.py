"""What the dashboard says of its keys, and what it asks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.screen.text.directions import face_words
from suntrack.screen.text.measures import in_units

if TYPE_CHECKING:
    from suntrack.plan.records import DishPlan, Turn
    from suntrack.screen.dashboard.chart import Expected, Reading
    from suntrack.units import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of the dashboard."""

    key: str
    """As it stands on the keyboard."""
    label: str
    """For the last line."""
    meaning: str
    """For the page of help."""


NOTING = (
    Key(key="d", label="done", meaning="You did what the open calls asked for."),
    Key(key="s", label="later", meaning="Call again in 5 minutes."),
    Key(key="t", label="turned", meaning="Write down that the box was turned just now."),
    Key(key="l", label="loaded", meaning="Write down which dish went in just now."),
    Key(key="p", label="pulled", meaning="Write down which dish came out just now."),
    Key(key="r", label="reading", meaning="Write down what the oven thermometer shows."),
)
ALWAYS = (
    Key(key="?", label="help", meaning="This page."),
    Key(key="q", label="quit", meaning="Leave. Nobody calls you after that."),
)
MOVING = "Arrow keys, Page Up and Page Down move what does not fit; Home goes back to the top."
NOTED_STAYS = (
    "What you write down goes into the journal, as with `suntrack note`, and the plan is made "
    "again from it. Write things down when you do them: the time is that of the key."
)
TWO_THINGS = (
    "Done and safe are two things. Safe heat is by the plan and is not measured: check the middle "
    "of the food with a food thermometer, and follow your local food authority."
)
CARE = (
    "Never look into the sun or its reflection. Wear dry oven gloves; open the lid away from "
    "your face."
)
WELCOME = "Press ? for help."
REPLAYED = "A day run through: nothing is written down."
MORE = "more: Page Down"
ASK_READING = "What does the oven thermometer show?"
READING_HINT = "Such as 245F or 118C"
ASK_LOADED, ASK_PULLED = "Which dish went in?", "Which dish came out?"
OTHER, ASK_OTHER = "Another dish", "Its name, such as lentil soup"
ENTER_ESCAPE = "Enter writes it down, Escape leaves it."
CHOOSE = "A number, or the arrow keys and Enter; Escape leaves it."
YES, NO = "Yes, write it down", "No"
SCREEN_FAILED = (
    "The screen failed; what happened is in watch.log. The calls go on as lines; Ctrl-C leaves."
)
LEFT = "Nothing was written down."
BACK = "Escape goes back; arrow keys move."
DISH_NOTED = {"loaded": "went in at {time}", "pulled": "came out at {time}"}
DISH_UNPLANNED = {
    "loaded": "which does not go in by the plan",
    "pulled": "which is not in the box by the plan",
}
DISH_PLANNED = {"loaded": "planned for {time}", "pulled": "comes out at {time}"}


def turned_question(turn: Turn | None) -> str:
    """Return what is asked before a turn is written down."""
    if turn is None:
        return "Write down that you turned the box?"
    where = face_words(turn.face_true_deg, turn.face_compass_deg)
    return f"Write down that the box faces {where}, now?"


def choice_words(dish: DishPlan, *, kind: str, noted: str | None, units: Units) -> str:
    """Return one dish to choose: its name, and when it went or should go."""
    at = dish.load_at if kind == "loaded" else dish.pull_at
    if noted is not None:
        return f"{dish.name}, {DISH_NOTED[kind].format(time=noted)}"
    if at is None:
        return f"{dish.name}, {DISH_UNPLANNED[kind]}"
    return f"{dish.name}, {DISH_PLANNED[kind].format(time=units.time_text(at))}"


def failed_words(error: object) -> str:
    """Return that a key wrote nothing, and why."""
    return f"Nothing was written down. {error}"


def waiting_words(title: str, *, more: int, has_keys: bool) -> str:
    """Return the call that waits for an answer."""
    others = f" and {more} more" if more else ""
    keys = " (d done, s later)" if has_keys else ""
    return f"Waits for your answer{keys}: {title}{others}"


def reading_words(reading: Reading, expected: Expected, units: Units) -> str:
    """Return a reading beside what was expected of that moment."""
    said = f"Read {_box(reading.box_c, units)} at {units.time_text(reading.at)}"
    if expected.box_c != expected.box_c:
        return f"{said}."
    said += f"; the plan has {_box(expected.box_c, units)} then"
    if expected.low_c == expected.low_c and expected.high_c == expected.high_c:
        said += f", {_box(expected.low_c, units)} to {_box(expected.high_c, units)} on 8 of 10"
        return f"{said} such days."
    return f"{said}."


def _box(box_c: float, units: Units) -> str:
    return units.temperature_text(box_c)


def help_lines(keys: tuple[Key, ...], units: Units) -> tuple[tuple[str, str], ...]:
    """Return the page of help, as (key, meaning); the key is empty for a paragraph."""
    paragraphs = (MOVING, NOTED_STAYS, TWO_THINGS, CARE)
    return (
        *((key.key, key.meaning) for key in keys),
        *(("", in_units(paragraph, units)) for paragraph in paragraphs),
    )


def rows_of_keys(keys: tuple[Key, ...], *, width: int) -> list[list[Key]]:
    """Return the keys in rows that fit a width, two blanks apart; none is left out or parted."""
    rows: list[list[Key]] = [[]]
    used = 0
    for key in keys:
        wide = len(f"{key.key} {key.label}")
        if rows[-1] and used + 2 + wide > width:
            rows.append([])
        used = used + 2 + wide if rows[-1] else wide
        rows[-1].append(key)
    return rows

"""What `--json` prints is what `suntrack schema` says, by an outside validator of JSON Schema."""

from __future__ import annotations

import io
import json
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from suntrack.cli import COMMANDS, main
from suntrack.screen.json.schema import DRAFT, TABLES, schema_of

CONFIG = str(Path(__file__).parents[2] / "config" / "suntrack.toml")
AT = "2026-11-25T05:00+02:00"
WITHOUT = {"watch", "schema"}
"""Commands with no one answer: lines as things happen, and the schemas themselves."""
ASKED = (
    "now --at AT", "today --at AT", "turns --at AT", "dish lentil-soup", "dishes", "feed",
    "box --at AT", "note reading 110C", "notify", "notify --report", "service", "record",
    "completion bash", "calendar --at AT --out FOLDER/day.ics",
    "sheet --at AT --out FOLDER/day.html", "trial empty --at AT",
)  # fmt: skip


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path))
    monkeypatch.setenv("SUNTRACK_CONFIG", CONFIG)
    return tmp_path


def answer(words: list[str]) -> Any:
    out = io.StringIO()
    with redirect_stdout(out), redirect_stderr(io.StringIO()):
        assert main([*words, "--json"]) == 0
    return json.loads(out.getvalue())


@pytest.mark.parametrize("command", TABLES)
def test_every_schema_is_one_of_the_draft_it_names(command: str) -> None:
    schema = schema_of(command)
    assert schema["$schema"] == DRAFT
    jsonschema.Draft202012Validator.check_schema(schema)


def test_every_command_that_prints_json_has_one() -> None:
    assert set(TABLES) == set(COMMANDS) - WITHOUT


@pytest.mark.parametrize("asked", ASKED)
def test_what_a_command_prints_is_valid(asked: str, home: Path) -> None:
    words = [word.replace("FOLDER", str(home)).replace("AT", AT) for word in asked.split()]
    validator = jsonschema.Draft202012Validator(schema_of(words[0]))
    assert sorted(error.message for error in validator.iter_errors(answer(words))) == []


def test_an_answer_that_lacks_a_key_is_not_valid(home: Path) -> None:
    """The check can fail: every key of the top is needed."""
    told = answer(["now", "--at", AT])
    validator = jsonschema.Draft202012Validator(schema_of("now"))
    for key in list(told):
        lacking = {name: value for name, value in told.items() if name != key}
        assert not validator.is_valid(lacking), key


def test_the_command_prints_it_and_names_the_near_one(home: Path) -> None:
    out, said = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(said):
        assert main(["schema", "today"]) == 0
        assert main(["schema", "tody"]) == 2
    assert json.loads(out.getvalue()) == schema_of("today")
    assert "Did you mean today?" in said.getvalue()

"""What the documents promise: the schema, the life of an alert, the commands, the pledge."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from suntrack.cli import COMMANDS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
ADVICE = "copy it from the code; see `python tests/test_docs.py`"


def test_readme_opens_with_the_job_in_one_paragraph() -> None:
    title, job, *_ = README.split("\n\n")
    assert title == "# suntrack"
    assert job.startswith("suntrack plans the cooking day of a home-built box solar cooker")


def test_readme_names_every_command() -> None:
    for name in COMMANDS:
        assert f"suntrack {name}" in README, name


def test_the_test_command_of_ci_is_the_one_of_the_readme() -> None:
    blocks = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
    assert sum("pytest" in block for block in blocks) == 1
    assert "README.md" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "path",
    sorted(
        path
        for pattern in ("suntrack/**/*", "config/**/*", "tests/**/*", "*.md")
        for path in ROOT.glob(pattern)
        if path.suffix in (".py", ".toml", ".md") and path != Path(__file__)
    ),
    ids=lambda path: str(path.relative_to(ROOT)),
)
def test_no_file_speaks_of_where_the_project_came_from(path: Path) -> None:
    """Working papers and trackers are not part of the project."""
    text = path.read_text(encoding="utf-8").lower()
    for word in ("seed " + "document", "box-" + "physics", "food" + ".md", "issue " + "#"):
        assert word not in text, word


def test_the_road_in_the_document_can_be_walked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The ten lines run as they stand, and plan the example's three dishes."""
    code = re.findall(r"```python\n(.*?)```", DEVELOPERS, re.DOTALL)[0]
    monkeypatch.chdir(ROOT)
    exec(code.replace('Path(".cache")', repr(tmp_path).replace("PosixPath", "Path")), {})
    told = capsys.readouterr().out
    assert told.count("ready") == 3


def test_the_document_stays_as_long_as_a_newcomer_reads() -> None:
    assert len(DEVELOPERS.splitlines()) <= 280


def fields_without_meaning(source: str) -> list[str]:
    """Return the fields of records and tables that no line of meaning follows."""
    bare = []
    for record in ast.walk(ast.parse(source)):
        if not isinstance(record, ast.ClassDef):
            continue
        marks = [ast.unparse(mark) for mark in (*record.decorator_list, *record.bases)]
        if not any(re.search(r"dataclass|NamedTuple|TypedDict|Table|BaseModel", m) for m in marks):
            continue
        for field, after in zip(record.body, [*record.body[1:], None], strict=True):
            named = isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name)
            told = isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant)
            if named and not told and not ast.unparse(field).startswith("_"):
                bare.append(f"{record.name}: {ast.unparse(field)}")
    return bare


def test_every_field_of_every_record_says_what_it_means() -> None:
    found = {
        path.name: fields_without_meaning(path.read_text(encoding="utf-8"))
        for path in sorted((ROOT / "suntrack").rglob("*.py"))
    }
    assert {name: bare for name, bare in found.items() if bare} == {}


def test_a_field_without_its_line_is_found() -> None:
    """The check can fail."""
    record = "@dataclass\nclass Pot:\n    mass_kg: float\n    lid: str\n    'How it closes.'\n"
    assert fields_without_meaning(record) == ["Pot: mass_kg: float"]

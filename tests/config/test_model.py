"""The keys of the config and the example that documents them: each holds the other."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

from suntrack.config.model import File
from suntrack.config.problems import table_in
from suntrack.config.reader import load_config
from suntrack.config.toml_lines import key_lines

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"


def documented(model: Any, prefix: tuple[str, ...] = ()) -> dict[tuple[str, ...], Any]:
    """Return every key of the model by path, with its default."""
    paths: dict[tuple[str, ...], Any] = {}
    for name, field in model.model_fields.items():
        inner = table_in(field.annotation)
        paths |= documented(inner, (*prefix, name)) if inner else {(*prefix, name): field}
    return paths


def written(data: Any, prefix: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
    """Return every key of a file by path; entries of a list count as one."""
    if isinstance(data, list) and data and isinstance(data[0], dict):
        return set().union(*(written(part, prefix) for part in data))
    if isinstance(data, dict):
        return set().union(*(written(part, (*prefix, key)) for key, part in data.items()))
    return {prefix}


def uncommented() -> str:
    """Return the example with its commented keys and headers in use."""
    text = EXAMPLE.read_text(encoding="utf-8")
    return re.sub(r"^# (?=[a-z_]+ = |\[\[?[a-z_.]+\]?\]$)", "", text, flags=re.MULTILINE)


def test_the_example_shows_every_key_and_no_other() -> None:
    assert written(tomllib.loads(uncommented())) == set(documented(File))


def words_beside(path: tuple[str, ...]) -> str:
    """Return the comment on the first line that has a key, or else the comment above it."""
    text = uncommented()
    lists = {"skyline", "wall", "pot", "dish", "way"}
    entries = tuple(part for p in path for part in ((p, 0) if p in lists else (p,)))
    # The key of a dish has the name of its table: an entry has keys, a key has not.
    exact = entries[:-1] if isinstance(entries[-1], int) else entries
    number = key_lines(text)[exact]
    above, line = text.splitlines()[number - 2 : number]
    return line.partition("  # ")[2] or (above[2:] if above.startswith("# ") else "")


def test_every_key_of_the_example_has_words_beside_it() -> None:
    assert [path for path in documented(File) if not words_beside(path)] == []


def test_what_the_example_calls_a_default_may_go(tmp_path: Path) -> None:
    """Exactly the keys that may be left out are marked, and `(default)` is the value kept."""
    marked = {path for path in documented(File) if words_beside(path).startswith("(default")}
    optional = {path for path, field in documented(File).items() if not field.is_required()}
    assert marked == {path for path in optional if path[0] != "include"}
    text = EXAMPLE.read_text(encoding="utf-8")
    without = re.sub(r"^.*# \(default\).*\n", "", text, flags=re.MULTILINE)
    assert without.count("\n") < text.count("\n") - 20
    path = tmp_path / "short.toml"
    path.write_text(without, encoding="utf-8")
    whole, short = load_config(EXAMPLE), load_config(path)
    for name in ("site", "box", "pots", "units", "threshold_c", "dishes", "calls"):
        assert getattr(short, name) == getattr(whole, name), name


def test_loading_a_config_stays_light() -> None:
    """`now` has to answer on a small computer: no pvlib, no pandas, no network."""
    code = (
        "import sys\n"
        "from pathlib import Path\n"
        "from suntrack.config.reader import load_config\n"
        "assert 'pydantic' not in sys.modules, 'before it is needed'\n"
        f"load_config(Path({str(EXAMPLE)!r}))\n"
        "heavy = {'pvlib', 'pandas', 'scipy', 'requests', 'rich', 'apscheduler'}\n"
        "print(sorted(heavy & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.stdout.strip(), done.stderr) == ("[]", "")

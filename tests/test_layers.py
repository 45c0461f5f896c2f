"""The map of the rooms, kept honest: imports point one way, and pure rooms stay pure."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "suntrack"
ROOMS = (
    "sky", "box", "food", "plan", "learn", "bench", "year", "alerts",
    "config", "store", "feeds", "notify", "logger", "screen", "watch", "commands",
)  # fmt: skip
SHARED = {"units", "errors"}
PURE = ROOMS[: ROOMS.index("alerts") + 1]
IMPURE_MODULES = {
    "asyncio", "http", "os", "pathlib", "requests", "rich", "shutil", "socket", "sqlite3",
    "subprocess", "tempfile", "threading", "time", "urllib",
}  # fmt: skip
CLOCK_CALLS = {"now", "utcnow", "today", "time", "monotonic"}

MODULES = sorted(PACKAGE.rglob("*.py"))


def room_of(path: Path) -> str | None:
    """Return the room a file stands in; None for the files at the top."""
    parts = path.relative_to(PACKAGE).parts
    return parts[0] if len(parts) > 1 else None


def imports(path: Path) -> list[tuple[int, str]]:
    """Return (line, dotted name) of everything a file imports, deferred imports included."""
    found: list[tuple[int, str]] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: relative import"
            found += [(node.lineno, f"{node.module}.{alias.name}") for alias in node.names]
    return found


def wrong_way(path: Path) -> list[str]:
    """Return the lines of a file that import from a later room."""
    room = room_of(path)
    if room is None:
        return []
    complaints = []
    for line, name in imports(path):
        parts = name.split(".")
        if parts[0] != "suntrack" or parts[1] in SHARED | {"clock", "__version__"}:
            continue
        top = parts[1] == "cli" and room == "commands"
        later = not top and (parts[1] not in ROOMS or ROOMS.index(parts[1]) > ROOMS.index(room))
        if later:
            complaints.append(f"{path.relative_to(PACKAGE.parent)}:{line}: imports {name}")
    return complaints


def test_imports_point_one_way() -> None:
    """Each room, in the order of the map, imports only from those before it."""
    assert [line for path in MODULES for line in wrong_way(path)] == []


def test_shared_modules_import_no_room() -> None:
    for name in sorted(SHARED):
        found = [n for _, n in imports(PACKAGE / f"{name}.py") if n.startswith("suntrack.")]
        assert [n for n in found if n.split(".")[1] not in SHARED] == []


def test_pure_rooms_use_no_clock_file_or_network() -> None:
    """The clock is an argument; files and the network belong to the edge."""
    complaints = []
    for path in MODULES:
        if room_of(path) not in PURE:
            continue
        where = path.relative_to(PACKAGE.parent)
        complaints += [
            f"{where}:{line}: imports {name}"
            for line, name in imports(path)
            if name.split(".")[0] in IMPURE_MODULES
        ]
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            called = node.func if isinstance(node, ast.Call) else None
            if isinstance(called, ast.Attribute) and called.attr in CLOCK_CALLS:
                owner = called.value.id if isinstance(called.value, ast.Name) else ""
                if owner in {"datetime", "date", "time"}:
                    complaints.append(f"{where}:{called.lineno}: asks the clock")
    assert complaints == []


def test_only_the_clock_asks_the_system_for_the_time() -> None:
    complaints = []
    for path in MODULES:
        if path == PACKAGE / "clock.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            called = node.func if isinstance(node, ast.Call) else None
            if not isinstance(called, ast.Attribute) or not isinstance(called.value, ast.Name):
                continue
            if called.value.id in {"datetime", "date", "time"} and called.attr in CLOCK_CALLS:
                complaints.append(f"{path.relative_to(PACKAGE.parent)}:{called.lineno}")
    assert complaints == []


def dotted_name(path: Path) -> str:
    """Return what a file is imported as."""
    return ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)


def circles(graph: dict[str, set[str]]) -> list[list[str]]:
    """Return what can be left and come back to: groups of names that reach each other."""

    def reached(start: str) -> set[str]:
        seen: set[str] = set()
        waiting = [start]
        while waiting:
            new = graph.get(waiting.pop(), set()) - seen
            seen |= new
            waiting += new
        return seen

    reach = {name: reached(name) for name in graph}
    groups = {
        tuple(sorted(other for other in reach[name] if name in reach.get(other, set())))
        for name in graph
        if name in reach[name]
    }
    return sorted(list(group) for group in groups)


def import_graph() -> dict[str, set[str]]:
    """Return for every module the modules it imports, also late and for types only."""
    names = {dotted_name(path).removesuffix(".__init__"): path for path in MODULES}
    graph = {}
    for name, path in names.items():
        found = {n if n in names else n.rpartition(".")[0] for _, n in imports(path)}
        graph[name] = {n for n in found if n in names} - {name}
    return graph


def test_a_circle_is_found() -> None:
    assert circles({"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"a"}}) == [["a", "b", "c"]]


def test_no_module_imports_itself_by_way_of_others() -> None:
    """Not inside a room either, not late, and not for types only."""
    assert circles(import_graph()) == []


@pytest.mark.parametrize(
    "module",
    [".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts) for path in MODULES],
)
def test_every_module_has_a_docstring(module: str) -> None:
    path = PACKAGE.parent.joinpath(*module.split(".")).with_suffix(".py")
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))), module


def test_every_module_imports_on_its_own() -> None:
    """A loop of imports hides until somebody starts from the wrong end."""
    names = [
        ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__")
        for path in MODULES
        if path.name != "__main__.py"
    ]
    script = (
        "import importlib, sys\n"
        "for name in sys.argv[1:]:\n"
        "    for loaded in [m for m in sys.modules if m.split('.')[0] == 'suntrack']:\n"
        "        del sys.modules[loaded]\n"
        "    importlib.import_module(name)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", script, *names], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr

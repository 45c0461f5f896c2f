"""Completion as the shells themselves give it: bash, zsh and fish, each where it is installed.

bash: `COMPREPLY` of the function that `complete -p` names (Bash manual, 8.7).  zsh: Tab at a
pseudo-terminal after `compinit` (zsh manual, 20.2).  fish: `complete -C` (fish manual).
"""

from __future__ import annotations

import json
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from suntrack.screen.json.files import COMPLETION_KEYS

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
CHECKS = {"bash": ["-n"], "zsh": ["-n"], "fish": ["--no-execute"]}
Offered = Callable[[Path, str], set[str]]


def run(*words: str, home: Path, config: Path = EXAMPLE) -> subprocess.CompletedProcess[str]:
    env = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    return subprocess.run(
        [sys.executable, "-m", "suntrack", *words], capture_output=True, text=True, check=False,
        env=env | {"SUNTRACK_HOME": str(home), "SUNTRACK_CONFIG": str(config)},
    )  # fmt: skip


NOTES = {"turned", "loaded", "pulled", "reading", "core", "skipped", "good", "failed"}


def program(shell: str) -> str:
    found = shutil.which(shell)
    if found is None:
        pytest.skip(f"no {shell} on this machine")
    return found


@pytest.fixture(scope="module")
def scripts(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the script of each shell, as a cook would keep it."""
    folder = tmp_path_factory.mktemp("completion")
    (folder / "dishes").mkdir()
    shutil.copy(EXAMPLE.parent / "dishes" / "morogo.toml", folder / "dishes")
    for shell in CHECKS:
        done = run("completion", shell, home=folder)
        assert (done.returncode, done.stderr) == (0, "")
        name = "_suntrack" if shell == "zsh" else f"suntrack.{shell}"
        (folder / name).write_text(done.stdout, encoding="utf-8")
    return folder


def by_bash(scripts: Path, line: str) -> set[str]:
    words = shlex.split(line) + ([""] if line.endswith(" ") else [])
    asked = f"""
        set -o pipefail
        source {shlex.quote(str(scripts / "suntrack.bash"))} || exit 9
        COMP_WORDS=({shlex.join(words)}); COMP_CWORD={len(words) - 1}
        COMP_LINE={shlex.quote(line)}; COMP_POINT=${{#COMP_LINE}}
        $(complete -p suntrack | sed -E 's/.*-F ([^ ]+).*/\\1/') suntrack
        printf '%s\\n' "${{COMPREPLY[@]}}"
    """
    done = subprocess.run(
        [program("bash"), "--norc", "-c", asked], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    return set(done.stdout.split())


def by_fish(scripts: Path, line: str) -> set[str]:
    script = shlex.quote(str(scripts / "suntrack.fish"))
    asked = f"source {script}; or exit 9; complete -C {shlex.quote(line)}"
    done = subprocess.run(
        [program("fish"), "--no-config", "-c", asked], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    return {found.partition("\t")[0] for found in done.stdout.splitlines()}


TOLD_BY_ZSH = """\
PS1=''; fpath=({folder} $fpath); autoload -Uz compinit; compinit -u -d {folder}/dump
compadd() {{
  if [[ ${{@[1,(i)(-|--)]}} == *-(O|A|D)\\ * ]]; then builtin compadd "$@"; return; fi
  local -a found
  builtin compadd -A found "$@"
  print -rl -- $found >> {folder}/offered
  builtin compadd "$@"
}}
tell() {{ zle complete-word; print -r -- TO''LD; }}
zle -N tell; bindkey '^T' tell; print REA''DY
"""
"""Keeps what the completion of zsh adds, by its own command for that, and says when it is over."""


def by_zsh(scripts: Path, line: str) -> set[str]:
    pexpect = pytest.importorskip("pexpect", reason="nothing to press a key with")
    offered = scripts / "offered"
    offered.write_text("", encoding="utf-8")
    shell = pexpect.spawn(
        program("zsh"), ["-f", "-i"], encoding="utf-8", timeout=60, dimensions=(60, 200),
        env=dict(os.environ, TERM="dumb", ZDOTDIR=str(scripts)),
    )  # fmt: skip
    start = scripts / "start.zsh"
    start.write_text(TOLD_BY_ZSH.format(folder=shlex.quote(str(scripts))), encoding="utf-8")
    shell.sendline(f"source {shlex.quote(str(start))}")
    shell.expect("READY")
    shell.send(line + "\x14")
    shell.expect("TOLD")
    assert "error" not in (shell.before or "")
    shell.close(force=True)
    return set(offered.read_text(encoding="utf-8").split())


SHELLS = pytest.mark.parametrize("offers", [by_bash, by_zsh, by_fish])


@pytest.mark.parametrize("shell", CHECKS)
def test_a_shell_can_read_its_script(shell: str, scripts: Path) -> None:
    script = scripts / ("_suntrack" if shell == "zsh" else f"suntrack.{shell}")
    done = subprocess.run(
        [program(shell), *CHECKS[shell], str(script)], capture_output=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, b"")


@SHELLS
@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("suntrack ca", {"calendar"}),
        ("suntrack s", {"setup", "sheet", "season", "service", "schema"}),
        ("suntrack calendar --bef", {"--before"}),
        ("suntrack completion z", {"zsh"}),
        ("suntrack sheet --chart ", {"all", "box", "sun", "light"}),
        ("suntrack today --date to", {"today", "tomorrow"}),
        ("suntrack dish len", {"lentil-soup"}),
        ("suntrack dishes winter", {"winter-squash"}),
        ("suntrack dish whole-ch", {"whole-chicken"}),
        ("suntrack note ", NOTES),
        ("suntrack note loaded len", {"lentil-soup"}),
        ("suntrack note pulled len", {"lentil-soup"}),
    ],
)
def test_what_is_offered(offers: Offered, line: str, wanted: set[str], scripts: Path) -> None:
    assert offers(scripts, line) == wanted


@SHELLS
def test_a_note_of_something_else_offers_no_dish(offers: Offered, scripts: Path) -> None:
    assert offers(scripts, "suntrack note turned ") == set()
    # Refused in a box (the dish's own page says why), so never offered as loaded.
    assert offers(scripts, "suntrack note loaded whole-ch") == set()


@SHELLS
def test_a_file_is_offered_where_one_is_asked_for(offers: Offered, scripts: Path) -> None:
    (scripts / "mine.toml").write_text("", encoding="utf-8")
    found = offers(scripts, f"suntrack today --config {scripts}/mi")
    assert {Path(each).name for each in found} == {"mine.toml"}


@pytest.mark.parametrize("shell", CHECKS)
def test_without_a_config_that_can_be_read_the_usual_dishes_are_offered(
    shell: str, tmp_path: Path
) -> None:
    broken = tmp_path / "suntrack.toml"
    broken.write_text("[site", encoding="utf-8")
    done = run("completion", shell, home=tmp_path, config=broken)
    assert (done.returncode, done.stderr) == (0, "")
    assert "lentil-soup" in done.stdout


@SHELLS
def test_a_dish_of_the_cook_s_own_is_offered(offers: Offered, scripts: Path) -> None:
    """Morogo is in no library of ours; it lies in the folder of the cook's own dishes."""
    assert offers(scripts, "suntrack note loaded moro") == {"morogo"}


def test_completion_for_programs_has_the_same_lines(tmp_path: Path) -> None:
    told = json.loads(run("completion", "fish", "--json", home=tmp_path).stdout)
    assert set(told) == set(COMPLETION_KEYS)
    assert told["script"].strip() == run("completion", "fish", home=tmp_path).stdout.strip()

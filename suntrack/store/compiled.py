"""Where the compiled simulator is kept, so that it is compiled once and not every time.

numba keeps what it compiles if it is told a folder.  It looks for changes in one source
file only, and the simulator's formulas are in several: so the folder's name changes with
any of them, and older folders are swept away.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING
from zlib import crc32

if TYPE_CHECKING:
    from collections.abc import MutableMapping

FOLDER = "NUMBA_CACHE_DIR"
"""The variable numba reads, once, when it is first imported."""
SOURCES = Path(__file__).parents[1] / "box"


def keep_compiled(cache: Path, *, env: MutableMapping[str, str]) -> bool:
    """Tell numba where to keep the simulator, unless the cook has told it already.

    Parameters
    ----------
    cache : Path
        The folder for what can be computed again.
    env : mutable mapping
        The variables of this process, written to.

    Returns
    -------
    kept : bool
        True when something compiled is there already.
    """
    parent = cache / "compiled"
    folder = Path(env.setdefault(FOLDER, str(parent / _stamp())))
    if folder.parent == parent and parent.is_dir():
        for old in parent.iterdir():
            if old != folder:
                shutil.rmtree(old, ignore_errors=True)
    return any(folder.glob("**/*.nbi"))


def _stamp() -> str:
    """Return a name that changes whenever a file of the simulator does."""
    stats = [(path.name, path.stat()) for path in sorted(SOURCES.rglob("*.py"))]
    text = repr([(name, stat.st_mtime_ns, stat.st_size) for name, stat in stats])
    return f"{crc32(text.encode()):08x}"

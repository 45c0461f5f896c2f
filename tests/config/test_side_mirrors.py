"""Side mirrors in the config: what is taken, what is refused, how they stand by default."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from suntrack.box.build import SideMirrors
from suntrack.config.reader import load_config
from suntrack.errors import InputError

ROOT = Path(__file__).parents[2]
EXAMPLE = (ROOT / "config" / "suntrack.toml").read_text(encoding="utf-8")


def sides_of(folder: Path, lines: str) -> SideMirrors | None:
    """Return the side mirrors of the example with these lines in their table."""
    path = folder / "mine.toml"
    path.write_text(
        EXAMPLE.replace("[box.lining]", f"[box.side_mirrors]\n{lines}\n[box.lining]", 1),
        encoding="utf-8",
    )
    sides = load_config(path).box.side_mirrors
    return sides and replace(sides, length_m=round(sides.length_m, 6))


def refused(folder: Path, lines: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        sides_of(folder, lines)
    return [str(problem) for problem in caught.value.problems]


def test_the_example_has_none(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(EXAMPLE, encoding="utf-8")
    assert load_config(path).box.side_mirrors is None


def test_a_length_is_enough(tmp_path: Path) -> None:
    """As deep as the box, and leaning out: what angle is best is tested in the light model."""
    sides = sides_of(tmp_path, 'length = "57 cm"')
    assert sides is not None
    assert (sides.length_m, sides.width_m) == (0.57, 0.44)
    assert 100.0 < sides.angle_deg < 135.0
    assert not sides.fixed


def test_every_key_counts(tmp_path: Path) -> None:
    lines = (
        'length = "12 in"\nwidth = "40 cm"\nhinge_gap = "1 cm"\nreflectance = 0.8\n'
        'angle = "115 deg"\nfixed = true'
    )
    assert sides_of(tmp_path, lines) == SideMirrors(
        length_m=0.3048,
        width_m=0.4,
        angle_deg=115.0,
        hinge_gap_m=0.01,
        reflectance=0.8,
        fixed=True,
    )


@pytest.mark.parametrize(
    ("lines", "where", "said"),
    [
        ('length = "30 cm"\nwidth = "45 cm"', "box.side_mirrors.width", "up to the depth"),
        ('length = "30 cm"\nangle = "80 deg"', "box.side_mirrors.angle", "90 to 150 degrees"),
        ('length = "30 cm"\nangle = 120', "box.side_mirrors.angle", "90 to 150 degrees"),
        ('length = "2 cm"', "box.side_mirrors.length", "10 cm to 3 m"),
        ('width = "40 cm"', "box.side_mirrors.length", "Add the key"),
        ('length = "30 cm"\nfixed = "no"', "box.side_mirrors.fixed", "true or false"),
        ('length = "30 cm"\nlenght = "1 m"', "box.side_mirrors.lenght", "Did you mean length"),
    ],
)
def test_what_cannot_be_built_is_refused(tmp_path: Path, lines: str, where: str, said: str) -> None:
    (problem,) = refused(tmp_path, lines)
    assert f"{where}: " in problem
    assert said in problem


def test_mistakes_are_told_together(tmp_path: Path) -> None:
    told = refused(tmp_path, 'length = "30"\nangle = "200 deg"\nreflectance = 2')
    assert len(told) == 3


def test_the_box_with_three_mirrors_can_be_included(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "config" / "boxes", tmp_path / "boxes")
    text = EXAMPLE[: EXAMPLE.index("[box]")] + EXAMPLE[EXAMPLE.index("[cook]") :]
    text = text[: text.index("[[dish]]")] + text[text.index("[show]") :]
    path = tmp_path / "mine.toml"
    path.write_text(f'{text}\n[include]\nbox = "boxes/winged-box.toml"\n', encoding="utf-8")
    box = load_config(path).box
    assert box.mirror is not None
    assert box.side_mirrors is not None
    assert box.side_mirrors.width_m == box.depth_m == pytest.approx(0.42)

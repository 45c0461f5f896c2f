"""The config: the examples load, and every mistake is reported at once, in place."""

from __future__ import annotations

import re
import shutil
from datetime import date, time
from pathlib import Path

import pytest

from suntrack.config.reader import Config, load_config
from suntrack.errors import InputError

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "config" / "suntrack.toml"


def problems_of(path: Path) -> list[str]:
    with pytest.raises(InputError) as caught:
        load_config(path)
    assert caught.value.exit_status == 2
    return [str(problem) for problem in caught.value.problems]


def changed(folder: Path, *changes: tuple[str, str]) -> Path:
    """Return the example with some of its text replaced; each old text has to be there."""
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    path = folder / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def config() -> Config:
    return load_config(EXAMPLE)


def test_the_example_loads_as_it_is_written(config: Config) -> None:
    assert config.site.latitude_deg == -24.65
    assert config.box.width_m == pytest.approx(0.58)
    assert config.box.mirror is not None
    assert config.box.mirror.fixed_angle_deg is None
    assert config.pots[0].capacity_l == 4.0
    assert config.site.typical_air[6].low_c == 5.0
    assert config.threshold_c == 100.0
    assert config.dishes[0].serve == time(13, 0)


def test_wishes_and_free_hours_get_their_date(config: Config) -> None:
    on = date(2026, 11, 25)
    wishes, free = config.wishes_on(on), config.free_on(on)
    assert wishes[0].serve_at.isoformat() == "2026-11-25T13:00:00+02:00"
    assert free[0].starts_at.isoformat() == "2026-11-25T06:30:00+02:00"


@pytest.mark.parametrize(
    ("name", "include"),
    [
        ("site", "sites/almeria.toml"),
        ("box", "boxes/inch-box.toml"),
        ("day", "days/away-at-noon.toml"),
        ("day", "days/lunch-for-four.toml"),
    ],
)
def test_pieces_can_be_included(tmp_path: Path, name: str, include: str) -> None:
    """A table in the main file wins; so the main file has to leave it out."""
    shutil.copytree(ROOT / "config", tmp_path, dirs_exist_ok=True)
    headers = {"site": ("site",), "box": ("box", "pot"), "day": ("cook", "dish")}[name]
    kept, keep = [], True
    for line in EXAMPLE.read_text(encoding="utf-8").splitlines():
        match = re.match(r"\[+([a-z]+)", line)
        if match:
            keep = match[1] not in headers
        # A dish that names a pot of the other box would be a mistake of its own.
        if keep and not (name == "box" and line.startswith('pot = "')):
            kept.append(line)
    kept.append(f'[include]\n{name} = "{include}"')
    main = tmp_path / "main.toml"
    main.write_text("\n".join(kept), encoding="utf-8")
    loaded = load_config(main)
    found = {
        "site": loaded.site.name == "Almeria roof terrace",
        "box": loaded.box.width_m == pytest.approx(0.508),
        "day": loaded.dishes[0].dish == "root-stew",
    }
    assert found[name]


MISTAKES = [
    ("latitude = -24.65", "latitude = -124.65", "site.latitude", "from -90 to 90"),
    ('width = "58 cm"', "width = 58", "box.width", "with its unit"),
    ('width = "58 cm"', 'width = "58"', "box.width", "such as"),
    ('width = "58 cm"', 'width = "58 m"', "box.width", "10 cm to 3 m"),
    ("glasses = 2", "glasses = 3", "box.top.glasses", "1 or 2"),
    ('time_zone = "Africa/Gaborone"', 'time_zone = "Africa/Gaborne"', "site.time_zone", "IANA"),
    ('material = "aluminium"', 'material = "alumnium"', "box.lining.material", "Did you mean alum"),
    ('serve = "13:00"', 'serve = "1pm"', "dish.1.serve", "time of day such as 18:30"),
    ('dish = "lentil-soup"', 'dish = "lentl-soup"', "dish.1.dish", "Did you mean lentil-soup?"),
    ('pot = "wide pot"', 'pot = "wise pot"', "dish.1.pot", "Did you mean wide pot?"),
    ("[box.mirror]", "[box.miror]", "box.miror", "Did you mean mirror?"),
    ('height = "13 cm"', 'height = "33 cm"', "pot.1.height", "a pot lower than the box"),
    ('diameter = "25 cm"', 'diameter = "50 cm"', "pot.1.diameter", "stands on the floor"),
    ('gap = "15 mm"', 'gap = "0 mm"', "box.top.gap", "more than 0"),
    ('top_frame = "1 cm"', 'top_frame = "20 cm"', "box.top_frame", "leaves glass"),
    ('free = ["6:30-20:30"]', 'free = ["20:30-6:30"]', "cook.free", "ends after it starts"),
    ('free = ["6:30-20:30"]', 'free = ["6:30-9:00", "8:00-9:30"]', "cook.free", "overlap"),
    ('clock = "24"', 'clock = "25"', "show.clock", '"12" or "24"'),
    ("desktop = true", 'desktop = "yes"', "notify.desktop", "true or false"),
    ('lowest_angle = "60 deg"', 'lowest_angle = "140 deg"', "lowest_angle", "under the highest"),
    ('azimuth = "80 deg"', 'azimuth = "60 deg"', "site.skyline", "rising order"),
    ('name = "small pot"', 'name = "wide pot"', "pot.2.name", "a name of its own"),
    ('dish = "winter-squash"', 'dish = "lentil-soup"', "dish.2.dish", "once a day"),
    ('elevation = "1010 m"\n', "", "site", "Add the key"),
    ('elevation = "1010 m" ', 'elevation = "9010 m" ', "site.elevation", "-430 to 6000 m"),
    ("latitude = -24.65", "latitude = nan", "site.latitude", "from -90 to 90"),
    ("latitude = -24.65", 'latitude = "24.65 S"', "site.latitude", "south negative"),
    ("albedo = 0.2", "albedo = true", "site.albedo", "a number from 0 to 1"),
    ("glasses = 2", "glasses = true", "box.top.glasses", "1 or 2"),
    ('thickness = "4 mm"', 'thickness = "13 mm"', "box.top.thickness", "1 to 12 mm"),
    ('time_zone = "Africa/Gaborone"', 'time_zone = "Africa/Gaborne"', "zone", "Did you mean Afri"),
    ('time_zone = "Africa/Gaborone"', 'time_zone = "gaborone"', "zone", "mean Africa/Gaborone?"),
    ('time_zone = "Africa/Gaborone"', 'time_zone = "New York"', "zone", "America/New_York?"),
    ('time_zone = "Africa/Gaborone"', 'time_zone = "right/UTC"', "site.time_zone", "IANA"),
    ('time_zone = "Africa/Gaborone"', 'time_zone = ["UTC"]', "site.time_zone", "a list of 1"),
    ('# fixed_angle = "100 deg"', 'fixed_angle = "50 deg"', "fixed_angle", "outside 60 to 130"),
    ('width = "58 cm"', 'width = "0,58 m"', "box.width", "a point, not a comma"),
    ('width = "58 cm"', f'width = "{"9" * 400} cm"', "box.width", "10 cm to 3 m"),
    ('material = "enamelled steel"', 'material = "mineral wool"', "pot.1.material", "cast iron"),
    ('name = "small pot"', 'name = "small\\npot"', "pot.2.name", "on one line"),
    ('name = "small pot"', 'name = ""', "pot.2.name", "1 to 40 letters"),
    ('free = ["6:30-20:30"]', 'free = "6:30-20:30"', "cook.free", "a list"),
    ('serve = "13:00"', "serve = 13:00:00", "dish.1.serve", "text in quotation marks"),
    ("[show]", '[include]\nsite = "a\\u0000b"\n[show]', "a\0b", "See include.site in"),
    ("[show]", '[include]\nbox = "."\n[show]', "", "See include.box in"),
    ("[show]", "[include]\nsite = 3\n[show]", "include.site", "text in quotation marks"),
    ("[site]", "[[site]]", "site", "single square brackets"),
]


@pytest.mark.parametrize(("old", "new", "where", "said"), MISTAKES)
def test_a_mistake_says_where_and_what_to_do(
    tmp_path: Path, old: str, new: str, where: str, said: str
) -> None:
    if old.startswith("elevation") and new == "":
        text = EXAMPLE.read_text(encoding="utf-8")
        path = tmp_path / "mine.toml"
        path.write_text(re.sub(r"elevation = .*\n", "", text), encoding="utf-8")
    else:
        path = changed(tmp_path, (old, new))
    found = problems_of(path)
    assert any(where in problem and said in problem for problem in found), found
    assert all("mine.toml" in problem for problem in found), found


def test_the_line_is_the_line_of_the_mistake(tmp_path: Path) -> None:
    path = changed(tmp_path, ('height = "27 cm"', 'height = "27"'))
    (problem,) = problems_of(path)
    number = int(re.search(r"mine\.toml:(\d+)", problem)[1])  # type: ignore[index]
    assert path.read_text(encoding="utf-8").splitlines()[number - 1].startswith('height = "27"')


def test_several_mistakes_are_reported_together(tmp_path: Path) -> None:
    path = changed(
        tmp_path,
        ("latitude = -24.65", 'latitude = "south"'),
        ('width = "58 cm"', 'width = "58"'),
        ("tempered = false", "tempred = false"),
        ('serve = "18:00"', 'serve = "25:00"'),
    )
    found = problems_of(path)
    assert len(found) == 4
    for part in ("site.latitude", "box.width", "box.top.tempred", "dish.3.serve"):
        assert any(part in problem for problem in found)


def test_a_mistake_in_one_key_hides_no_rule_between_others(tmp_path: Path) -> None:
    """The report is whole: unknown names, clashes and misfits stand beside a wrong number."""
    path = changed(
        tmp_path,
        ("latitude = -24.65", "latitude = -124.65"),
        ('azimuth = "105 deg"', 'azimuth = "75 deg"'),
        ('gap = "15 mm"', 'gap = "0 mm"'),
        ('material = "mineral wool"', 'material = "minral wool"'),
        ('height = "13 cm"', 'height = "33 cm"'),
        ('free = ["6:30-20:30"]', 'free = ["6:30-9:00", "8:00-9:30"]'),
        ('pot = "small pot"', 'pot = "smal pot"'),
    )
    found = problems_of(path)
    wheres = [re.sub(r".*mine\.toml:\d+: ([^:]*):.*", r"\1", problem) for problem in found]
    assert wheres == [
        "site.latitude", "site.skyline.3.azimuth", "box.top.gap", "box.wall.1.material",
        "pot.1.height", "cook.free.2", "dish.3.pot",
    ]  # fmt: skip


def test_one_wrong_value_for_twelve_months_is_told_once(tmp_path: Path) -> None:
    text = re.sub(
        r"^low = .*$", 'low = "19"', EXAMPLE.read_text(encoding="utf-8"), flags=re.MULTILINE
    )
    path = tmp_path / "mine.toml"
    path.write_text(text, encoding="utf-8")
    (problem,) = problems_of(path)
    assert "site.air.low:" in problem


def test_a_broken_file_says_where_it_breaks(tmp_path: Path) -> None:
    """The commonest slip of all: a quantity without its quotation marks."""
    path = changed(tmp_path, ('width = "58 cm"', "width = 58 cm"))
    number = 1 + path.read_text(encoding="utf-8").splitlines().index(
        "width = 58 cm                    # left to right, seen from the front"
    )
    (problem,) = problems_of(path)
    assert f"mine.toml:{number}: " in problem
    assert "width = 58 cm" in problem
    assert "quotation marks" in problem


def test_a_mark_before_the_text_does_no_harm(tmp_path: Path) -> None:
    """Some editors write a byte order mark (Unicode standard, section 23.8; from memory)."""
    path = tmp_path / "mine.toml"
    path.write_bytes(b"\xef\xbb\xbf" + EXAMPLE.read_bytes())
    assert load_config(path).site.name == "Gaborone courtyard"


def test_an_endless_file_is_a_problem(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(b"#" * 1_000_001)
    (problem,) = problems_of(path)
    assert "1 MB" in problem


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"", b"[" * 2000])
def test_a_file_that_is_no_config_is_a_problem_not_a_traceback(
    tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(content)
    assert problems_of(path)


def test_a_missing_file_is_a_problem(tmp_path: Path) -> None:
    (problem,) = problems_of(tmp_path / "nowhere.toml")
    assert "nowhere.toml" in problem
    assert "--config" in problem


def test_a_mistake_in_an_included_file_names_that_file(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "config", tmp_path, dirs_exist_ok=True)
    text = EXAMPLE.read_text(encoding="utf-8")
    cut = text.index("[site]"), text.index("# --- The box")
    site = (tmp_path / "sites" / "almeria.toml").read_text(encoding="utf-8")
    (tmp_path / "sites" / "almeria.toml").write_text(
        site.replace("latitude = 36.84", "latitude = 136.84"), encoding="utf-8"
    )
    main = tmp_path / "main.toml"
    main.write_text(
        text[: cut[0]] + text[cut[1] :] + '\n[include]\nsite = "sites/almeria.toml"\n',
        encoding="utf-8",
    )
    (problem,) = problems_of(main)
    assert "almeria.toml:4: site.latitude" in problem


def without(*tables: str) -> str:
    """Return the example without some of its tables and all that stands under them."""
    kept, keep = [], True
    for line in EXAMPLE.read_text(encoding="utf-8").splitlines():
        match = re.match(r"\[+([a-z]+)", line)
        keep = match[1] not in tables if match else keep
        kept += [line] if keep else []
    return "\n".join(kept)


def test_an_include_of_which_nothing_is_used_is_told(tmp_path: Path) -> None:
    """The main file's own table wins; a cook who forgot to take it out would never know."""
    shutil.copytree(ROOT / "config", tmp_path, dirs_exist_ok=True)
    main = changed(tmp_path, ("[show]", '[include]\nbox = "boxes/inch-box.toml"\n\n[show]'))
    (problem,) = problems_of(main)
    assert re.search(r"mine\.toml:\d+: include\.box: .*nothing is used", problem)
    assert "Take [box] or [pot] out" in problem


def test_one_table_of_an_include_may_be_replaced(tmp_path: Path) -> None:
    """The box from a piece, with pots of one's own."""
    shutil.copytree(ROOT / "config", tmp_path, dirs_exist_ok=True)
    main = tmp_path / "main.toml"
    main.write_text(without("box") + '\n[include]\nbox = "boxes/inch-box.toml"\n', encoding="utf-8")
    config = load_config(main)
    assert config.box.name == "inch box"
    assert [pot.name for pot in config.pots] == ["wide pot", "small pot", "baking tin"]


def test_an_include_that_cannot_be_read_is_the_only_problem(tmp_path: Path) -> None:
    """What it would have brought is not missed a second time."""
    main = tmp_path / "main.toml"
    main.write_text(
        without("box", "pot", "site") + '\n[include]\nbox = "b.toml"\nsite = "s.toml"\n',
        encoding="utf-8",
    )
    site, box = problems_of(main)
    assert "s.toml" in site
    assert "See include.site" in site
    assert "b.toml" in box


def test_a_change_in_an_included_file_changes_the_fingerprint(tmp_path: Path) -> None:
    """A plan kept for the old box must not be taken for one of the new."""
    shutil.copytree(ROOT / "config", tmp_path, dirs_exist_ok=True)
    main, piece = tmp_path / "main.toml", tmp_path / "boxes" / "inch-box.toml"
    main.write_text(without("box") + '\n[include]\nbox = "boxes/inch-box.toml"\n', encoding="utf-8")
    before = load_config(main).fingerprint
    assert load_config(main).fingerprint == before
    piece.write_text(piece.read_text(encoding="utf-8").replace("10 in", "11 in"), encoding="utf-8")
    assert load_config(main).fingerprint != before


def test_summer_time_is_put_in_by_the_date(tmp_path: Path) -> None:
    """Spain: +01:00 until the last Sunday of March, then +02:00 (Directive 2000/84/EC; memory)."""
    shutil.copytree(ROOT / "config", tmp_path, dirs_exist_ok=True)
    main = tmp_path / "main.toml"
    main.write_text(
        without("site") + '\n[include]\nsite = "sites/almeria.toml"\n', encoding="utf-8"
    )
    config = load_config(main)
    saturday, sunday = date(2026, 3, 28), date(2026, 3, 29)
    assert config.wishes_on(saturday)[0].serve_at.isoformat() == "2026-03-28T13:00:00+01:00"
    assert config.wishes_on(sunday)[0].serve_at.isoformat() == "2026-03-29T13:00:00+02:00"
    assert config.free_on(sunday)[0].ends_at.isoformat() == "2026-03-29T20:30:00+02:00"


@pytest.mark.parametrize(
    ("said", "starts", "ends"),
    [
        ("until 9:00", "2026-11-25T00:00:00+02:00", "2026-11-25T09:00:00+02:00"),
        ("after 16:00", "2026-11-25T16:00:00+02:00", "2026-11-26T00:00:00+02:00"),
        ("6:30-24:00", "2026-11-25T06:30:00+02:00", "2026-11-26T00:00:00+02:00"),
    ],
)
def test_hours_are_written_as_a_cook_says_them(
    tmp_path: Path, said: str, starts: str, ends: str
) -> None:
    text = EXAMPLE.read_text(encoding="utf-8").replace(
        'free = ["6:30-20:30"]', f'free = ["{said}"]'
    )
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    (free,) = load_config(tmp_path / "mine.toml").free_on(date(2026, 11, 25))
    assert free.starts_at.isoformat() == starts
    assert free.ends_at.isoformat() == ends


def test_amounts_follow_how_many_eat(tmp_path: Path) -> None:
    """The library's amounts are for four; an amount in kilograms is not touched."""
    text = EXAMPLE.read_text(encoding="utf-8").replace("people = 4 ", "people = 2 ", 1)
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    config = load_config(tmp_path / "mine.toml")
    soup, squash, _ = config.wishes_on(date(2026, 11, 25))
    assert soup.mass_kg == pytest.approx(1.8)
    assert squash.mass_kg == pytest.approx(config.library["winter-squash"].mass_kg / 2.0)

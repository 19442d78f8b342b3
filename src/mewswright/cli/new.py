"""`mewswright new`: start a yard file by asking, or from options."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from mewswright.cli.problems import refusing

if TYPE_CHECKING:
    from mewswright.checks.first_yard import FirstUnit, FirstYard
    from mewswright.model.bird import Bird

Answer = TypeVar("Answer")
UNIT = "NAME:KIND:WIDTHxDEPTHxFRONTxBACK:FACING"


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="FILE", help="The file to start.")],
    name: Annotated[str | None, typer.Option(help="Name of the yard.")] = None,
    latitude: Annotated[str | None, typer.Option(help="Degrees; north is positive.")] = None,
    longitude: Annotated[str | None, typer.Option(help="Degrees; east is positive.")] = None,
    altitude: Annotated[str | None, typer.Option(help="Metres above the sea.")] = None,
    time_zone: Annotated[str | None, typer.Option(help="Such as Europe/Zurich.")] = None,
    currency: Annotated[str | None, typer.Option(help="Three letters, such as CHF.")] = None,
    standard: Annotated[
        list[str] | None, typer.Option(help="A standard that binds you; may be repeated.")
    ] = None,
    bird: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME:SPECIES[:SEX]", help="A bird; may be repeated."),
    ] = None,
    unit: Annotated[
        str | None,
        typer.Option(
            metavar=UNIT,
            help="The first quarters, for the first bird; clear sizes in millimetres, facing in "
            "degrees from north. A pitch is WIDTHxDEPTH.",
        ),
    ] = None,
) -> None:
    """Start a yard file: a place, its birds, one unit. Exit 0: written. 2: bad input.

    What no option says is asked, where there is a terminal to ask at.
    """
    with refusing():
        from mewswright.checks.first_yard import FirstYard, bird_from, standards_from, unit_from
        from mewswright.checks.open import known_names, own_standards
        from mewswright.checks.starter import starter_text
        from mewswright.handbook.shelf import shelf_of
        from mewswright.model.problem import Problem
        from mewswright.model.yard_file import parse_yard, save_text

        shelf = shelf_of(own_standards(yard_file))
        if yard_file.exists():
            raise Problem(f"{yard_file} is there already: name a new file")
        given = {
            "--name": name, "--latitude": latitude, "--longitude": longitude,
            "--altitude": altitude, "--time-zone": time_zone, "--currency": currency,
            "--standard": standard, "--bird": bird, "--unit": unit,
        }  # fmt: skip
        missing = [option for option, value in given.items() if not value]
        if missing and not _is_at_a_terminal():
            raise Problem(
                f"nothing says {', '.join(missing)}, and there is no terminal to ask at: "
                "give them as options (mewswright new --help)"
            )
        place = {option: value for option, value in given.items() if isinstance(value, str)}
        read = _readers()
        plain = {
            option: reader(place[option]) if option in place else None
            for option, reader in read.items()
        }
        birds = tuple(bird_from(text) for text in bird or ())
        standards = standards_from(standard, shelf) if standard else ()
        first_unit = unit_from(unit) if unit else None
        # All options are sound: only now is anything asked.
        for option, (question, default) in _QUESTIONS.items():
            if plain[option] is None:
                plain[option] = _asked(question, default, read[option])
        standards = standards or _asked(
            "Standards that bind you, with commas (mewswright standards)", "house",
            lambda text: standards_from([text], shelf),
        )  # fmt: skip
        birds = birds or _asked_birds()
        latitude_deg = float(str(plain["--latitude"]))
        first_unit = first_unit or _asked_unit(birds[0], 180 if latitude_deg >= 0 else 0)
        first = FirstYard(
            name=str(plain["--name"]),
            latitude_deg=latitude_deg,
            longitude_deg=float(str(plain["--longitude"])),
            altitude_m=float(str(plain["--altitude"])),
            time_zone=str(plain["--time-zone"]),
            currency=str(plain["--currency"]),
            standards=standards,
            birds=birds,
            unit=first_unit,
        )
        text = starter_text(first)
        known = {**known_names(), "standards": shelf.keys()}
        parse_yard(text, yard_file.name, known)  # nothing unsound is saved
        save_text(yard_file, text, new=True)
    typer.echo(_spoken(yard_file, first))


# Option: the question, and the answer that Enter gives; blank = there is none.
_QUESTIONS = {
    "--name": ("Name of the yard", "My yard"),
    "--latitude": ("Latitude in degrees, north positive", ""),
    "--longitude": ("Longitude in degrees, east positive", ""),
    "--altitude": ("Height above the sea in metres", ""),
    "--time-zone": ("Time zone, such as Europe/Zurich", "UTC"),
    "--currency": ("Currency, three letters", "EUR"),
}


def _is_at_a_terminal() -> bool:
    return sys.stdin is not None and sys.stdin.isatty()


def _readers() -> dict[str, Callable[[str], object]]:
    from mewswright.checks.first_yard import currency_from, name_from, number_from

    return {
        "--name": lambda text: name_from("name of the yard", text),
        "--latitude": lambda text: number_from("latitude", text, -90, 90, "degrees", "47.12"),
        "--longitude": lambda text: number_from("longitude", text, -180, 180, "degrees", "6.88"),
        "--altitude": lambda text: number_from("altitude", text, -500, 9000, "metres", "640"),
        "--time-zone": _time_zone,
        "--currency": currency_from,
    }


def _time_zone(text: str) -> str:
    """Read a time zone; on a machine that knows none, any name will do."""
    from mewswright.checks.first_yard import name_from
    from mewswright.model.problem import Problem
    from mewswright.model.time_zone import not_a_time_zone

    zone = name_from("time zone", text)
    if wrong := not_a_time_zone(zone):
        raise Problem(wrong)
    return zone


def _asked(question: str, default: str, read: Callable[[str], Answer]) -> Answer:
    """Ask until the answer can be read."""
    from mewswright.model.problem import Problem

    while True:
        text = typer.prompt(question, default=default or None)
        try:
            return read(str(text))
        except Problem as problem:
            typer.secho(f"error: {problem}", err=True, fg="red")


def _asked_birds() -> "tuple[Bird, ...]":
    from mewswright.checks.first_yard import name_from, sex_from, species_from
    from mewswright.model.bird import Bird
    from mewswright.model.problem import Problem

    birds: list[Bird] = []

    def new_name(text: str) -> str:
        name = name_from("name of a bird", text)
        if any(bird.name == name for bird in birds):
            raise Problem(f"a bird is called {name!r} already: give another name")
        return name

    while not birds or typer.confirm("Another bird?", default=False):
        which = "a bird" if birds else "the bird that the first unit is for"
        name = _asked(f"Name of {which}", "", new_name)
        kind = _asked("Its species (mewswright handbook species)", "", species_from)
        sex = _asked("Its sex: m, f or unknown", "unknown", sex_from)
        birds.append(Bird(name=name, species=kind.id, sex=sex))
    return tuple(birds)


def _asked_unit(bird: "Bird", facing_deg: float) -> "FirstUnit":
    from mewswright.checks.first_yard import (
        FirstUnit,
        facing_from,
        kind_from,
        sizes_from,
        unit_name_from,
    )
    from mewswright.checks.starter import ample_sizes

    name = _asked("Name of the first quarters", "First quarters", unit_name_from)
    kind = _asked("Kind: loft, shelter, pitch or isolation", "loft", kind_from)
    shape = "width x depth" if kind == "pitch" else "width x depth x front height x back height"
    sizes = _asked(
        f"Clear size in millimetres, {shape}", ample_sizes(bird, kind),
        lambda text: sizes_from(kind, text),
    )  # fmt: skip
    facing = _asked("Where its front looks, degrees from north", f"{facing_deg:g}", facing_from)
    return FirstUnit(name, kind, *sizes, facing)


def _spoken(path: Path, first: "FirstYard") -> str:
    lines = [f"{path} is written: {first.name}, {first.unit.name} for {first.birds[0].name}."]
    if len(first.birds) > 1:
        others = ", ".join(bird.name for bird in first.birds[1:])
        lines.append(f"Without quarters yet: {others}.")
    lines.append('What is marked "assumed" is yours to measure, and no price is filled in.')
    lines.append(f"Next: mewswright check {path}")
    return "\n".join(lines)

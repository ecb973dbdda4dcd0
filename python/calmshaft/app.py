"""The command line: results on standard output, progress and warnings on standard error."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from calmshaft import __version__
from calmshaft.commands import options as ask
from calmshaft.commands.common import all_of, line_and_condition, line_named, plain_errors, say
from calmshaft.places import PAGES, into_file, into_folder

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    help="Torsional vibration of small engine lines: what the gear teeth feel, and which damper plate calms them. "
    "LINE is a line file (.toml) or the name of a shipped line: harbour-launch, harbour-launch-six, "
    "harbour-launch-measured, harbour-launch-tables.",
)


@app.command(epilog="Example: calmshaft demo --out study")
def demo(out: Annotated[Path, typer.Option(help="folder for pictures and tables")] = Path("calmshaft-demo")) -> None:
    """The swap of an engine in an invented launch, studied."""
    from calmshaft.demo import demo as show

    with plain_errors():
        into_folder(out)
        show(out)


@app.command(epilog="Example: calmshaft new mine.toml --from harbour-launch-six")
def new(
    name: Annotated[Path, typer.Argument(metavar="NAME.toml")],
    start: Annotated[str, typer.Option("--from", help="shipped line to begin from")] = "harbour-launch",
    guided: Annotated[bool, typer.Option("--guided", help="asks some fifteen questions instead")] = False,
) -> None:
    """Write a commented line file to start from."""
    from calmshaft.commands.guided import guided as question
    from calmshaft.commands.new import new as write

    with plain_errors():
        question(name) if guided else write(name, start)


@app.command(epilog="Example: calmshaft check launch.toml --rpm 750 --gear neutral")
def check(
    line: ask.LineName,
    rpm: ask.Rpm = None,
    gear: ask.Gear = None,
    misfiring: ask.Misfiring = "none",
    load: ask.Load = "under way",
    fuelling: ask.Fuelling = "governed",
    as_json: ask.Json = False,
) -> None:
    """The line as it was understood. Stations, springs, sources, estimates, natural frequencies."""
    from calmshaft.commands.check import check as show
    from calmshaft.commands.check_chain import chain_alone, check_chain

    with plain_errors():
        if chain := chain_alone(line):
            check_chain(chain, as_json)
            return
        found, at = line_and_condition(line, rpm=rpm, gear=gear, misfiring=misfiring, load=load, fuelling=fuelling)
        show(found, at, as_json)


@app.command(epilog="Example: calmshaft run launch.toml --rpm 750 --misfiring 3 --out dead-cylinder")
def run(
    line: ask.LineName,
    rpm: ask.Rpm = None,
    gear: ask.Gear = None,
    misfiring: ask.Misfiring = "none",
    load: ask.Load = "under way",
    fuelling: ask.Fuelling = "governed",
    out: ask.Folder = None,
    band: ask.Band = True,
    as_json: ask.Json = False,
) -> None:
    """What mesh and plate feel in one steady condition, judged."""
    from calmshaft.commands.run import run as show

    options = {"rpm": rpm, "gear": gear, "misfiring": misfiring, "load": load, "fuelling": fuelling}
    with plain_errors():
        (found, at), _ = all_of(partial(line_and_condition, line, **options), partial(into_folder, out))
        code = show(found, at, out, as_json, band)
    raise typer.Exit(code)


@app.command(epilog='Example: calmshaft uncertainty launch.toml --rpm 750 --limit "50 N*m" --out study')
def uncertainty(
    line: ask.LineName,
    rpm: ask.Rpm = None,
    gear: ask.Gear = None,
    misfiring: ask.Misfiring = "none",
    load: ask.Load = "under way",
    fuelling: ask.Fuelling = "governed",
    measure: ask.Measure = None,
    limit: ask.Limit = None,
    cases: ask.Cases = 1000,
    seed: ask.Seed = 1,
    method: Annotated[str, typer.Option(help="random, latin or sobol")] = "random",
    jobs: ask.Jobs = 0,
    out: ask.Folder = None,
    as_json: ask.Json = False,
) -> None:
    """How sure the answers are. Bands over the ranges, cases past a limit, what to measure next."""
    from calmshaft.commands.uncertainty import run_uncertainty

    options = {"rpm": rpm, "gear": gear, "misfiring": misfiring, "load": load, "fuelling": fuelling}
    with plain_errors():
        (found, at), _ = all_of(partial(line_and_condition, line, **options), partial(into_folder, out))
        code = run_uncertainty(found, at, measure, limit, cases, seed, method, jobs, out, as_json)
    raise typer.Exit(code)


@app.command(epilog='Example: calmshaft match launch.toml --neutral-quiet-at "900 rpm" --out matched.toml')
def match(
    line: ask.LineName,
    neutral_quiet_at: ask.NeutralQuietAt = None,
    ahead_quiet_at: ask.AheadQuietAt = None,
    idle_swing: ask.IdleSwing = None,
    heard_to: ask.HeardTo = "25 rpm",
    swing_to: ask.SwingTo = "20 %",
    cases: ask.Cases = 2000,
    seed: ask.Seed = 1,
    jobs: ask.Jobs = 0,
    out: Annotated[Path | None, typer.Option(help="line file of the best case, .toml")] = None,
    as_json: ask.Json = False,
) -> None:
    """Calibrate by ear. Which plausible lines fall silent where you hear it, and what that tells."""
    from calmshaft.commands.match import run_match

    heard = {"neutral_quiet_at": neutral_quiet_at, "ahead_quiet_at": ahead_quiet_at, "idle_swing": idle_swing,
             "heard_to": heard_to, "swing_to": swing_to}  # fmt: skip
    with plain_errors():
        code = run_match(line, heard, cases, seed, jobs, out, as_json)
    raise typer.Exit(code)


@app.command(
    epilog='Example: calmshaft sweep launch.toml --vary "plate.stiffness = 8 to 60 N*m/deg, 14 values" '
    '--vary "rpm = 600 to 2400, 37 values" --vary "misfiring = none, 1, 2, 3, 4" --out ripple.nc'
)
def sweep(
    line: ask.LineName,
    vary: ask.Vary,
    out: Annotated[Path, typer.Option(help="result, .nc or .csv")],
    together: ask.Together = None,
    rpm: ask.Rpm = None,
    gear: ask.Gear = None,
    misfiring: ask.Misfiring = "none",
    load: ask.Load = "under way",
    fuelling: ask.Fuelling = "governed",
    keep: ask.Keep = "stop torque",
    jobs: ask.Jobs = 0,
    direction: ask.Direction = None,
    along: Annotated[str, typer.Option(help="the axis of --direction")] = "rpm",
    resume: Annotated[bool, typer.Option("--resume", help="go on with the points of a sweep that was stopped")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="begin more than 200,000 points")] = False,
    as_json: ask.Json = False,
) -> None:
    """Every combination of some axes, written as a table.

    Finished points are kept beside the result in a folder that ends in .parts until the result is whole.
    """
    from calmshaft.commands.sweep import run_sweep
    from calmshaft.commands.vary import axes_of, side_by_side
    from calmshaft.sweeps import TABLES

    whole = resume and out.exists()  # is read, and may lie where nothing can be written
    options = {"rpm": rpm, "gear": gear, "misfiring": misfiring, "load": load, "fuelling": fuelling}
    with plain_errors():
        (found, at), axes, _ = all_of(
            partial(line_and_condition, line, **options),
            lambda: side_by_side(axes_of(vary), together or []),
            partial(into_file, None if whole else out, TABLES, example="ripple"),
        )
        how = {"keep": keep, "threads": jobs, "direction": direction, "along": along, "resume": resume, "yes": yes}
        code = run_sweep(found, axes, at, out, as_json=as_json, **how)
    raise typer.Exit(code)


@app.command(
    epilog='Example: calmshaft compare launch.toml --plate plate-b --plate plate-c --change "engine.idle_rpm = 900" '
    "--out study"
)
def compare(
    lines: Annotated[list[str], typer.Argument(metavar="LINE...", help="line files, or names of shipped lines")],
    plate: ask.Plates = None,
    change: ask.Changes = None,
    misfiring: ask.Faults = None,
    gear: ask.Gears = None,
    rpm: ask.Speeds = "",
    load: ask.Load = "under way",
    out: ask.Folder = None,
    band: ask.Band = True,
    jobs: ask.Jobs = 0,
    as_json: ask.Json = False,
) -> None:
    """Lines, plates and changes beside each other, judged. Over speed, healthy and with a cylinder dead."""
    from calmshaft.commands.compare import options_of, run_compare, variants

    with plain_errors():
        found, options, _ = all_of(
            lambda: variants(lines, plate or [], change or []),
            lambda: options_of(misfiring, gear, rpm, load, jobs, band),
            partial(into_folder, out),
        )
        code = run_compare(found, out, as_json, options)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft choose launch.toml --out study")
def choose(
    line: ask.LineName,
    out: ask.Folder = None,
    jobs: ask.Jobs = 0,
    as_json: ask.Json = False,
) -> None:
    """What to look for in a plate for this line. Stiffness of each stage, stop torque, play, friction, fit."""
    from calmshaft.commands.choose import run_choose

    with plain_errors():
        found, _ = all_of(partial(line_named, line), partial(into_folder, out))
        code = run_choose(found, out, jobs, as_json)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft misfiring launch.toml --rpm 900 --out study --card card.html")
def misfiring(
    line: ask.LineName,
    rpm: ask.Rpm = None,
    gear: ask.Gear = None,
    load: ask.Load = "under way",
    out: ask.Folder = None,
    card: Annotated[Path | None, typer.Option(help="one-page card for the helm, .html")] = None,
    jobs: ask.Jobs = 0,
    as_json: ask.Json = False,
) -> None:
    """A cylinder weaker and weaker, and speeds to avoid. The worst and why, the lowest quiet idle."""
    from calmshaft.commands.misfiring import run_misfiring

    with plain_errors():
        (found, at), *_ = all_of(
            partial(line_and_condition, line, rpm=rpm, gear=gear, load=load),
            partial(into_folder, out),
            partial(into_file, card, PAGES, "--card", "card"),
        )
        code = run_misfiring(found, at, out, card, jobs, as_json)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft report launch.toml --out report.html --full --letter letter.txt")
def report(
    line: ask.LineName,
    out: Annotated[Path | None, typer.Option(help="the page, .html; the same in plain data beside it, .json")] = None,
    letter: Annotated[Path | None, typer.Option(help="letters that ask for what is missing, .txt or .html")] = None,
    notes: Annotated[str, typer.Option(help="a remark to show on the page")] = "",
    full: Annotated[bool, typer.Option("--full", help="all of a technical report, not two to four pages")] = False,
    units: ask.Units = "metric",
    jobs: ask.Jobs = 0,
) -> None:
    """A page about the line, and letters for what is missing. Judged, answered in words, drawn."""
    from calmshaft.commands.report import run_report, something_to_write

    options = {"notes": notes, "full": full, "units": units, "threads": jobs}
    with plain_errors():
        found, *_ = all_of(
            partial(line_named, line),
            partial(something_to_write, out, letter),
            partial(into_file, out, PAGES),
            partial(into_file, letter, (".txt", *PAGES), "--letter", "letter"),
        )
        code = run_report(found, out, letter, options)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft plate plate-d --out picture")
def plate(
    name: Annotated[str, typer.Argument(metavar="PLATE", help="plate file, line file, or a shipped one: plate-d")],
    out: ask.Folder = None,
    as_json: ask.Json = False,
) -> None:
    """A plate by itself. Springs, torque over twist with its corners, what stops it; drawn with --out."""
    from calmshaft.commands.plate import plate as show

    with plain_errors():
        code = show(name, out, as_json)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft worksheet hang --out hang.html")
def worksheet(
    name: Annotated[str, typer.Argument(metavar="[NAME]", help="which; all are listed where it is left out")] = "",
    out: Annotated[Path | None, typer.Option(help="the page, .html; NAME.html where not given")] = None,
    units: ask.Units = "metric",
) -> None:
    """Pages to print for measuring. What to do, what to read, the sum with an example, the caution."""
    from calmshaft.commands.worksheet import list_worksheets, write_worksheet

    with plain_errors():
        write_worksheet(name, out, units) if name else list_worksheets()


@app.command(epilog="Example: calmshaft life launch.toml --reference plate-d --misfiring 3@50%")
def life(
    line: ask.LineName,
    reference: Annotated[str | None, typer.Option(help="plate or line to compare with; else all firing")] = None,
    misfiring: Annotated[str | None, typer.Option(help="in every condition, in place of the diary's")] = None,
    jobs: ask.Jobs = 0,
    as_json: ask.Json = False,
) -> None:
    """How long the plate lasts beside another. Over the duty diary: friction's work, life of its springs."""
    from calmshaft.commands.life import run_life

    with plain_errors():
        code = run_life(line, reference, misfiring, jobs, as_json)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft cautions")
def cautions() -> None:
    """What to keep in mind before anything is done on a result."""
    from calmshaft.commands.cautions import say_cautions

    with plain_errors():
        say_cautions()


@app.command(epilog="Example: calmshaft schema propeller")
def schema(
    key: Annotated[str, typer.Argument(metavar="[KEY]", help="a key or section, such as plate")] = "",
    as_json: ask.Json = False,
    as_page: Annotated[bool, typer.Option("--page", help="the reference page, in Markdown")] = False,
) -> None:
    """Every key of a line file. Its unit, what is assumed where it is not known, how to measure it."""
    from calmshaft.commands.schema import schema as show

    with plain_errors():
        show(key, as_json, as_page)


def _version(wanted: bool) -> None:
    if wanted:
        say(__version__)
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True, help="show it")] = False,
) -> None:
    """Options of the whole program."""


def main() -> None:
    """Entry point of `calmshaft` and `python -m calmshaft`."""
    app()

"""The command line: results on standard output, progress and warnings on standard error."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from calmshaft import __version__
from calmshaft.commands.common import all_of, line_and_condition, line_named, plain_errors, say

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    help="Torsional vibration of small engine lines: what the gear teeth feel, and which damper plate calms them. "
    "LINE is a line file (.toml) or the name of a shipped line: harbour-launch, harbour-launch-six, "
    "harbour-launch-tables.",
)


def _rpm(text: str) -> float:
    number = str(text).removesuffix("rpm").strip()
    try:
        return float(number)
    except ValueError:
        raise typer.BadParameter(f"{text!r} is not a speed; write a number of rpm, for instance 800") from None


LineName = Annotated[str, typer.Argument(metavar="LINE", help="line file, or name of a shipped line")]
Rpm = Annotated[float | None, typer.Option(parser=_rpm, metavar="RPM", help="mean crank speed; idle where not given")]
Gear = Annotated[str | None, typer.Option(help="ahead, neutral or astern; ahead where the line has a propeller")]
Misfiring = Annotated[str, typer.Option(help='"none", "3", "3+4" or "3@50%"')]
Load = Annotated[str, typer.Option(help='"under way", "tied up", "none", or a torque with its unit')]
Fuelling = Annotated[str, typer.Option(help="governed keeps the speed, fixed keeps the healthy engine's fuelling")]
Picture = Annotated[Path | None, typer.Option(help="folder for the picture")]
Units = Annotated[str, typer.Option(help="metric or imperial")]
Json = Annotated[bool, typer.Option("--json", help="one JSON document, SI values")]
Jobs = Annotated[int, typer.Option(help="threads; 0: one a core", min=0)]


@app.command(epilog="Example: calmshaft demo --out study")
def demo(out: Annotated[Path, typer.Option(help="folder for pictures and tables")] = Path("calmshaft-demo")) -> None:
    """The swap study of an invented harbour launch: words, table, pictures."""
    from calmshaft.demo import demo as show

    with plain_errors():
        show(out)


@app.command(epilog="Example: calmshaft new mine.toml --from harbour-launch-six")
def new(
    name: Annotated[Path, typer.Argument(metavar="NAME.toml")],
    start: Annotated[str, typer.Option("--from", help="shipped line to begin from")] = "harbour-launch",
    guided: Annotated[bool, typer.Option("--guided", help="asks some fifteen questions instead")] = False,
) -> None:
    """Write a commented line file to start from."""
    from calmshaft.commands.guided import guided as ask
    from calmshaft.commands.new import new as write

    with plain_errors():
        ask(name) if guided else write(name, start)


@app.command(epilog="Example: calmshaft check launch.toml --rpm 750 --gear neutral")
def check(
    line: LineName,
    rpm: Rpm = None,
    gear: Gear = None,
    misfiring: Misfiring = "none",
    load: Load = "under way",
    fuelling: Fuelling = "governed",
    as_json: Json = False,
) -> None:
    """Show the line as it was understood: stations, springs, sources, estimates, natural frequencies."""
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
    line: LineName,
    rpm: Rpm = None,
    gear: Gear = None,
    misfiring: Misfiring = "none",
    load: Load = "under way",
    fuelling: Fuelling = "governed",
    out: Annotated[Path | None, typer.Option(help="folder for signals and a torque trace")] = None,
    band: Annotated[bool, typer.Option("--band/--no-band", help="with the spread over 100 plausible cases")] = True,
    as_json: Json = False,
) -> None:
    """One steady condition: what the mesh and the plate feel, judged."""
    from calmshaft.commands.run import run as show

    with plain_errors():
        found, at = line_and_condition(line, rpm=rpm, gear=gear, misfiring=misfiring, load=load, fuelling=fuelling)
        code = show(found, at, out, as_json, band)
    raise typer.Exit(code)


@app.command(epilog='Example: calmshaft uncertainty launch.toml --rpm 750 --limit "50 N*m" --out study')
def uncertainty(
    line: LineName,
    rpm: Rpm = None,
    gear: Gear = None,
    misfiring: Misfiring = "none",
    load: Load = "under way",
    fuelling: Fuelling = "governed",
    measure: Annotated[str | None, typer.Option(help="what is asked about, else what the teeth feel")] = None,
    limit: Annotated[str | None, typer.Option(help='of that measure, with its unit: "50 N*m"')] = None,
    cases: Annotated[int, typer.Option(help="how many plausible lines are drawn")] = 1000,
    seed: Annotated[int, typer.Option(help="another one draws other cases")] = 1,
    method: Annotated[str, typer.Option(help="random, latin or sobol")] = "random",
    jobs: Jobs = 0,
    out: Picture = None,
    as_json: Json = False,
) -> None:
    """How sure the answers are: bands over the ranges, cases past a limit, what to measure next."""
    from calmshaft.commands.uncertainty import run_uncertainty

    with plain_errors():
        found, at = line_and_condition(line, rpm=rpm, gear=gear, misfiring=misfiring, load=load, fuelling=fuelling)
        code = run_uncertainty(found, at, measure, limit, cases, seed, method, jobs, out, as_json)
    raise typer.Exit(code)


@app.command(epilog='Example: calmshaft match launch.toml --neutral-quiet-at "900 rpm" --out matched.toml')
def match(
    line: LineName,
    neutral_quiet_at: Annotated[str | None, typer.Option(help='where the rattle stops in neutral, "900 rpm"')] = None,
    ahead_quiet_at: Annotated[str | None, typer.Option(help='where it stops ahead, "750 rpm"')] = None,
    idle_swing: Annotated[
        str | None, typer.Option(help='greatest less least speed of a cycle at idle in neutral, "24 rpm" or "3 %"')
    ] = None,
    heard_to: Annotated[str, typer.Option(help="how far off the heard speeds may be")] = "25 rpm",
    swing_to: Annotated[str, typer.Option(help="how far off the swing may be")] = "20 %",
    cases: Annotated[int, typer.Option(help="how many plausible lines are drawn at the most")] = 2000,
    seed: Annotated[int, typer.Option(help="another one draws other cases")] = 1,
    jobs: Annotated[int, typer.Option(help="threads; 0: one a core", min=0)] = 0,
    out: Annotated[Path | None, typer.Option(help="line file of the best case, .toml")] = None,
    as_json: Json = False,
) -> None:
    """Calibrate by ear: which plausible lines fall silent where you hear it, and what that tells."""
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
    line: LineName,
    vary: Annotated[list[str], typer.Option(help='"name = from to unit, N values", or a list; may be repeated')],
    out: Annotated[Path, typer.Option(help="result, .nc or .csv")],
    together: Annotated[
        list[str] | None,
        typer.Option(help='"rpm, misfiring": their first values are one point, their second the next; may be repeated'),
    ] = None,
    rpm: Rpm = None,
    gear: Gear = None,
    misfiring: Misfiring = "none",
    load: Load = "under way",
    fuelling: Fuelling = "governed",
    keep: Annotated[str, typer.Option(help='with plate.stiffness: "stop torque" or "travel" stays')] = "stop torque",
    jobs: Jobs = 0,
    direction: Annotated[
        str | None, typer.Option(help='"up", "down" or "both": each point starts from its neighbour\'s end')
    ] = None,
    along: Annotated[str, typer.Option(help="the axis of --direction")] = "rpm",
    resume: Annotated[bool, typer.Option("--resume", help="go on with the points of a sweep that was stopped")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="begin more than 200,000 points")] = False,
    as_json: Json = False,
) -> None:
    """Every combination of some axes, written as a table.

    Finished points are kept beside the result in a folder that ends in .parts until the result is whole.
    """
    from calmshaft.commands.sweep import run_sweep
    from calmshaft.commands.vary import axes_of, side_by_side
    from calmshaft.sweeps import suffix_known

    options = {"rpm": rpm, "gear": gear, "misfiring": misfiring, "load": load, "fuelling": fuelling}
    with plain_errors():
        (found, at), axes, _ = all_of(
            lambda: line_and_condition(line, **options),
            lambda: side_by_side(axes_of(vary), together or []),
            lambda: suffix_known(out),
        )
        code = run_sweep(
            found,
            axes,
            at,
            out,
            as_json=as_json,
            keep=keep,
            threads=jobs,
            direction=direction,
            along=along,
            resume=resume,
            yes=yes,
        )
    raise typer.Exit(code)


@app.command(
    epilog='Example: calmshaft compare launch.toml --plate plate-b --plate plate-c --change "engine.idle_rpm = 900" '
    "--out study"
)
def compare(
    lines: Annotated[list[str], typer.Argument(metavar="LINE...", help="line files, or names of shipped lines")],
    plate: Annotated[list[Path] | None, typer.Option(help="plate file for the first line; may be repeated")] = None,
    change: Annotated[list[str] | None, typer.Option(help='"key = value" in the first line; may be repeated')] = None,
    misfiring: Annotated[
        list[str] | None,
        typer.Option(help='"none", "3", "3@50%"; may be repeated. Where not given: none, and each cylinder dead'),
    ] = None,
    gear: Annotated[list[str] | None, typer.Option(help="may be repeated; ahead and neutral where not given")] = None,
    rpm: Annotated[str, typer.Option(help='"800 to 2600, 37 values", or a list; steps of 25 rpm where not given')] = "",
    load: Load = "under way",
    out: Picture = None,
    band: Annotated[bool, typer.Option("--band/--no-band", help="with the spread over 40 plausible cases")] = True,
    jobs: Jobs = 0,
    as_json: Json = False,
) -> None:
    """Lines, plates and single changes beside each other over speed, healthy and with a cylinder dead, judged."""
    from calmshaft.commands.compare import options_of, run_compare, variants

    with plain_errors():
        found, options = all_of(
            lambda: variants(lines, plate or [], change or []),
            lambda: options_of(misfiring, gear, rpm, load, jobs, band),
        )
        code = run_compare(found, out, as_json, options)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft choose launch.toml --out study")
def choose(
    line: LineName,
    out: Annotated[Path | None, typer.Option(help="folder for the page and the picture")] = None,
    jobs: Annotated[int, typer.Option(help="threads; 0: one a core", min=0)] = 0,
    as_json: Json = False,
) -> None:
    """What to look for in a plate for this line: stiffness of each stage, stop torque, free play, friction, fit."""
    from calmshaft.commands.choose import run_choose

    with plain_errors():
        code = run_choose(line_named(line), out, jobs, as_json)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft misfiring launch.toml --rpm 900 --out study --card card.html")
def misfiring(
    line: LineName,
    rpm: Rpm = None,
    gear: Gear = None,
    load: Load = "under way",
    out: Picture = None,
    card: Annotated[Path | None, typer.Option(help="one-page card for the helm, .html")] = None,
    jobs: Jobs = 0,
    as_json: Json = False,
) -> None:
    """Each cylinder weaker and weaker: the worst and why, speeds to avoid, the lowest quiet idle."""
    from calmshaft.commands.misfiring import run_misfiring

    with plain_errors():
        found, at = line_and_condition(line, rpm=rpm, gear=gear, load=load)
        code = run_misfiring(found, at, out, card, jobs, as_json)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft report launch.toml --out report.html --full --letter letter.txt")
def report(
    line: LineName,
    out: Annotated[Path | None, typer.Option(help="the page, .html; result.json is written beside it")] = None,
    letter: Annotated[Path | None, typer.Option(help="letters that ask for what is missing, .txt or .html")] = None,
    notes: Annotated[str, typer.Option(help="a remark to show on the page")] = "",
    full: Annotated[bool, typer.Option("--full", help="all of a technical report, not two to four pages")] = False,
    units: Units = "metric",
    jobs: Jobs = 0,
) -> None:
    """One page about the line: judged, answered in words, drawn, with all that it rests on."""
    from calmshaft.commands.report import run_report

    options = {"notes": notes, "full": full, "units": units, "threads": jobs}
    with plain_errors():
        code = run_report(line_named(line), out, letter, options)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft plate plate-d --out picture")
def plate(
    name: Annotated[str, typer.Argument(metavar="PLATE", help="plate file, line file, or a shipped one: plate-d")],
    out: Picture = None,
    as_json: Json = False,
) -> None:
    """A plate by itself: springs, torque over twist with its corners, what stops it; drawn with --out."""
    from calmshaft.commands.plate import plate as show

    with plain_errors():
        code = show(name, out, as_json)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft worksheet hang --out hang.html")
def worksheet(
    name: Annotated[str, typer.Argument(metavar="[NAME]", help="which; all are listed where it is left out")] = "",
    out: Annotated[Path | None, typer.Option(help="the page, .html; NAME.html where not given")] = None,
    units: Units = "metric",
) -> None:
    """A page to print for a measurement: what to do, what to read, the sum with an example, the caution."""
    from calmshaft.commands.worksheet import list_worksheets, write_worksheet

    with plain_errors():
        write_worksheet(name, out, units) if name else list_worksheets()


@app.command(epilog="Example: calmshaft life launch.toml --reference plate-d --misfiring 3@50%")
def life(
    line: LineName,
    reference: Annotated[str | None, typer.Option(help="plate or line to compare with; else all firing")] = None,
    misfiring: Annotated[str | None, typer.Option(help="in every condition, in place of the diary's")] = None,
    jobs: Annotated[int, typer.Option(help="threads; 0: one a core", min=0)] = 0,
    as_json: Json = False,
) -> None:
    """How long the plate lasts beside a reference over the duty diary: work of its friction, life of its springs."""
    from calmshaft.commands.life import run_life

    with plain_errors():
        code = run_life(line, reference, misfiring, jobs, as_json)
    raise typer.Exit(code)


@app.command(epilog="Example: calmshaft cautions")
def cautions() -> None:
    """What to keep in mind before anything is decided or done on a result."""
    from calmshaft.commands.cautions import say_cautions

    with plain_errors():
        say_cautions()


@app.command(epilog="Example: calmshaft schema propeller")
def schema(
    key: Annotated[str, typer.Argument(metavar="[KEY]", help="a key or section, such as plate")] = "",
    as_json: Json = False,
    as_page: Annotated[bool, typer.Option("--page", help="the reference page, in Markdown")] = False,
) -> None:
    """Every key of a line file: its unit, what is assumed where it is not known, and how to measure it."""
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

"""The commands: parse, call, print. No logic, and no import heavier than click until a command runs.

Exit codes: 0 done (rows set aside included), 1 could not be done with these data, 2 wrong usage.
"""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from preflare import __version__
from preflare.errors import PreflareError

LOGS = click.argument("logs", nargs=-1, required=True, type=click.Path(path_type=Path))
SEASON_FILE = click.option(
    "--season", "season_file", type=click.Path(path_type=Path), default=None,
    help="The season.toml to use, instead of the one beside the logs.",
)  # fmt: skip
TIMINGS = click.option("--timings", is_flag=True, help="Print the seconds that each stage took.")


class Commands(click.Group):
    """Turns the program's own errors into sentences with the right exit code: a user never sees a traceback."""

    def invoke(self, context: click.Context) -> Any:
        try:
            return super().invoke(context)
        except PreflareError as problem:
            click.echo(str(problem), err=True)
            context.exit(problem.exit_code)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="preflare %(version)s")
def main() -> None:
    """Find what went before arm pain in a season of strength-training logs.

    preflare reads the logs as they are, keeps every row in one DuckDB file, and says with honest uncertainty what
    the painful sessions had in common: squat intensity, bar, grip, weekly sets. It describes logs. It is not a
    diagnosis, and pain that worsens, lasts or frightens belongs to a licensed clinician.

    \b
    Start here:
      preflare review demo_logs --out review
    """


@main.command(short_help="Logs in; store, findings, reports and tables out.")
@LOGS
@click.option("--out", required=True, type=click.Path(path_type=Path), help="The folder for everything that comes out.")
@SEASON_FILE
@click.option(
    "--names", type=click.Choice(["full", "initials", "codes"]), default="full", show_default=True,
    help="How people appear in pages, file names, pictures and tables.",
)  # fmt: skip
@click.option("--language", default=None, help="Language of the findings and pages, such as en; else season.toml's.")
@TIMINGS
def review(
    logs: tuple[Path, ...], out: Path, season_file: Path | None, names: Any, language: str | None, timings: bool
) -> None:
    """Logs in, everything out: store, findings, team report, a page per athlete, and what was read.

    LOGS are files or folders: CSV, TSV, XLSX, XLS, ODS, in any mixture. A season.toml beside them says who is who and
    when the meets were; it is optional.

    \b
    Examples:
      preflare review demo_logs --out review
      preflare review winter.xlsx form.csv --season season.toml --out review --names codes
    """
    from preflare.season import review_logs

    with _Progress() as tell:
        result = review_logs(logs, out, season_file=season_file, names=names, language=language, tell=tell)
    click.echo("\n".join(result.summary))
    if timings:
        click.echo(_timing_lines(result.seconds))
    if result.problem:
        click.echo(result.problem, err=True)
        sys.exit(1)


@main.command("import", short_help="Read logs into a store, and account for every row.")
@LOGS
@click.option(
    "--store", required=True, type=click.Path(path_type=Path), help="The DuckDB file to fill; made if absent."
)
@SEASON_FILE
@click.option(
    "--propose", is_flag=True, help="Print [[source]] entries for season.toml that say how each file was read."
)
@TIMINGS
def import_(logs: tuple[Path, ...], store: Path, season_file: Path | None, propose: bool, timings: bool) -> None:
    """Read logs into a store, and account for every row.

    Prints what was assumed about each file, and rows read = stored + rejected + not data. Importing a file again
    changes nothing; a corrected file replaces its older self.

    \b
    Examples:
      preflare import demo_logs --store season.duckdb
      preflare import march.xlsx --store season.duckdb --propose
    """
    from preflare.season import import_logs

    with _Progress() as tell:
        result = import_logs(logs, store, season_file=season_file, propose=propose, tell=tell)
    click.echo("\n".join(result.summary))
    if timings:
        click.echo(_timing_lines(result.seconds))


@main.command(short_help="What a store's logs can answer, and their problems.")
@click.argument("store", type=click.Path(path_type=Path))
def check(store: Path) -> None:
    """Say what a store's logs can and cannot answer, and list their problems by file, sheet and row.

    Exit code 0: no problem found. Exit code 1: problems, each printed with its place and its remedy.

    \b
    Example:
      preflare check review/season.duckdb
    """
    from preflare.season import check_store

    lines, has_problems = check_store(store)
    click.echo("\n".join(lines))
    sys.exit(1 if has_problems else 0)


@main.command()
@click.option(
    "--out", required=True, type=click.Path(path_type=Path), help="The folder for the logs; must be new or empty."
)
@click.option("--seed", type=click.IntRange(min=0), default=1, show_default=True, help="Same seed, same files.")
@click.option("--athletes", type=click.IntRange(2, 26), default=24, show_default=True, help="How many lifters.")
@click.option(
    "--world",
    default="plant",
    show_default=True,
    help="Which causes are planted; a name that is not known lists them all.",
)
def simulate(out: Path, seed: int, athletes: int, world: str) -> None:
    """Write an invented season of untidy logs whose causes are known.

    Use it to learn the program, to try it on logs of your size, or to compare its answers with the truth, which is
    written to README.md in the folder.

    \b
    Example:
      preflare simulate --out practice_logs --seed 7
    """
    from preflare.season import simulate_logs

    click.echo("\n".join(simulate_logs(out, seed=seed, n_athletes=athletes, world=world)))


def _timing_lines(seconds: dict[str, float]) -> str:
    lines = [f"  {stage:<24}{value:8.2f} s" for stage, value in seconds.items()]
    return "\n".join(["Seconds by stage:", *lines, f"  {'in all':<24}{sum(seconds.values()):8.2f} s"])


class _Progress:
    """Shows the stage that is at work, on standard error: a spinner on a terminal, a line a stage elsewhere."""

    def __enter__(self) -> Callable[[str], None]:
        self._status: Any = None
        if sys.stderr.isatty():
            from rich.console import Console

            self._status = Console(stderr=True).status("Starting")
            self._status.start()
        return self._tell

    def _tell(self, stage: str) -> None:
        if self._status:
            self._status.update(stage)
        else:
            click.echo(f"{stage} ...", err=True)

    def __exit__(self, *_: object) -> None:
        if self._status:
            self._status.stop()


if __name__ == "__main__":
    main()

"""Where the SQL, the report templates and the demo logs lie, in a wheel and in a checkout alike."""

from pathlib import Path


def resource(name: str) -> Path:
    """The folder `name` ("queries", "reports" or "demo_logs") that ships with the program.

    A wheel carries it inside the package; in an editable install it lies at the top of the checkout. An editable
    install also leaves a stale copy in site-packages, so only the folder beside this file or the checkout counts.
    """
    beside_package = Path(__file__).resolve().parent / name
    if beside_package.is_dir():
        return beside_package
    return Path(__file__).resolve().parents[2] / name

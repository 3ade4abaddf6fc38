"""Findings as JSON: plain values only, unknown numbers as null, never NaN; written whole or not at all."""

import json
import math
import os
import tempfile
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from preflare.errors import PreflareError


def plain(value: Any) -> Any:
    """value with numpy numbers, dates, tuples and records turned into JSON's own; NaN and infinities into
    None."""
    if value is None or (isinstance(value, str | bool | int) and not isinstance(value, np.generic)):
        return value
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple | np.ndarray):
        return [plain(item) for item in value]
    if value is pd.NaT or value is pd.NA:
        return None
    if isinstance(value, pd.Timestamp | datetime):
        return value.date().isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, np.bool_):
        return bool(value)
    if isinstance(value, np.integer):
        return int(value)
    number = float(value)
    return number if math.isfinite(number) else None


def write_findings(path: Path, findings: Mapping[str, Any]) -> Path:
    """Write findings.json at `path`, sorted as given, UTF-8.

    Raises PreflareError when it cannot be written.
    """
    text = json.dumps(plain(findings), ensure_ascii=False, indent=1, allow_nan=False)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name, suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text + "\n")
        os.replace(name, path)
    except OSError as problem:
        raise PreflareError(
            f"{path}: the findings cannot be written ({problem.strerror}). Choose another folder."
        ) from None
    return path

"""What every room's tests share: the outside programs that some tests need, and where they are."""

import os
import shutil

import pytest

# The fits are small and gain nothing from threads; with a worker a core, threads only get in each other's way.
os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def _program(*names: str, package: str) -> str:
    """The path of the first program that is there. Absent: a skip with the reason, in CI a failure."""
    for name in names:
        if path := shutil.which(name):
            return path
    reason = f"{names[0]} is not on this machine (Debian package {package})"
    if os.environ.get("CI"):
        pytest.fail(f"{reason}; in CI that is a failure, not a skip")
    pytest.skip(reason)


@pytest.fixture(scope="session")
def chromium() -> str:
    """The path of headless Chromium."""
    return _program("chromium", "chromium-browser", "google-chrome", package="chromium")


@pytest.fixture(scope="session")
def java() -> str:
    """The path of Java, which the HTML checker runs on."""
    return _program("java", package="default-jre-headless")


@pytest.fixture(scope="session")
def poppler() -> str:
    """The folder that holds pdftoppm, pdfinfo and pdffonts."""
    return os.path.dirname(_program("pdftoppm", package="poppler-utils"))

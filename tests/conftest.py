"""Options and marks of all tests."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

for variable in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(variable, "1")
"""Small matrices gain nothing from threads that wait for each other; set before numpy is first loaded."""

settings.register_profile("framecheck", deadline=None)
settings.load_profile("framecheck")
"""No test fails because the machine is busy."""

pytest.register_assert_rewrite("tests.verification.manual")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add --manual."""
    parser.addoption(
        "--manual", metavar="FILE", help="write the verification manual from tests/verification (without -n)"
    )


def pytest_configure(config: pytest.Config) -> None:
    """Register the mark of checks that go into the manual."""
    if config.getoption("manual") and config.getoption("numprocesses", None):
        raise pytest.UsageError("--manual gathers values in one process: leave -n out")
    config.addinivalue_line("markers", "proof(status, source): a check whose values go into the verification manual")

"""Which examples the tests of properties work through.

`make test` takes the same ones on every run and machine, so that a failure is a failure of the
change at hand.  `make explore` takes fresh ones: what it finds becomes an example of its own.
"""

from __future__ import annotations

import gc
import os

from hypothesis import HealthCheck, settings

settings.register_profile("fixed", derandomize=True, deadline=None)
settings.register_profile(
    "fresh", deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile(os.environ.get("EXAMPLES", "fixed"))


def pytest_collection_finish() -> None:
    """Let Python look for dead rings among what the tests make, and seldom.

    All test modules and the libraries that they load stay until the end; to sweep them again and
    again took a sixth of what the checks of a cupboard take (measured).
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)

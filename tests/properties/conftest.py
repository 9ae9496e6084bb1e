"""Settings of the property tests: the same examples in every run, so that a red run can be repeated.

``HARNESSCHECK_PROFILE=search`` draws fresh examples instead.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, Phase, settings

QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]
# A red run in CI names its example; shrinking it may take minutes and is left to the search profile.
FOUND = [Phase.explicit, Phase.generate, Phase.target]
settings.register_profile(
    "ci", derandomize=True, database=None, deadline=None, suppress_health_check=QUIET, phases=FOUND
)
settings.register_profile("search", derandomize=False, deadline=None, suppress_health_check=QUIET)
settings.load_profile(os.environ.get("HARNESSCHECK_PROFILE", "ci"))

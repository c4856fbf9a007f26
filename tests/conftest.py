"""What every test shares: how hard Hypothesis looks. The default gives the same examples each run; `soak` draws new ones (make soak)."""

from hypothesis import HealthCheck, settings

# A slow machine is no finding: no deadline, no complaint about slow drawing.
settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("soak", settings.get_profile("steady"), derandomize=False, database=None, print_blob=True, max_examples=1000)
settings.load_profile("steady")

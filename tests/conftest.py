"""One tree says the same in every run of its tests; a wider search is asked for by name.

python3 build_site.py test --hypothesis-profile=wide
"""

import pytest
from hypothesis import settings

# What fails in a helper says as much as what fails in a test.
pytest.register_assert_rewrite("tests.forms", "tests.damaged")

settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("wide", max_examples=1000, deadline=None)
settings.load_profile("same")

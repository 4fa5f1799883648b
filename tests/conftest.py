"""One tree says the same in every run of its tests; a wider search is asked for by name.

python3 build_site.py test --hypothesis-profile=wide
"""

from hypothesis import settings

settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("wide", max_examples=1000, deadline=None)
settings.load_profile("same")

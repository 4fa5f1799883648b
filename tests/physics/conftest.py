"""Property tests without a time limit of their own: a busy machine is no fault of the physics."""

from hypothesis import settings

settings.register_profile("physics", deadline=None)
settings.load_profile("physics")

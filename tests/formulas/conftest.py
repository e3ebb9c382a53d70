"""Generated inputs take the time they take: a loaded machine makes no formula wrong."""

from hypothesis import settings

settings.register_profile("formulas", deadline=None)
settings.load_profile("formulas")

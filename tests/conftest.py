"""Fixtures that every test may ask for, and a cache of the tests' own."""

import pytest

from tests.browser import browser as browser


@pytest.fixture(autouse=True, scope="session")
def _cache_of_the_tests_own(tmp_path_factory):
    """No test reads or writes the cache of whoever runs it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield

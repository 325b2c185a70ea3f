"""For all tests: the same examples every time, and how two processes share them."""

from __future__ import annotations

from hypothesis import settings

# A slow shared machine must not fail a test, and a red run must be red again.
settings.register_profile("bedcalc", deadline=None, derandomize=True, print_blob=True)
settings.load_profile("bedcalc")


def pytest_collection_modifyitems(items):
    """Browser tests take longest: they begin first."""
    items.sort(key=lambda item: "browser" not in item.path.parts)


def pytest_xdist_make_scheduler(config, log):
    """With ``-n 2`` one process takes all browser tests, the other the files in order.

    A file stays whole: its tests share what they set up, a workbook its kernel.
    """
    from xdist.scheduler import LoadScopeScheduling

    class WholeFiles(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file = nodeid.split("::", 1)[0]
            return "browser" if file.startswith("tests/browser/") else file

    config.option.loadscopereorder = False
    return WholeFiles(config, log)

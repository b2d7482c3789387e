"""Fixtures of the page's tests. Nothing heavy is loaded unless a test asks for it."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from clothwise.store import Store, open_store, seed_demo
from clothwise.store.lays import LayMemory
from tests import page_tools
from tests.page_tools import NARROW, WAIT_MS, WIDE, Server

ALONE = "test_page_whole_job"  # long tests that need nothing of one another


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Keeps the browser's tests of a file with the server of that file, when several run at a time."""
    for item in items if config.pluginmanager.hasplugin("xdist") else ():
        if item.get_closest_marker("page") and item.path.stem != ALONE:
            item.add_marker(pytest.mark.xdist_group(item.path.stem))


@pytest.fixture(scope="module")
def memory(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LayMemory]:
    """Lays remembered from one test of a file to the next."""
    with LayMemory(tmp_path_factory.mktemp("lays") / "lays") as opened:
        yield opened


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """The real browser."""
    from playwright.sync_api import sync_playwright

    program = page_tools.browser_file()
    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=program, args=page_tools.ARGUMENTS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server with the demo in its store, for one file of tests."""
    with page_tools.serving(tmp_path_factory.mktemp("page")) as running:
        yield running


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with the people, cloths and patterns of the demo, closed: copying it is quicker than seeding."""
    file = tmp_path_factory.mktemp("demo") / "store.sqlite"
    with open_store(file) as store:
        seed_demo(store)
    return file


@pytest.fixture
def mill(tmp_path: Path, demo_file: Path) -> Iterator[Store]:
    """A store with the demo, for one test."""
    with open_store(shutil.copy(demo_file, tmp_path / "store.sqlite")) as store:
        yield store


@pytest.fixture
def mill_page(mill: Store) -> Any:
    """The page over that store, asked without server or browser."""
    from clothwise.web.app import application
    from clothwise.web.guard import Allowed

    return application(mill, Allowed(frozenset({"127.0.0.1:8000"})))


@pytest.fixture
def opened(browser: Any, server: Server) -> Iterator[Callable[..., Any]]:
    """Opens a path of the server in a fresh window: opened('/tickets', narrow=True, dark=True, touch=True)."""
    contexts: list[Any] = []

    def open_path(path: str, *, narrow: bool = False, dark: bool = False, touch: bool = False) -> Any:
        width, height = NARROW if narrow else WIDE
        context = browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme="dark" if dark else "light",
            has_touch=touch,
            accept_downloads=True,
        )
        contexts.append(context)
        context.set_default_timeout(WAIT_MS)
        page = context.new_page()
        page.errors = page_tools.errors_of(page)
        page.goto(server.address + path)
        return page

    yield open_path
    for context in contexts:
        context.close()

"""The house itself: imports run one way, the core is pure, tolerances in one place, nothing left out."""

from __future__ import annotations

import ast
import io
import re
import subprocess
import sys
import tokenize
import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "clothwise"
MODULES = sorted(SOURCE.rglob("*.py"))

JOB = (
    "errors tolerance units fonts curve "
    "body cloth shelf garment draft alter fit lay size paper sew race ticket shopping suggest store web cli"
).split()
CORE = JOB[: JOB.index("sew") + 1]
TOP_FILES = {"__init__": -1, "__main__": len(JOB)}  # the package's own door; `python -m clothwise`

IMPURE_MODULES = set(
    "sqlite3 sqlalchemy alembic typer rich platformdirs os shutil subprocess tempfile socket urllib http "
    "time datetime random secrets logging multiprocessing concurrent threading".split()
)
IMPURE_CALLS = set("open print input exec eval".split())
IMPURE_METHODS = set("write_text write_bytes mkdir unlink touch rmdir rename seed".split())

SMALL_LITERAL = 1e-4  # a number below this is a tolerance, and those have their own file
LONGEST_FILE = 500  # lines


# ---- reading sources -----------------------------------------------------------------------------


def module_name(path: Path) -> str:
    parts = path.relative_to(SOURCE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def step_index(module: str) -> int:
    """Where a module of ours stands in the job. An unknown step is an error: name it in JOB first."""
    parts = module.split(".")
    step = parts[1] if len(parts) > 1 else "__init__"
    return TOP_FILES[step] if step in TOP_FILES else JOB.index(step)


def imports_of(source: str, module: str, *, package: bool) -> Iterator[tuple[int, str]]:
    """Every module of ours that a source asks for, with its line: top, in functions, relative, by string."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            found = imported_from(node, module, package=package)
        elif isinstance(node, ast.Call):
            found = [text for argument in node.args[:1] if (text := leading_text(argument))]
            if not called_name(node).endswith(("import_module", "__import__")):
                continue
        else:
            continue
        yield from ((node.lineno, name) for name in found if name.split(".")[0] == "clothwise")


def imported_from(node: ast.ImportFrom, module: str, *, package: bool) -> list[str]:
    base = node.module or ""
    if node.level:
        parts = module.split(".")
        parts = parts[: len(parts) - node.level + (1 if package else 0)]
        base = ".".join([*parts, base] if base else parts)
    if base == "clothwise":  # `from clothwise import draft` names a step, `import __version__` does not
        return [f"clothwise.{a.name}" if a.name in JOB else "clothwise" for a in node.names]
    return [base]


def called_name(node: ast.Call) -> str:
    if isinstance(node.func, ast.Attribute):
        return node.func.attr
    return node.func.id if isinstance(node.func, ast.Name) else ""


def leading_text(node: ast.expr) -> str:
    """The text of a string, or how an f-string begins."""
    if isinstance(node, ast.JoinedStr) and node.values:
        node = node.values[0]
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def reaches_up(source: str, module: str, *, package: bool = False) -> list[str]:
    own = step_index(module)
    return [
        f"{module}, line {line}: reaches up to {name}"
        for line, name in imports_of(source, module, package=package)
        if step_index(name) > own
    ]


def impurities(source: str) -> list[str]:
    """What a pure step must not do: files, clock, print, database, chance without a seed."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names = {alias.name.split(".")[0] for alias in node.names}
            found += [f"line {node.lineno}: import {name}" for name in sorted(names & IMPURE_MODULES)]
        elif isinstance(node, ast.ImportFrom) and not node.level:
            if (node.module or "").split(".")[0] in IMPURE_MODULES:
                found.append(f"line {node.lineno}: from {node.module}")
        elif isinstance(node, ast.Call):
            plain = isinstance(node.func, ast.Name)
            name = called_name(node)
            unseeded = name == "default_rng" and not (node.args or node.keywords)
            if unseeded or name in (IMPURE_CALLS if plain else IMPURE_METHODS):
                found.append(f"line {node.lineno}: {name}()")
    return found


def small_literals(source: str) -> list[str]:
    return [
        f"line {token.start[0]}: {token.string}"
        for token in tokenize.generate_tokens(io.StringIO(source).readline)
        if token.type == tokenize.NUMBER and is_small(token.string)
    ]


def is_small(literal: str) -> bool:
    value = ast.literal_eval(literal)
    return isinstance(value, float) and 0 < value < SMALL_LITERAL


def files_of_the_house() -> list[Path]:
    """All files that are, or would be, committed."""
    if not (ROOT / ".git").exists():
        pytest.skip("not a git checkout")
    listed = subprocess.run(
        ["git", "ls-files", "-co", "--exclude-standard", "-z"], cwd=ROOT, capture_output=True, check=True
    )
    paths = [ROOT / name for name in listed.stdout.decode().split("\0") if name]
    return [path for path in paths if path.is_file()]


def shown(path: Path) -> str:
    return str(path.relative_to(ROOT))


# ---- imports run one way -------------------------------------------------------------------------


@pytest.mark.parametrize("path", MODULES, ids=shown)
def test_imports_point_one_way(path: Path) -> None:
    package = path.name == "__init__.py"
    assert reaches_up(path.read_text(encoding="utf-8"), module_name(path), package=package) == []


@pytest.mark.parametrize(
    "source",
    [
        "from clothwise.lay import plan",
        "import clothwise.store.rows as rows",
        "from clothwise import sew",
        "def hem():\n    from clothwise.paper import tiles",
        "class Leg:\n    def cut(self):\n        import clothwise.cli",
        "from ..lay.plan import least_length",
        "def f():\n    from .. import suggest",
        "import importlib\nimportlib.import_module('clothwise.web')",
        "from importlib import import_module\ndef f(x):\n    return import_module(f'clothwise.sew.{x}')",
        "__import__('clothwise.ticket')",
        "if TYPE_CHECKING:\n    from clothwise.fit import Report",
    ],
)
def test_an_upward_import_is_seen_wherever_it_hides(source: str) -> None:
    assert len(reaches_up(source, "clothwise.draft.trousers")) == 1


@pytest.mark.parametrize(
    "source",
    [
        "from clothwise.curve import Point\nfrom clothwise import tolerance, __version__",
        "from .parts import casing\nfrom . import parts\nfrom ..body import Body",
        "import json\nfrom importlib import import_module\nimport_module('json')",
        "'''Read by clothwise.store and clothwise.cli.'''",
    ],
)
def test_imports_to_the_left_are_let_be(source: str) -> None:
    assert reaches_up(source, "clothwise.draft.trousers") == []


def test_a_relative_import_means_another_thing_in_a_package_file() -> None:
    assert reaches_up("from .body import Body", "clothwise.curve", package=True) == []
    assert len(reaches_up("from ..body import Body", "clothwise.curve", package=True)) == 1


def test_a_step_that_the_job_does_not_know_is_refused() -> None:
    with pytest.raises(ValueError, match="helpers"):
        step_index("clothwise.helpers.lists")


# ---- the core is pure, tolerances in one place ---------------------------------------------------


@pytest.mark.parametrize(
    "path", [p for p in MODULES if p.relative_to(SOURCE).parts[0].removesuffix(".py") in CORE], ids=shown
)
def test_the_core_touches_no_file_clock_or_chance(path: Path) -> None:
    assert impurities(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "source",
    [
        "import sqlite3",
        "from sqlalchemy import select",
        "def f():\n    import os.path",
        "import time as t",
        "def f(p):\n    return open(p).read()",
        "path.write_text('hem')",
        "rng = numpy.random.default_rng()",
        "print(1)",
    ],
)
def test_an_impurity_is_seen(source: str) -> None:
    assert len(impurities(source)) == 1


def test_chance_from_a_seed_and_packaged_data_are_pure() -> None:
    seeded = "rng = numpy.random.default_rng(seed)"
    packaged = "from importlib.resources import files\nfiles('clothwise').read_text()"
    assert impurities(f"{seeded}\n{packaged}") == []


@pytest.mark.parametrize("path", MODULES, ids=shown)
def test_small_tolerances_stand_in_their_own_file(path: Path) -> None:
    if path.name != "tolerance.py":
        assert small_literals(path.read_text(encoding="utf-8")) == [], (
            "give it a name and a reason in tolerance.py"
        )


def test_small_literals_are_told_from_others() -> None:
    assert small_literals("a = 1e-9\nb = x < 0.00001\nc = 5E-05") == [
        "line 1: 1e-9",
        "line 2: 0.00001",
        "line 3: 5E-05",
    ]
    assert small_literals("a = 0.0\nb = 0\nc = 0.01\nd = '1e-9'  # 1e-9\ne = 0x1e") == []


# ---- the files -----------------------------------------------------------------------------------


def test_no_python_file_outgrows_a_reader() -> None:
    sources = [*MODULES, *(ROOT / "tests").rglob("*.py"), *(ROOT / "benchmarks").rglob("*.py")]
    lines = {shown(path): path.read_text(encoding="utf-8").count("\n") for path in sources}
    assert {name: n for name, n in lines.items() if n > LONGEST_FILE} == {}


def test_a_built_wheel_holds_every_file_of_the_package(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=ROOT, check=True, capture_output=True,
    )  # fmt: skip
    (wheel,) = tmp_path.glob("*.whl")
    packed = set(zipfile.ZipFile(wheel).namelist())
    wanted = {
        path.relative_to(SOURCE.parent).as_posix()
        for path in files_of_the_house()
        if path.is_relative_to(SOURCE)
    }
    assert wanted - packed == set()


def test_every_folder_of_the_package_can_be_imported() -> None:
    folders = {path.parent for path in SOURCE.rglob("*") if path.is_file() and "__pycache__" not in path.parts}
    assert [shown(folder) for folder in sorted(folders) if not (folder / "__init__.py").exists()] == []


MACHINE_PATH = re.compile(r"(?<![\w.}])/(?:work|root|home/\w+|Users/\w+|farm)/")
HOST = re.compile(r"\b(?:https?|git|ssh)://(?:[^/\s@]*@)?([\w.-]+)")
KNOWN_HOSTS = set("www.apache.org www.w3.org localhost 127.0.0.1 example.org".split())


def test_no_file_names_a_machine_or_a_host_to_fetch_from() -> None:
    found = []
    for path in files_of_the_house():
        if path.parent.name == "vendor":
            continue  # another's file, held by its hash: it names its own home
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # a picture or a font
        places = MACHINE_PATH.findall(text) if path != Path(__file__) else []
        hosts = set(HOST.findall(text)) - KNOWN_HOSTS
        found += [f"{shown(path)}: {what}" for what in [*places, *sorted(hosts)]]
    assert found == []


def test_every_dependency_stands_in_the_constraints_once_and_exactly() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    named = [
        *project["dependencies"],
        *(n for extra in project["optional-dependencies"].values() for n in extra),
    ]
    wanted = {re.split(r"[<>=!~\[; ]", name)[0].lower().replace("_", "-") for name in named}
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    pinned = [line.split("==")[0] for line in lines if line and not line.startswith("#")]
    assert wanted - set(pinned) - {"clothwise"} == set()
    assert (
        len(pinned)
        == len(set(pinned))
        == len([line for line in lines if re.fullmatch(r"[a-z0-9-]+==\S+", line)])
    )

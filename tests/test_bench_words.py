"""A bench says what it can be asked, and refuses what it does not know, before it works for minutes."""

from importlib import import_module

import pytest

BENCHES = ("bodies", "drafts", "lay", "paper", "fit", "suggest", "sew", "page")


@pytest.mark.parametrize("name", BENCHES)
def test_help_tells_what_a_bench_can_be_asked(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        import_module(f"benchmarks.{name}").main(["--help"])
    assert ended.value.code == 0
    said = capsys.readouterr().out
    assert "--quick" in said
    assert said.count("\n") > 6, "what it measures stands in its help too"


@pytest.mark.parametrize("name", BENCHES)
def test_a_word_it_does_not_know_is_refused(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        import_module(f"benchmarks.{name}").main(["--quik"])
    assert ended.value.code == 2
    assert "--quik" in capsys.readouterr().err


def test_a_draft_that_is_not_on_the_shelf_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        import_module("benchmarks.drafts").main(["four_panel_skrit"])
    assert ended.value.code == 2
    assert "four_panel_skrit" in capsys.readouterr().err

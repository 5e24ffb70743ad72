"""What nothing has less than nought of is refused before any formula sees it."""

import pytest
from click.testing import CliRunner

from dossier.cli import main


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("swept_volume", "bore=-6.8 cm", "stroke=7.5 cm", "cylinders=4"), "bore below nought is impossible"),
        (("conformity_probability", "measured=1.2", "u=-0.1", "lower=1", "upper=1.3"), "uncertainty below nought is impossible"),
        (("conformity_probability", "measured=1.2", "u=0.1", "lower=1.3", "upper=1"), "the lower limit lies above the upper"),
        (("ideal_efficiency", "compression_ratio=-6.744 :1"), "these inputs cannot be together"),
    ],
)
def test_it_gives_no_value_and_says_why(words: tuple[str, ...], said: str) -> None:
    done = CliRunner().invoke(main, ["figure", *words])

    assert "no verdict" in done.output
    assert said in done.output
    assert done.exit_code == 0

"""Every command finds the ledger upward from where it runs, or takes the one that is named."""

from pathlib import Path

import pytest

from blankbook.commands.shared.errors import WrongUse
from blankbook.commands.shared.ledger_root import ledger_root


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Return a project's folder with a ledger in it."""
    (tmp_path / "shop" / "ledger" / "blanks" / "a").mkdir(parents=True)
    (tmp_path / "shop" / "src").mkdir()
    (tmp_path / "shop" / "ledger" / "shop.yaml").write_text("shop: x\n")
    return tmp_path / "shop"


@pytest.mark.parametrize("start", ["ledger", "ledger/blanks/a", ".", "src"])
def test_found_upward(start: str, shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From inside the ledger, from beside it, and from a sibling folder."""
    monkeypatch.chdir(shop / start)

    assert ledger_root() == shop / "ledger"


def test_nearest_wins(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A ledger inside a ledger's tree is the one meant by whoever stands in it."""
    inner = shop / "ledger" / "blanks" / "a"
    (inner / "shop.yaml").write_text("shop: y\n")
    monkeypatch.chdir(inner)

    assert ledger_root() == inner


def test_named_beats_found(shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """--ledger is taken as it stands, also relative to where the person is."""
    other = tmp_path / "other"
    other.mkdir()
    (other / "shop.yaml").write_text("shop: z\n")
    monkeypatch.chdir(shop)

    assert ledger_root(Path("../other")) == other


def test_linked_ledger_keeps_its_name(shop: Path, tmp_path: Path) -> None:
    """Messages name the folder as the person knows it."""
    link = tmp_path / "link"
    link.symlink_to(shop / "ledger")

    assert ledger_root(link) == link


def test_unreadable_shop_file_still_marks_a_ledger(tmp_path: Path) -> None:
    """A shop.yaml that is a folder or a dead link is for check to report, not a missing ledger."""
    (tmp_path / "a" / "shop.yaml").mkdir(parents=True)
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "shop.yaml").symlink_to("nowhere")

    assert [ledger_root(tmp_path / name).name for name in "ab"] == ["a", "b"]


@pytest.mark.parametrize(
    ("option", "said", "remedy"),
    [
        ("nowhere", "must name a folder, found none at nowhere", ""),
        ("src", "must name a folder that holds shop.yaml, found src", "start a ledger"),
        (".", "must name a folder that holds shop.yaml, found .", "write --ledger ledger"),
        ("ledger/shop.yaml", "must name a folder, found none at ledger/shop.yaml", ""),
    ],
)
def test_named_wrongly(
    option: str, said: str, remedy: str, shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The message says what was named and what to write instead."""
    monkeypatch.chdir(shop)

    with pytest.raises(WrongUse) as caught:
        ledger_root(Path(option))

    assert said in caught.value.message
    assert remedy in caught.value.remedy


def test_none_anywhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Outside any ledger a person is told where was looked and what to do."""
    monkeypatch.chdir(tmp_path)

    with pytest.raises(
        WrongUse, match=f"no folder from {tmp_path} upward holds shop.yaml"
    ) as caught:
        ledger_root()

    assert "--ledger DIR" in caught.value.remedy

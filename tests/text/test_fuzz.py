"""Damaged bytes never stop the reading of the rest: each file is read, or has a finding."""

import random
from pathlib import Path

import pytest

from blankbook.records.load_file import load_file
from blankbook.text.ledger_files import LedgerFile, list_files
from text.mutations import mutate, mutate_bytes


def files_of_kind(ledger: Path, kind: str) -> list[LedgerFile]:
    """Return the ledger's files of one kind."""
    return [file for file in list_files(ledger) if file.kind == kind]


def read_damaged(folder: Path, file: LedgerFile, data: bytes) -> None:
    """Read *data* as *file*; it must be a record, or have findings that can be shown."""
    place = folder / file.path
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(data)
    entry = load_file(folder, file)
    assert entry.record is not None or entry.findings
    lines = data.count(b"\n") + data.count(b"\r") + 1
    for finding in entry.findings:
        assert 1 <= finding.line <= lines + 1
        assert finding.column >= 1
        assert len(finding.message) <= 300


@pytest.mark.parametrize("kind", ["shop", "supplier", "style", "round"])
@pytest.mark.parametrize("seed", range(3))
def test_damaged_bytes_end_in_a_record_or_a_finding(
    kind: str, seed: int, demo_ledger: Path, tmp_path: Path
) -> None:
    """60 seeded damages by bytes and 60 by characters for every kind and seed."""
    chance = random.Random(f"{kind} {seed}")
    files = files_of_kind(demo_ledger, kind)
    for _ in range(60):
        file = chance.choice(files)
        data = (demo_ledger / file.path).read_bytes()
        read_damaged(tmp_path, file, mutate_bytes(data, chance))
        read_damaged(tmp_path, file, mutate(data.decode(), chance).encode())


def test_random_bytes_end_in_a_finding(tmp_path: Path) -> None:
    """Noise is no record, whatever bytes it is made of."""
    chance = random.Random(11)
    for _ in range(200):
        noise = bytes(chance.choices(range(256), k=chance.randint(0, 200)))
        (tmp_path / "shop.yaml").write_bytes(noise)
        assert load_file(tmp_path, LedgerFile("shop.yaml", "shop")).findings

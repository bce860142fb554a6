"""Bytes and files that are no record, or not where a record belongs."""

from pathlib import Path

from battery.rows import (
    FOLDER,
    ROUND,
    STYLE,
    SUPPLIER,
    Row,
    changed,
    folder,
    link,
    odd_name,
    of_lines,
    pipe,
    sparse,
    with_bytes,
)
from support import SMALL_LEDGER

MARKERS = "<<<<<<< HEAD\nby: rv\n=======\nby: mo\n>>>>>>> other\n"
TEXTS: list[Row] = [
    Row("B01 empty", of_lines(SUPPLIER, ""), "empty-file", f"{SUPPLIER}:1:1"),
    Row("B02 comments only", of_lines(SUPPLIER, "# x\n\n"), "empty-file", f"{SUPPLIER}:1:1"),
    Row(
        "B03 byte-order mark",
        {SUPPLIER: b"\xef\xbb\xbf" + SMALL_LEDGER[SUPPLIER].encode()},
        "byte-order-mark",
        f"{SUPPLIER}:1:1",
        "note",
    ),
    Row("B04 CRLF", {p: t.replace("\n", "\r\n") for p, t in SMALL_LEDGER.items()}, ""),
    Row(
        "B05 mixed line ends",
        with_bytes(ROUND, b"rv\n", b"rv\r\n"),
        "mixed-line-ends",
        f"{ROUND}:1:1",
        "note",
    ),
    Row("B06 no final newline", {SUPPLIER: SMALL_LEDGER[SUPPLIER].rstrip("\n")}, ""),
    Row("B07 byte 0xff", with_bytes(ROUND, b"by: rv", b"by: r\xff"), "not-utf-8", f"{ROUND}:3:6"),
    Row("B08 Windows half", with_bytes(ROUND, b"20 1/8", b"20\xbd"), "not-utf-8", f"{ROUND}:11:30"),
    Row(
        "B08 Windows quotes",
        with_bytes(ROUND, b"by: rv", b"by: \x93rv\x94"),
        "not-utf-8",
        f"{ROUND}:3:5",
    ),
    Row(
        "B09 UTF-16",
        {ROUND: b"\xff\xfe" + SMALL_LEDGER[ROUND].encode("utf-16-le")},
        "not-utf-8",
        f"{ROUND}:1:1",
    ),
    Row("B10 NUL", with_bytes(ROUND, b"rv", b"r\x00v"), "hidden-character", f"{ROUND}:3:6"),
    Row("B10 ESC", with_bytes(ROUND, b"rv", b"r\x1bv"), "hidden-character", f"{ROUND}:3:6"),
    Row(
        "B11 too large by a byte",
        {SUPPLIER: "#" * ((1 << 20) + 1)},
        "file-too-large",
        f"{SUPPLIER}:1:1",
    ),
    Row("B12 1 GB", {}, "file-too-large", f"{ROUND}:1:1", prepare=sparse(ROUND)),
    Row("B13 folder", {}, "not-a-file", f"{ROUND}:1:1", prepare=folder(ROUND)),
    # Found and named like any other fault of the ledger, so exit 1; it must only never hang.
    Row("B14 pipe", {}, "not-a-file", f"{ROUND}:1:1", prepare=pipe(ROUND)),
    Row("B15 link out", {}, "link-leaves", f"{ROUND}:1:1", prepare=link(ROUND, "/etc/passwd")),
    Row("B16 loop", {}, "broken-link", f"{ROUND}:1:1", prepare=link(ROUND, Path(ROUND).name)),
    Row("B16 dangling", {}, "broken-link", f"{ROUND}:1:1", prepare=link(ROUND, "gone.yaml")),
    Row(
        "B19 leftovers",
        {
            f"{FOLDER}/.x.yaml.swp": "x",
            f"{FOLDER}/x.yaml~": "x",
            f"{FOLDER}/#x#": "x",
            f"{FOLDER}/.DS_Store": b"\x00",
            "blanks/.DS_Store": b"\x00",
        },
        "",
    ),
    Row("B20 yml", {f"{FOLDER}/x.yml": "x: 1\n"}, "wrong-ending", f"{FOLDER}/x.yml:1:1"),
    Row("B20 YAML", {f"{FOLDER}/X.YAML": "x: 1\n"}, "wrong-ending", f"{FOLDER}/X.YAML:1:1"),
    Row(
        "B20 style.yml",
        {STYLE: None, f"{FOLDER}/style.yml": SMALL_LEDGER[STYLE]},
        "wrong-ending",
        f"{FOLDER}/style.yml:1:1",
    ),
    Row(
        "B20 supplier.yml",
        {SUPPLIER: None, "suppliers/tarn-thrush.yml": SMALL_LEDGER[SUPPLIER]},
        "wrong-ending",
        "suppliers/tarn-thrush.yml:1:1",
    ),
    Row(
        "B21 supplier",
        changed(SUPPLIER, "tarn-thrush", "tarn-thresh"),
        "name-against-content",
        f"{SUPPLIER}:1:11",
    ),
    Row("B21 style", changed(STYLE, "/h6", "/h7"), "name-against-content", f"{STYLE}:1:8"),
    Row(
        "B21 style's supplier",
        changed(STYLE, "tarn-thrush/", "tarn/"),
        "name-against-content",
        f"{STYLE}:1:8",
    ),
    Row("B21 round", changed(ROUND, "/h6", "/h7"), "name-against-content", f"{ROUND}:1:8"),
    Row(
        "B21 round's date",
        changed(ROUND, "2024-02-12", "2024-02-13"),
        "name-against-content",
        f"{ROUND}:2:7",
    ),
    Row(
        "B22 name bytes",
        {},
        "wrong-name",
        f"{FOLDER}/2024-02-12-\\udcff.yaml:1:1",
        prepare=odd_name,
    ),
    Row("B23 merge", changed(ROUND, "by: rv\n", MARKERS), "unresolved-merge", f"{ROUND}:3:1"),
]

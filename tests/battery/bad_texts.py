"""Bytes and files that are no record, or not where a record belongs."""

from pathlib import Path

from battery.bad_input import (
    FOLDER,
    ROUND,
    STYLE,
    SUPPLIER,
    BadInput,
    bytes_replaced_in,
    make_folder,
    make_link,
    make_pipe,
    make_sparse,
    rename_oddly,
    replaced_in,
    whole_file,
)
from support import SMALL_LEDGER

MARKERS = "<<<<<<< HEAD\nby: rv\n=======\nby: mo\n>>>>>>> other\n"
TEXTS: list[BadInput] = [
    BadInput("B01 empty", whole_file(SUPPLIER, ""), "empty-file", f"{SUPPLIER}:1:1"),
    BadInput("B02 comments only", whole_file(SUPPLIER, "# x\n\n"), "empty-file", f"{SUPPLIER}:1:1"),
    BadInput(
        "B03 byte-order mark",
        {SUPPLIER: b"\xef\xbb\xbf" + SMALL_LEDGER[SUPPLIER].encode()},
        "byte-order-mark",
        f"{SUPPLIER}:1:1",
        "note",
    ),
    BadInput("B04 CRLF", {p: t.replace("\n", "\r\n") for p, t in SMALL_LEDGER.items()}, ""),
    BadInput(
        "B05 mixed line ends",
        bytes_replaced_in(ROUND, b"rv\n", b"rv\r\n"),
        "mixed-line-ends",
        f"{ROUND}:1:1",
        "note",
    ),
    BadInput("B06 no final newline", {SUPPLIER: SMALL_LEDGER[SUPPLIER].rstrip("\n")}, ""),
    BadInput(
        "B07 byte 0xff",
        bytes_replaced_in(ROUND, b"by: rv", b"by: r\xff"),
        "not-utf-8",
        f"{ROUND}:3:6",
    ),
    BadInput(
        "B08 Windows half",
        bytes_replaced_in(ROUND, b"20 1/8", b"20\xbd"),
        "not-utf-8",
        f"{ROUND}:11:30",
    ),
    BadInput(
        "B08 Windows quotes",
        bytes_replaced_in(ROUND, b"by: rv", b"by: \x93rv\x94"),
        "not-utf-8",
        f"{ROUND}:3:5",
    ),
    BadInput(
        "B09 UTF-16",
        {ROUND: b"\xff\xfe" + SMALL_LEDGER[ROUND].encode("utf-16-le")},
        "not-utf-8",
        f"{ROUND}:1:1",
    ),
    BadInput(
        "B10 NUL", bytes_replaced_in(ROUND, b"rv", b"r\x00v"), "hidden-character", f"{ROUND}:3:6"
    ),
    BadInput(
        "B10 ESC", bytes_replaced_in(ROUND, b"rv", b"r\x1bv"), "hidden-character", f"{ROUND}:3:6"
    ),
    BadInput(
        "B11 too large by a byte",
        {SUPPLIER: "#" * ((1 << 20) + 1)},
        "file-too-large",
        f"{SUPPLIER}:1:1",
    ),
    BadInput("B12 1 GB", {}, "file-too-large", f"{ROUND}:1:1", prepare=make_sparse(ROUND)),
    BadInput("B13 folder", {}, "not-a-file", f"{ROUND}:1:1", prepare=make_folder(ROUND)),
    # Found and named like any other fault of the ledger, so exit 1; it must only never hang.
    BadInput("B14 pipe", {}, "not-a-file", f"{ROUND}:1:1", prepare=make_pipe(ROUND)),
    BadInput(
        "B15 link out", {}, "link-leaves", f"{ROUND}:1:1", prepare=make_link(ROUND, "/etc/passwd")
    ),
    BadInput(
        "B16 loop", {}, "broken-link", f"{ROUND}:1:1", prepare=make_link(ROUND, Path(ROUND).name)
    ),
    BadInput(
        "B16 dangling", {}, "broken-link", f"{ROUND}:1:1", prepare=make_link(ROUND, "gone.yaml")
    ),
    BadInput(
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
    BadInput("B20 yml", {f"{FOLDER}/x.yml": "x: 1\n"}, "wrong-ending", f"{FOLDER}/x.yml:1:1"),
    BadInput("B20 YAML", {f"{FOLDER}/X.YAML": "x: 1\n"}, "wrong-ending", f"{FOLDER}/X.YAML:1:1"),
    BadInput(
        "B20 style.yml",
        {STYLE: None, f"{FOLDER}/style.yml": SMALL_LEDGER[STYLE]},
        "wrong-ending",
        f"{FOLDER}/style.yml:1:1",
    ),
    BadInput(
        "B20 supplier.yml",
        {SUPPLIER: None, "suppliers/tarn-thrush.yml": SMALL_LEDGER[SUPPLIER]},
        "wrong-ending",
        "suppliers/tarn-thrush.yml:1:1",
    ),
    BadInput(
        "B21 supplier",
        replaced_in(SUPPLIER, "tarn-thrush", "tarn-thresh"),
        "name-against-content",
        f"{SUPPLIER}:1:11",
    ),
    BadInput("B21 style", replaced_in(STYLE, "/h6", "/h7"), "name-against-content", f"{STYLE}:1:8"),
    BadInput(
        "B21 style's supplier",
        replaced_in(STYLE, "tarn-thrush/", "tarn/"),
        "name-against-content",
        f"{STYLE}:1:8",
    ),
    BadInput("B21 round", replaced_in(ROUND, "/h6", "/h7"), "name-against-content", f"{ROUND}:1:8"),
    BadInput(
        "B21 round's date",
        replaced_in(ROUND, "2024-02-12", "2024-02-13"),
        "name-against-content",
        f"{ROUND}:2:7",
    ),
    BadInput(
        "B22 name bytes",
        {},
        "wrong-name",
        f"{FOLDER}/2024-02-12-\\udcff.yaml:1:1",
        prepare=rename_oddly,
    ),
    BadInput(
        "B23 merge", replaced_in(ROUND, "by: rv\n", MARKERS), "unresolved-merge", f"{ROUND}:3:1"
    ),
]

"""The rows of the list from B84 on: names and paths, injection, the machine, size; by number."""

import csv
import errno
import io
import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from battery.bad_input import FOLDER, ROUND, SHOP, STYLE, SUPPLIER, appended_to, replaced_in
from blankbook.build.build_site import build_site
from blankbook.build.trust.build_lock import build_lock
from building import PAGE, edit_file, site_files
from disk_calls import act_at_call, before_each_write
from made_repositories import Repository
from markup import PublishedMarkup
from shares import is_night
from support import SMALL_LEDGER, Ended, LedgerMaker, Program

PUT = ("enter", ROUND, "--put", "L-black-1.hem_width=20")
TYPED = [
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "<svg onload=alert(1)>",
    "<style>*{}</style>", "<iframe src=//x>", "<base href=//x>",
    '<meta http-equiv=refresh content="0;url=//x">', "[x](javascript:alert(1))",
    "<javascript&#58;alert(1)>", "![x](data:text/html,x)", "[x]: javascript:alert(1)",
    "{: onclick=alert(1) }", "*x*{: style=color:red }", "---\ntemplate: x.html\n---",
    "{{ config }}", "{% include 'x' %}", '--8<-- "file"', "!ENV HOME", "</div></main></body>",
    "<!--", "]]>", "<div", '"><b>', "' onx=", "&amp;", "&lt;b&gt;", "$\\badcmd$", "$5 to $6",
    "_hidden", "</script><script>", "a | b", "`x`", "@team #12", "👕" * 40,
]  # fmt: skip
"""B94 to B99, B101, B103, B105 and B107: what a person may type, and a page must only show."""


def plain_end(ended: Ended, *codes: int) -> None:
    """Make sure that a command ended with one of the codes, and without a traceback."""
    assert ended.code in codes, ended.err
    assert "Traceback" not in ended.out + ended.err


# ---- names and paths ---------------------------------------------------------------------------

IDS = ["../../etc/x", "/abs", "a/b", "a\\b", "C:x", "\\\\srv\\x", "con", "NUL", "com1", "aux.yaml",
       "lpt¹", "a.", "a ", "-a", "", "x" * 65, "👕", "..", ".git"]  # fmt: skip


@pytest.mark.parametrize("name", IDS)
def test_b84_b85_b86_a_name_that_is_no_name(
    name: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """In a record it is a finding, at a command wrong use; nothing is written anywhere."""
    root = ledger_factory(replaced_in(SUPPLIER, "supplier: tarn-thrush", f"supplier: '{name}'"))
    plain_end(command("check", "--ledger", root), 1)
    root = ledger_factory(name="other")
    before = site_files(root.parent)
    style = ("--name", "X", "--sizes", "M", "--colours", "black", "--construction", "side_seamed")
    line = ("add", "style", f"tarn-thrush/{name}", *style, "--wearer", "adult")
    plain_end(command(*line, "--ledger", root), 2)
    plain_end(command("start", root.parent / "made" / name, "--units", "ell"), 2)
    assert site_files(root.parent) == before


@pytest.mark.parametrize(
    "name", ["../secret.png", "/etc/passwd", "https://x/y.png", "file:///etc/passwd", "C:\\x.png"]
)
def test_b87_a_photo_elsewhere(name: str, ledger_factory: LedgerMaker, command: Program) -> None:
    """A photo stays in the folder of its record."""
    root = ledger_factory(appended_to(ROUND, f"photos:\n  - {{file: '{name}', shows: collar}}\n"))
    ended = command("check", "--ledger", root)
    plain_end(ended, 1)
    assert "wrong-photo" in ended.out


@pytest.mark.parametrize("where", ["file", "folder"])
def test_b88_a_photo_through_a_link(
    where: str, ledger_factory: LedgerMaker, command: Program, tmp_path: Path
) -> None:
    """Neither a photo nor a folder above it may lead elsewhere."""
    outside = tmp_path / "outside"
    outside.mkdir()
    Image.new("RGB", (4, 4)).save(outside / "c.png")
    root = ledger_factory(appended_to(ROUND, "photos:\n  - {file: p/c.png, shows: collar}\n"))
    if where == "file":
        (root / FOLDER / "p").mkdir()
        (root / FOLDER / "p/c.png").symlink_to(outside / "c.png")
    else:
        (root / FOLDER / "p").symlink_to(outside)
    ended = command("check", "--ledger", root)
    plain_end(ended, 1)
    assert "must not be a link" in ended.out


def picture(form: str, size: tuple[int, int], mode: str = "1") -> bytes:
    """Return a picture of one colour."""
    stream = io.BytesIO()
    Image.new(mode, size).save(stream, form)
    return stream.getvalue()


@pytest.mark.parametrize(
    ("name", "body"),
    [
        ("c.jpg", lambda: b"<html><script>alert(1)</script>"),
        ("c.png", lambda: b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"),
        ("c.png", lambda: picture("PNG", (30_000, 30_000))),
        ("c.jpg", lambda: picture("JPEG", (800, 800), "L")[:400]),
        ("c.png", bytes),
        ("c.png", lambda: picture("PNG", (4, 4)).ljust(11 << 20, b"x")),
        ("c.webp", lambda: picture("WEBP", (5_000, 4_000), "RGB")),
    ],
    ids=["html", "svg", "bomb", "cut", "empty", "11 MiB", "large webp"],
)
def test_b89_b90_a_photo_that_is_none(
    name: str, body: Callable[[], bytes], ledger_factory: LedgerMaker, command: Program
) -> None:
    """What is no picture, or unpacks to gigabytes, is told before it is decoded."""
    photo = appended_to(ROUND, f"photos:\n  - {{file: {name}, shows: collar}}\n")
    root = ledger_factory(photo | {f"{FOLDER}/{name}": body()})
    start = time.process_time()
    plain_end(command("check", "--ledger", root), 1)
    assert time.process_time() - start < 2


def test_b91_a_photo_with_its_place(ledger_factory: LedgerMaker) -> None:
    """Where a picture was taken is not in the site."""
    stream, exif = io.BytesIO(), Image.Exif()
    exif.get_ifd(0x8825)[1] = "N"
    exif[0x010E] = "KEYCANARY"
    Image.new("RGB", (40, 30), "teal").save(stream, "JPEG", exif=exif)
    photo = appended_to(ROUND, "photos:\n  - {file: c.jpg, shows: collar}\n")
    root = ledger_factory(photo | {f"{FOLDER}/c.jpg": stream.getvalue()})
    build_site(root, root / "catalogue")
    found = [body for path, body in site_files(root / "catalogue").items() if ".jpg" in path]
    assert len(found) == 2
    assert not any(b"KEYCANARY" in body or b"Exif" in body for body in found)


@pytest.mark.parametrize("place", ["/", "ledger", "home", "foreign", "file", "link", "blanks", ""])
def test_b92_a_place_for_the_site_that_holds_something(
    place: str, ledger_factory: LedgerMaker, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is wrong use, and nothing there is touched."""
    root = ledger_factory({"foreign/mine": "x", "file": "x"})
    (root / "link").symlink_to(root / "foreign")
    monkeypatch.setenv("HOME", str(root / "foreign"))
    monkeypatch.chdir(root)
    places = {"/": "/", "ledger": str(root), "home": str(root / "foreign"), "": ""}
    before = site_files(root)
    ended = command("build", "--ledger", root, "--out", places.get(place, str(root / place)))
    plain_end(ended, 2)
    assert "help: " in ended.err
    assert site_files(root) == before


@pytest.mark.parametrize("name", ["a b", "#1", "50%", "it's", '"q"', "a\nb", "größe", "-dash"])
def test_b93_a_ledger_of_a_strange_name(
    name: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """A folder may be called anything."""
    root = ledger_factory(name=name)
    for line in (("check",), ("vet",), ("build",)):
        plain_end(command(*line, "--ledger", root), 0)


# ---- injection ---------------------------------------------------------------------------------


def typed_into(root: Path, words: str) -> None:
    """Write words into everything that a person words freely."""
    quoted = json.dumps(words, ensure_ascii=False)
    edit_file(root, STYLE, "name: H6 heavy tee", f"name: {quoted}\nnote: {quoted}")
    edit_file(root, STYLE, "source: size sheet, page 3", f"source: {quoted}")
    edit_file(root, SUPPLIER, "name: Tarn & Thrush Blanks", f"name: {quoted}\ncontact: {quoted}")
    edit_file(root, ROUND, "by: rv", f"by: {quoted}\nnote: {quoted}")
    edit_file(root, ROUND, "lot: TT-2401-A", f"lot: {quoted}")
    edit_file(root, SHOP, "shop: Brackenlight Print Room", f"shop: {quoted}")


def shape(page: bytes) -> list[tuple[str, tuple[str, ...]]]:
    """Return the tags of a page, each with the names of its attributes."""
    return PublishedMarkup(page.decode()).shape


@pytest.fixture(scope="module")
def harmless(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """Return the site of a ledger into which harmless words were typed."""
    return built_with("words", tmp_path_factory.mktemp("harmless"))


def built_with(words: str, folder: Path) -> dict[str, bytes]:
    """Return the site of the small ledger with words typed into it."""
    root = folder / "ledger"
    for path, text in SMALL_LEDGER.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text)
    typed_into(root, words)
    build_site(root, root / "catalogue", jobs=1)
    return site_files(root / "catalogue")


@pytest.mark.parametrize("words", TYPED, ids=lambda words: words[:20])
def test_b94_to_b99_b101_b105_b107_what_is_typed_is_text(
    words: str, harmless: dict[str, bytes], tmp_path: Path
) -> None:
    """Every page has the tags and attributes of its harmless twin, and shows what was typed."""
    found = built_with(words, tmp_path)
    assert found.keys() == harmless.keys()
    for path, body in found.items():
        if path.endswith((".html", ".htm")):
            assert shape(body) == shape(harmless[path]), path
        if path.endswith(".js"):
            assert b"</script" not in body
    flat = " ".join(words.split())
    heading = PublishedMarkup(found[PAGE].decode()).all("h1")[0]
    assert " ".join(heading.text.split()) == flat


@pytest.mark.parametrize(
    "website",
    ["javascript:alert(1)", "data:text/html,x", "//evil", " https://ok", "http://[x", "https://",
     "http:///x", "HTTPS://x y", "http://x<y", "https://?x"],
)  # fmt: skip
def test_b100_an_address_that_is_none(
    website: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """Only an address on the web may become a link."""
    root = ledger_factory(appended_to(SUPPLIER, f"website: '{website}'\n"))
    plain_end(command("check", "--ledger", root), 1)


@pytest.mark.parametrize(
    "cell", ["=1+1", "@SUM(A1)", "+1", "-1/2", "\t=x", "-2+3+cmd|' /C calc'!A0"]
)
def test_b102_a_formula_in_a_cell(cell: str) -> None:
    """A spreadsheet shows it and works nothing out; a number stays a number."""
    from blankbook.pages.clients.client_pages import as_csv
    from blankbook.pages.clients.client_rows import ClientCell

    fields = dict.fromkeys(ClientCell.__dataclass_fields__, cell)
    rows = list(csv.reader(io.StringIO(as_csv([ClientCell(**fields)]), newline="")))
    number = cell in {"-1/2", "+1"}
    assert set(rows[1]) == {cell if number else f"'{cell}"}


def test_b103_a_command_in_an_annotation(ledger_factory: LedgerMaker, command: Program) -> None:
    """A code host gets one line for each finding, whatever a record says."""
    words = "::error::x%0A::set-output name=a::b"
    root = ledger_factory(replaced_in(ROUND, "size: M", f'size: "{words}"'))
    ended = command("check", "--format", "github", "--ledger", root)
    plain_end(ended, 1)
    assert all(re.match(r"::(error|warning|notice) file=", line) for line in ended.out.splitlines())
    assert "%0A" not in ended.out.replace("%250A", "")


@pytest.mark.parametrize("mark", ["\x1b[2J", "\x1b]8;;http://x\x07", "\u202e", "\x9b1m"])
def test_b104_a_control_character_for_the_terminal(
    mark: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """In a note it is a finding; in a name or an argument it comes out spelled."""
    root = ledger_factory(appended_to(STYLE, f"note: {json.dumps(mark + 'x')}\n"))
    (root / FOLDER / f"2024-02-13-{mark.replace('/', '')}.yaml").write_text("x")
    for line in (("check",), ("vet", mark), ("enter", ROUND, "--put", f"{mark}.{mark}={mark}")):
        ended = command(*line, "--ledger", root)
        plain_end(ended, 1, 2)
        assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e]", ended.out + ended.err)


@pytest.mark.parametrize("name", ["--upload-pack=x", "-O", "--output=x", "-c core.pager=x", "@{-1"])
def test_b106_a_version_that_looks_like_an_option(
    name: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """Git gets it as a name, and there is no such version."""
    root = ledger_factory()
    Repository(root).commit("all")
    before = site_files(root)
    plain_end(command("changes", "--ledger", root, "--", name), 2, 3)
    assert site_files(root) == before


def test_b108_what_outsiders_must_not_see(ledger_factory: LedgerMaker) -> None:
    """Who measured, what was paid and what was noted are in no file of a public site."""
    root = ledger_factory()
    edit_file(root, ROUND, "by: rv", "by: KEYCANARY\nnote: KEYCANARY")
    edit_file(root, ROUND, "each: 4.60", "each: 61.37")
    edit_file(root, STYLE, "name: H6", "note: KEYCANARY\nname: H6")
    edit_file(root, SUPPLIER, "name:", "contact: KEYCANARY\nname:")
    build_site(root, root.parent / "public", public=True)
    for path, body in site_files(root.parent / "public").items():
        assert b"KEYCANARY" not in body, path
        assert b"61.37" not in body, path


# ---- the machine -------------------------------------------------------------------------------


def shell(line: str, root: Path, **env: str) -> subprocess.CompletedProcess[bytes]:
    """Run a line of the shell with the program as ``$B``."""
    return subprocess.run(
        ["bash", "-c", f"B='{sys.executable} -m blankbook'; {line}"],
        cwd=root,
        env={**os.environ, **env},
        capture_output=True,
        timeout=120,
        check=False,
    )


def test_b109_b110_b111_a_stream_that_takes_nothing(ledger_factory: LedgerMaker) -> None:
    """A reader that left, a full disk, a locale without letters: each ends as it should."""
    root = ledger_factory()
    left = shell("$B vet tarn-thrush/h6 | head -1; exit ${PIPESTATUS[0]}", root)
    assert (left.returncode, left.stderr) == (0, b"")
    full = shell("$B vet > /dev/full", root)
    assert (full.returncode, b"Traceback" in full.stderr) == (3, False)
    plain = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    assert shell("$B vet", root, **plain).returncode == 0


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EACCES])
def test_b112_a_disk_that_refuses_at_any_write(
    number: int, ledger_factory: LedgerMaker, command: Program
) -> None:
    """The record is as it was, or as it was to be; never anything between."""
    root = ledger_factory()
    old = (root / ROUND).read_bytes()

    def refuse() -> None:
        raise OSError(number, os.strerror(number))

    for call in range(1, 5):
        with before_each_write(act_at_call(call, refuse)):
            ended = command(*PUT, "--ledger", root)
        plain_end(ended, 0, 3)
        assert ((root / ROUND).read_bytes() == old) == (ended.code == 3)
        (root / ROUND).write_bytes(old)


@pytest.mark.parametrize(("name", "after"), [("SIGKILL", 0.0), ("SIGKILL", 0.4), ("SIGINT", 0.4)])
def test_b113_b114_an_end_in_the_middle(
    name: str, after: float, ledger_factory: LedgerMaker
) -> None:
    """The old site stays, or the new one is whole; the next build is as if nothing had been."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    old = site_files(root / "catalogue")
    edit_file(root, ROUND, "20 1/8", "20 1/4")
    lock = root / ".blankbook/lock"
    line = [sys.executable, "-m", "blankbook", "build", "--ledger", str(root)]
    with subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as child:
        while lock.read_text().strip() != str(child.pid) and child.poll() is None:
            time.sleep(0.01)
        time.sleep(after)
        child.send_signal(getattr(signal, name))
        child.wait()
        assert child.returncode in {0, 130, -signal.SIGKILL}
    now = site_files(root / "catalogue")
    build_site(root, root / "catalogue")
    assert now in (old, site_files(root / "catalogue"))
    assert not list(root.glob("catalogue.*"))


def test_b115_two_at_once(ledger_factory: LedgerMaker, command: Program) -> None:
    """A second build says who holds the ledger; a record can be written meanwhile."""
    root = ledger_factory()
    with build_lock(root / ".blankbook"):
        ended = command("build", "--ledger", root)
        plain_end(ended, 3)
        assert str(os.getpid()) in ended.err
        plain_end(command(*PUT, "--ledger", root), 0)


def test_b116_a_file_that_is_edited_meanwhile(
    ledger_factory: LedgerMaker, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What somebody else wrote stays, and the reading is added to it."""
    from blankbook.commands.entering import write_round

    root, left = ledger_factory(), [1]

    def edits(*some: Any) -> None:
        if left.pop():
            left.append(0)
            edit_file(root, ROUND, "by: rv", "by: rv\nnote: by hand")
        else:
            left.append(0)
        prove(*some)

    prove: Callable[..., None] = vars(write_round)["prove_round"]
    monkeypatch.setattr(write_round, "prove_round", edits)
    plain_end(command(*PUT, "--ledger", root), 0)
    text = (root / ROUND).read_text()
    assert "note: by hand" in text
    assert "hem_width: 20" in text


def test_b117_a_ledger_without_much_of_git(
    ledger_factory: LedgerMaker, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Check and build need none of it; a review says what is missing."""
    root = ledger_factory()

    def works() -> None:
        for line in (("check",), ("build",)):
            plain_end(command(*line, "--ledger", root), 0)

    works()
    plain_end(command("changes", "HEAD", "--ledger", root), 3)
    one = Repository(root)  # no commit yet
    works()
    plain_end(command("changes", "HEAD", "--ledger", root), 2, 3)
    one.write(".gitignore", "catalogue/\n.blankbook/\n")
    one.commit("all")
    one.git("checkout", "--quiet", "--detach")
    works()
    plain_end(command("changes", "HEAD", "--ledger", root), 0)
    monkeypatch.setenv("PATH", "")
    works()
    plain_end(command("changes", "HEAD", "--ledger", root), 3)


ODD_SETTINGS = {
    "MPLBACKEND": "TkAgg", "PYTHONWARNINGS": "error", "TZ": "Pacific/Kiritimati", "COLUMNS": "1",
    "FORCE_COLOR": "1", "PYTHONHASHSEED": "3", "LANG": "de_DE.UTF-8",
}  # fmt: skip


@pytest.mark.seldom(3)
def test_b118_settings_of_the_user(ledger_factory: LedgerMaker, tmp_path: Path) -> None:
    """The site is the same to the byte, whatever is set; HOME may be missing or closed."""
    root = ledger_factory()
    build_site(root, tmp_path / "usual", fresh=True)
    lines = {
        "set": ("umask 077; $B", ODD_SETTINGS),
        "homeless": ("unset HOME XDG_STATE_HOME; $B", {"MPLCONFIGDIR": str(tmp_path / "m")}),
        "closed": ("unset XDG_STATE_HOME; HOME=/dev/null/x $B", {}),
    }
    (tmp_path / "m").mkdir()
    for name, (line, env) in lines.items():
        ended = shell(f"{line} build --ledger {root} --fresh --out {tmp_path / name}", root, **env)
        assert ended.returncode == 0, ended.stderr
        assert b"atplotlib" not in ended.stdout + ended.stderr
        assert site_files(tmp_path / name) == site_files(tmp_path / "usual")


@pytest.mark.parametrize("year", [1970, 2100])
def test_b119_a_clock_that_is_wrong(
    year: int, ledger_factory: LedgerMaker, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The site says nothing of the day on which it was made."""
    root = ledger_factory()
    build_site(root, tmp_path / "usual", jobs=1, fresh=True)
    now = (year - 1970) * 31_556_952.0
    monkeypatch.setattr(time, "time", lambda: now)
    monkeypatch.setattr(time, "time_ns", lambda: int(now * 1e9))
    build_site(root, tmp_path / "odd", jobs=1, fresh=True)
    assert site_files(tmp_path / "odd") == site_files(tmp_path / "usual")


@pytest.mark.parametrize(
    ("line", "near"),
    [
        (("chekc",), "did you mean 'check'?"),
        (("check", "--ledgr", "x"), "did you mean --ledger?"),
        (("check", "--format", "gitub"), "did you mean github?"),
        (("vet", "tarn-thrush/h5"), "did you mean tarn-thrush/h6?"),
        (("enter", "x.yaml"), "help: "),
        (("import", "x"), "missing argument"),
        (("check", "--json", "--format", "github"), "contradict each other"),
        (("add",), "Usage: "),
    ],
)
def test_b120_a_line_that_is_wrong(
    line: tuple[str, ...],
    near: str,
    ledger_factory: LedgerMaker,
    command: Program,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Wrong use, with what was probably meant."""
    monkeypatch.chdir(ledger_factory())
    ended = command(*line)
    plain_end(ended, 2)
    assert near in ended.err


@pytest.mark.parametrize("reading", ["-1/8", "", " ", "--", "-x", "=", "1/8"])
def test_b121_a_value_that_looks_like_an_option(
    reading: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """It is a value; what is wrong with it is said, with what to write."""
    root = ledger_factory()
    ended = command("enter", ROUND, f"--put=L-black-1.hem_width={reading}", "--ledger", root)
    plain_end(ended, 0, 2)
    assert (root / ROUND).read_text().count("hem_width") == (ended.code == 0)
    plain_end(command("vet", "--ledger", root, "--", "-x"), 2)
    plain_end(command("vet", "--ledger", root, ""), 2)


@pytest.mark.parametrize("body", ["", "{", "[]", '{"$schema": "https://json-schema.org/v9"}'])
def test_b122_a_schema_that_is_damaged_or_newer(
    body: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """The copy in a ledger is for editors: the program goes by its own."""
    kinds = ("round", "style", "shop", "supplier", "words")
    root = ledger_factory({f"schemas/{kind}.schema.json": body for kind in kinds})
    for line in (("check",), ("vet",), PUT):
        plain_end(command(*line, "--ledger", root), 0)


# ---- size --------------------------------------------------------------------------------------

BLANKS = 2_000 if is_night() else 150
LOTS = 10_000 if is_night() else 700


def test_b123_a_ledger_of_thousands_of_files(ledger_factory: LedgerMaker, command: Program) -> None:
    """Each file costs a few milliseconds, however many there are."""
    files: dict[str, str | bytes | None] = {}
    for number in range(BLANKS):
        folder = f"blanks/tarn-thrush/b{number}"
        files[f"{folder}/style.yaml"] = SMALL_LEDGER[STYLE].replace("/h6", f"/b{number}")
        files[f"{folder}/2024-02-12-first.yaml"] = SMALL_LEDGER[ROUND].replace("/h6", f"/b{number}")
    root = ledger_factory(files)
    start = time.process_time()
    plain_end(command("check", "--ledger", root), 0)
    assert time.process_time() - start < 3 + BLANKS * 0.02


def test_b124_a_blank_of_thousands_of_lots(ledger_factory: LedgerMaker, command: Program) -> None:
    """Its pages stay light, each earlier round stands on one of them, and time grows in line."""
    import datetime

    files: dict[str, str | bytes | None] = {ROUND: None}
    style = SMALL_LEDGER[STYLE].replace("2024-01-08", "1990-01-01")
    days = [datetime.date(1990, 1, 1) + datetime.timedelta(days=n) for n in range(LOTS)]
    for day in days:
        text = SMALL_LEDGER[ROUND].replace("2024-02-12", f"{day}").replace("2024-02-03", f"{day}")
        files[f"{FOLDER}/{day}-lot.yaml"] = text.replace("TT-2401-A", f"L{day}")
    root = ledger_factory(files | {STYLE: style})
    start = time.process_time()
    plain_end(command("vet", "tarn-thrush/h6", "--ledger", root), 0)
    assert time.process_time() - start < 3 + LOTS * 0.01
    plain_end(command("build", "--jobs", "1", "--ledger", root), 0)
    pages = site_files(root / "catalogue")
    assert {path: len(body) for path, body in pages.items() if len(body) > 300_000} == {}
    earlier = [body.decode() for path, body in pages.items() if "/earlier" in path]
    found = [
        key
        for text in earlier
        for key in re.findall(r'<article[^>]*labelledby="?round-([^">]*)', text)
    ]
    assert sorted(found) == [f"{day}-lot" for day in days[:-1]]
    assert len(earlier) > 2

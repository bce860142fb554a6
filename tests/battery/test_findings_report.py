"""One list of findings, three forms: for a person, for a program, for a code host."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from battery.bad_input import FOLDER, ROUND, appended_to, replaced_in
from blankbook.commands.shared import findings_report
from blankbook.text.findings import Finding
from support import SMALL_LEDGER, LedgerMaker, Program


def many_findings(count: int, path: str = "a.yaml", level: str = "error") -> list[Finding]:
    """Return *count* findings of one file."""
    return [Finding(path, n, 1, "rule", f"number {n}", "help", level) for n in range(1, count + 1)]


def lines_without_help(text: str) -> list[str]:
    """Return the lines of a text that are no help."""
    return [line for line in text.splitlines() if not line.startswith("    ")]


def test_text_has_place_level_words_rule_and_help() -> None:
    """The first line can be clicked on in an editor's terminal."""
    finding = Finding("a.yaml", 3, 7, "tab", "found a tab", "use spaces", "warning")
    assert findings_report.as_text([finding], "ledger/") == (
        "ledger/a.yaml:3:7: warning: found a tab  [tab]\n    help: use spaces"
    )


@pytest.mark.parametrize(("count", "listed"), [(20, 20), (21, 20), (300, 20)])
def test_a_file_lists_twenty(count: int, listed: int) -> None:
    """The rest is counted, and --all lists it."""
    lines = lines_without_help(findings_report.as_text(many_findings(count)))
    assert sum("[rule]" in line for line in lines) == listed
    assert (lines[-1] == f"a.yaml: … and {count - listed} more (--all)") is (count > listed)
    assert (
        len(lines_without_help(findings_report.as_text(many_findings(count), every=True))) == count
    )


def test_all_files_list_two_hundred() -> None:
    """Files that nothing is listed of are counted in one line."""
    findings = [finding for n in range(30) for finding in many_findings(10, f"{n:02}.yaml")]
    lines = lines_without_help(findings_report.as_text(findings))
    assert len(lines) == 201
    assert lines[-1] == "… and 100 more in 10 files (--all)"


TRICKS = "a\x1b[2Jb\u202ec\u2066d\re\x07"


def test_nothing_in_a_text_plays_tricks_on_a_terminal() -> None:
    """Control characters and those that turn the order of reading are written out."""
    text = findings_report.as_text([Finding(f"{TRICKS}.yaml", 1, 1, "rule", TRICKS, TRICKS)])
    assert all(c.isprintable() or c == "\n" for c in text)
    assert len(text.splitlines()) == 2
    assert r"a\x1b[2Jb\u202ec\u2066d\re\x07" in text


def test_brackets_are_printed_as_they_are(ledger_factory: LedgerMaker, command: Program) -> None:
    """No markup is read into what a person wrote."""
    root = ledger_factory(replaced_in(ROUND, "by: rv", "by: [a, '[/x]']"))
    out = command("check", "--ledger", root).out
    assert "by must be text, found a list" in out
    root = ledger_factory(replaced_in(ROUND, "size: M", "size: '[/x]'"))
    assert "found [/x]" in command("check", "--ledger", root).out


@pytest.mark.parametrize(
    ("findings", "files", "line"),
    [
        ([], 0, "nothing found in 0 files"),
        ([], 1, "nothing found in 1 file"),
        (many_findings(1), 3, "1 error in 1 of 3 files"),
        (
            many_findings(2) + many_findings(1, "b", "warning") + many_findings(3, "c", "note"),
            9,
            "2 errors, 1 warning, 3 notes in 3 of 9 files",
        ),
    ],
)
def test_the_last_line_counts(findings: list[Finding], files: int, line: str) -> None:
    """Levels first, then files; what there is none of is left out."""
    assert findings_report.summary(findings, files) == line


def test_json_is_one_document_with_sorted_keys(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    """It names its schema, and holds all findings however many there are."""
    lines = "".join(f"  - {{piece: p{n}, size: Q, colour: black}}\n" for n in range(300))
    head = SMALL_LEDGER[ROUND].partition("pieces:")[0]
    ended = command(
        "check", "--json", "--ledger", ledger_factory({ROUND: f"{head}pieces:\n{lines}"})
    )
    data = json.loads(ended.out)
    assert data["schema"] == "blankbook/check/1"
    assert list(data) == sorted(data)
    assert all(list(finding) == sorted(finding) for finding in data["findings"])
    assert data["counts"] == {"error": 300, "note": 0, "warning": 0}
    assert len(data["findings"]) == 300
    assert data["findings"][0] == {
        "column": 23,
        "help": "the style's sizes are S, M, L",
        "level": "error",
        "line": 8,
        "message": "unknown size Q",
        "path": ROUND,
        "rule": "unknown-size",
    }


def test_annotations_are_escaped() -> None:
    """As the host's workflow commands want it: %, CR and LF everywhere, colon and comma in names.

    Source: the documentation of GitHub's workflow commands, from memory.
    """
    finding = Finding("a,b:c%.yaml", 2, 3, "rule", "50 %\n::error::x, y", "do: this")
    assert findings_report.as_annotations([finding], "l/") == (
        "::error file=l/a%2Cb%3Ac%25.yaml,line=2,col=3,title=rule"
        "::50 %25%0A::error::x, y (help: do: this)"
    )


def test_annotations_are_ten_of_a_kind_the_gravest_first() -> None:
    """A host drops more than that of a kind, so the rest is counted, and the counts are notices.

    Source of the ten: what the host's users report of it, from memory.
    """
    findings = (
        many_findings(12, level="note") + many_findings(3, level="warning") + many_findings(11)
    )
    lines = findings_report.as_annotations(findings).splitlines()
    kinds = [line.split(" ")[0].split("::")[1] for line in lines]
    assert kinds == ["error"] * 10 + ["notice"] + ["warning"] * 3 + ["notice"] * 9
    assert lines[10] == "::notice::1 more of level error"
    assert lines[-1] == "::notice::4 more of level note"


@pytest.mark.parametrize("notes", [0, 1, 8, 9, 10, 11, 300])
@pytest.mark.parametrize("others", [0, 10, 11])
def test_nothing_is_dropped_without_a_word(notes: int, others: int) -> None:
    """Whatever there is of each level, at most ten of a kind are listed, and all are counted."""
    findings = (
        many_findings(others)
        + many_findings(others, level="warning")
        + many_findings(notes, level="note")
    )
    lines = findings_report.as_annotations(findings).splitlines()
    counts = [line for line in lines if " more of level " in line]
    kinds = [line.removeprefix("::").partition(" ")[0].partition("::")[0] for line in lines]
    assert all(kinds.count(kind) <= 10 for kind in ("error", "warning", "notice"))
    left = sum(int(line.removeprefix("::notice::").split(" ")[0]) for line in counts)
    assert len(lines) - len(counts) + left == len(findings)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", 0),
        ("photos: [{file: a.png, shows: a}]\n", 1),
        ("note: 20 #1/2\n", 0),
    ],
)
@pytest.mark.parametrize("form", ["text", "json", "github"])
def test_the_exit_code_does_not_depend_on_the_form(
    text: str, code: int, form: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """0 where there is nothing or only notes, 1 where there is more."""
    root = ledger_factory(appended_to(ROUND, text))
    assert command("check", "--format", form, "--ledger", root).code == code


def test_a_warning_is_a_finding(ledger_factory: LedgerMaker, command: Program) -> None:
    """A reading that wants a second look ends in 1, until someone says that they looked."""
    slip = replaced_in(ROUND, "20 1/8", "30 1/8")
    assert command("check", "--ledger", ledger_factory(slip)).code == 1
    looked = slip[ROUND]
    assert isinstance(looked, str)
    looked = looked.replace("size: M", "size: M\n    confirmed: read twice")
    assert command("check", "--ledger", ledger_factory({ROUND: looked})).code == 0


def test_json_and_another_format_contradict_each_other(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    """That is wrong use, and nothing is printed as data."""
    ended = command("check", "--json", "--format", "github", "--ledger", ledger_factory())
    assert (ended.code, ended.out) == (2, "")


def test_the_same_bytes_whatever_the_seed_of_the_hash(
    ledger_factory: LedgerMaker, tmp_path: Path
) -> None:
    """Nothing in the output follows the order of a set."""
    faulty = {
        f"{FOLDER}/2024-05-{n:02}-x.yaml": f"style: s\nlot{n}: 1\nfoo: 2\n" for n in range(1, 9)
    }
    root = ledger_factory(faulty | replaced_in(ROUND, "colour: black", "cloor: b"))
    outputs = {
        subprocess.run(
            [sys.executable, "-m", "blankbook", "check", "--json", "--ledger", str(root)],
            env={"PYTHONHASHSEED": seed, "PATH": "", "HOME": str(tmp_path)},
            capture_output=True,
            check=False,
        ).stdout
        for seed in "012"
    }
    assert len(outputs) == 1
    assert len(json.loads(outputs.pop())["findings"]) > 20

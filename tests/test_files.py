"""The door to the file system: what is found in folders, what is refused, and results that stand whole."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from convert.errors import LimitExceeded, OutputRefused, UnreadableInput
from convert.files import find_files, read_bytes, write_file
from convert.limits import LIMITS


def _names(folder: Path) -> list[str]:
    return [str(file.path.relative_to(folder)) for file in find_files(str(folder))]


def test_a_folder_yields_its_patterns_in_order(tmp_path: Path) -> None:
    """All kinds, subfolders too, by name; other files and hidden ones are left alone."""
    for name in (
        "b/2.md",
        "b/1.txt",
        "a.pattern.yaml",
        "c.PATTERN.YML",
        "d.json",
        "e.yaml",
        "f.docx",
        ".git/x.md",
        ".y.md",
    ):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text("x")
    assert _names(tmp_path) == ["a.pattern.yaml", "c.PATTERN.YML", "d.json", "b/1.txt", "b/2.md"]


def test_links_that_lead_out_of_a_folder_are_passed_over(tmp_path: Path) -> None:
    """Neither a linked file nor a linked folder brings in what lies elsewhere; a link inside the folder is a file."""
    outside = tmp_path / "outside"
    inside = tmp_path / "inside"
    for folder in (outside, inside):
        folder.mkdir()
        (folder / "hat.md").write_text("x")
    (inside / "link.md").symlink_to(outside / "hat.md")
    (inside / "more").symlink_to(outside, target_is_directory=True)
    (inside / "same.md").symlink_to(inside / "hat.md")
    (inside / "gone.md").symlink_to(inside / "nowhere.md")
    assert _names(inside) == ["hat.md", "same.md"]


def test_a_folder_without_patterns_is_refused(tmp_path: Path) -> None:
    """Silence would look like success."""
    (tmp_path / "notes.docx").write_text("x")
    with pytest.raises(UnreadableInput, match="no patterns in this folder"):
        find_files(str(tmp_path))


@pytest.mark.parametrize("name", ["nowhere.md", "a\0b.md", "x" * 5000, ""], ids=["missing", "NUL", "long", "empty"])
def test_what_cannot_be_opened_is_said_so(name: str) -> None:
    """No name of a file breaks the program, in reading or in writing."""
    for file in find_files(name):
        with pytest.raises(UnreadableInput):
            read_bytes(file.path)
    with pytest.raises(OutputRefused):
        write_file(Path("no-such-folder", "x", name), b"x")


def test_a_file_larger_than_the_limit_is_not_read(tmp_path: Path) -> None:
    """The limit is exact: as many bytes pass, one more does not."""
    path = tmp_path / "big.txt"
    path.write_bytes(b"x" * LIMITS.bytes)
    assert len(read_bytes(path)) == LIMITS.bytes
    path.write_bytes(b"x" * (LIMITS.bytes + 1))
    with pytest.raises(LimitExceeded, match="larger than"):
        read_bytes(path)


def test_a_result_replaces_the_old_file_and_leaves_nothing_beside_it(tmp_path: Path) -> None:
    """The rights of the old file stay."""
    path = tmp_path / "hat.html"
    path.write_text("old")
    path.chmod(0o600)
    write_file(path, b"new")
    assert (path.read_bytes(), path.stat().st_mode & 0o777) == (b"new", 0o600)
    assert os.listdir(tmp_path) == ["hat.html"]


def test_when_writing_fails_the_old_file_is_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk in the middle of writing costs the new file, not the old one."""
    path = tmp_path / "hat.html"
    path.write_text("old")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputRefused, match=r"no space left on device\. What stood there is whole"):
        write_file(path, b"new")
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["hat.html"]


def test_the_input_is_never_overwritten(tmp_path: Path) -> None:
    """By whatever name it is reached."""
    path = tmp_path / "hat.md"
    path.write_text("pattern")
    (tmp_path / "other.md").symlink_to(path)
    for target in (path, tmp_path / "other.md", tmp_path / "." / "hat.md"):
        with pytest.raises(OutputRefused, match="the pattern that is read"):
            write_file(target, b"x", never=(path,))
    assert path.read_text() == "pattern"


def test_a_missing_folder_and_a_folder_as_target_are_refused(tmp_path: Path) -> None:
    """Folders are not made in passing, and not replaced."""
    with pytest.raises(OutputRefused, match="no folder"):
        write_file(tmp_path / "not" / "here.html", b"x")
    with pytest.raises(OutputRefused, match="a folder"):
        write_file(tmp_path, b"x")

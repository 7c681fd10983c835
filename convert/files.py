"""The door to the file system: finding pattern files, reading their bytes, and putting results in their place whole."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from msgspec import Struct

from convert.errors import LimitExceeded, OutputRefused, UnreadableInput
from convert.importers import ENDINGS
from convert.limits import LIMITS

_IN_FOLDERS = (".pattern.yaml", ".pattern.yml", ".md", ".txt", ".json")


class PatternFile(Struct, frozen=True):
    """A file to be read. `named` tells that the caller named it, `kind` is empty if its name does not tell."""

    path: Path
    kind: str
    named: bool


def kind_of(name: str) -> str:
    """The kind of pattern that a file of this name holds; empty if the name does not tell.

    >>> kind_of("hats/beanie.pattern.yaml"), kind_of("beanie.docx")
    ('yaml', '')
    """
    return ENDINGS.get(Path(name).suffix.lower(), "")


def find_files(name: str) -> tuple[PatternFile, ...]:
    """The file of this name or, if it is a folder's, all files in it that may hold patterns, by name.

    Hidden files and folders, and links that lead out of the folder, are passed over. Raises `UnreadableInput` for a
    folder that holds nothing to read.
    """
    path = Path(name)
    try:
        is_folder = bool(name) and path.is_dir()
    except (OSError, ValueError):  # a name too long, or with a character that no name may have
        is_folder = False
    if not is_folder:
        return (PatternFile(path, kind_of(name), named=True),)
    inside = tuple(PatternFile(file, kind_of(file.name), named=False) for file in _in_folder(path))
    if not inside:
        raise UnreadableInput("There are no patterns in this folder.", hint=_FOLDER_HINT)
    return inside


_FOLDER_HINT = (
    "Patterns are files named *.pattern.yaml, *.pattern.yml, *.md, *.txt or *.json. A file with another name has to be "
    "named itself."
)


def _in_folder(folder: Path) -> Iterator[Path]:
    root = folder.resolve()
    for here, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(files):
            path = Path(here, name)
            fitting = not name.startswith(".") and name.lower().endswith(_IN_FOLDERS)
            if fitting and path.resolve().is_relative_to(root) and path.is_file():
                yield path


def read_bytes(path: Path) -> bytes:
    """The content of a file. Raises `UnreadableInput` if it cannot be opened, `LimitExceeded` if it is too large."""
    try:
        with path.open("rb") as file:
            return within_limit(file.read(LIMITS.bytes + 1))
    except OSError as error:
        raise UnreadableInput(f"The file cannot be read: {_reason(error)}.") from error
    except ValueError as error:
        raise UnreadableInput("This is no name of a file.") from error


def beside(folder: Path, name: str) -> Path:
    """The file that a pattern in this folder names. Raises `UnreadableInput` unless it lies there or below.

    Links are followed first, so that none leads out.
    """
    try:
        path = Path(folder, name).resolve()
        inside = path.is_relative_to(folder.resolve()) and not Path(name).is_absolute()
        if not inside:
            raise UnreadableInput("it lies outside the folder of the pattern")
        if not path.is_file():
            raise UnreadableInput("there is no such file")
    except (OSError, ValueError, RuntimeError) as error:  # a name no file can have; links in a circle
        raise UnreadableInput("this is no name of a file") from error
    return path


def read_beside(folder: Path, name: str, most: int) -> bytes:
    """The content of a file that a pattern in this folder names, of at most so many bytes.

    Raises `UnreadableInput` and `LimitExceeded`.
    """
    try:
        with beside(folder, name).open("rb") as file:
            data = file.read(most + 1)
    except OSError as error:
        raise UnreadableInput(_reason(error)) from error
    if len(data) > most:
        raise LimitExceeded(f"it is larger than {most:,} bytes")
    return data


def within_limit(data: bytes) -> bytes:
    """The data itself, unless it is larger than an input may be."""
    if len(data) > LIMITS.bytes:
        raise LimitExceeded(
            f"The file is larger than {LIMITS.bytes:,} bytes, the most that is read of one pattern.",
            hint="Is it a pattern? If so, make each part a pattern of its own.",
        )
    return data


def write_file(path: Path, data: bytes, *, never: Sequence[Path] = ()) -> None:
    """Puts `data` at `path`, whole or not at all: a temporary file in the same folder takes the place of the old one.

    Raises `OutputRefused` if the folder is not there, the path is a folder or is one of the files in `never` (the
    input), or the disk refuses.
    """
    try:
        _refuse_harm(path, never)
        _replace(path, data)
    except (OSError, ValueError) as error:
        raise OutputRefused(f"The file cannot be written: {_reason(error)}. What stood there is whole.") from error


def same_folder(one: Path, other: Path) -> bool:
    """Whether two names are those of one folder."""
    return one.resolve() == other.resolve()


def write_beside(folder: Path, name: str, data: bytes) -> bool:
    """Puts a picture of a pattern into a folder or below it. False where another file has its place, which stays.

    Raises `OutputRefused` where the name leads out of the folder, or the disk refuses.
    """
    try:
        path = Path(folder, name).resolve()
        if not path.is_relative_to(folder.resolve()):
            raise OutputRefused(f"{name} lies outside the folder of the output.")
        if path.exists():
            return path.is_file() and path.read_bytes() == data
        path.parent.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError, RuntimeError) as error:
        raise OutputRefused(f"The picture {name} cannot be written: {_reason(error)}.") from error
    write_file(path, data)
    return True


def _replace(path: Path, data: bytes) -> None:
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(temporary).chmod(_mode(path))
        Path(temporary).replace(path)
    finally:
        with contextlib.suppress(FileNotFoundError):
            Path(temporary).unlink()


def _refuse_harm(path: Path, never: Sequence[Path]) -> None:
    if not path.parent.is_dir():
        raise OutputRefused(f"There is no folder {path.parent} to write it in.", hint="Make the folder first.")
    if path.is_dir():
        raise OutputRefused("This is a folder.", hint="Name the file that is to be written in it.")
    for other in never:
        if path.exists() and other.exists() and path.samefile(other):
            raise OutputRefused("This is the pattern that is read.", hint="Give the result a name of its own.")


def _mode(path: Path) -> int:
    """The rights of the file that is replaced, or those of a new file."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _reason(error: Exception) -> str:
    return (getattr(error, "strerror", None) or str(error)).lower()

"""Reading and writing the user's files: bounded, whole or not at all."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

from framecheck.errors import Fault, InputError

LARGEST_FILE = 1_000_000


def _refuse(path: str, fault: str, remedy: str) -> InputError:
    return InputError([Fault(path, "", fault, remedy)])


def read_text(path: str) -> str:
    """Return the text of a regular UTF-8 file of at most LARGEST_FILE bytes."""
    file = Path(path)
    try:
        if not file.exists():
            raise _refuse(path, "there is no such file", "check the name and the folder")
        if not file.is_file():
            raise _refuse(path, "is not a regular file", "give a case file (YAML text)")
        if file.stat().st_size > LARGEST_FILE:
            raise _refuse(path, f"is larger than {LARGEST_FILE // 1000} kB", "a case is a few pages; check the name")
        return file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise _refuse(path, "is not UTF-8 text", "save it as UTF-8") from None
    except (OSError, ValueError) as error:  # ValueError: a name with a null character
        why = error.strerror if isinstance(error, OSError) else "its name can't be one"
        raise _refuse(path[:200], f"can't be read ({why})", "check its name and permissions") from None


def write_whole(path: str, content: str | bytes) -> None:
    """Write a file so that it is there whole or, after any fault, as it was before. "-" is standard output."""
    data = content.encode("utf-8") if isinstance(content, str) else content
    if path == "-":
        sys.stdout.buffer.write(data)
        sys.stdout.flush()
        return
    try:
        target = Path(path).resolve()  # behind a link: the link stays
        if target.exists() and not target.is_file():
            target.write_bytes(data)  # a device or a pipe takes what it is given; nothing may be put in its place
        else:
            _replace(target, data)
    except (OSError, ValueError) as error:  # ValueError: a name with a null character
        why = error.strerror if isinstance(error, OSError) else "its name can't be one"
        raise _refuse(path[:200], f"can't be written ({why})", "choose a folder that can be written") from None


def write_folder(path: str, contents: Mapping[str, str]) -> None:
    """Write files by name into a folder, made where it is missing; each file is there whole or as it was before."""
    folder = Path(path)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        error = error if isinstance(error, OSError) else OSError(0, "its name can't be one")
        raise _refuse(
            path[:200], f"can't be made a folder ({error.strerror})", "choose another name or place"
        ) from None
    for name, content in contents.items():
        write_whole(str(folder / name), content)


def _replace(target: Path, data: bytes) -> None:
    """Write beside the target, flush to disk, then put in place in one step."""
    import tempfile  # takes longer than reading a case; only a run that writes needs it

    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, 0o644)
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise

"""A preview and a load told in sentences, as plain text, and for programs."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from gambrel.services.folder.load import LoadResult
from gambrel.services.folder.preview import FileCount, Preview
from gambrel.services.folder.refusals import RefusedLine


def load_sentence(result: LoadResult) -> str:
    """What came in."""
    added = ", ".join(f"{table} {count}" for table, count in result.added.items())
    parts = [f"Added rows: {added}."] if added else []
    if result.shop:
        parts.append("The shop's facts are new.")
    if not parts:
        parts.append("Nothing was new.")
    if result.finished:
        parts.append(f"Finished {_counted(result.finished, 'stage')}.")
    if same := sum(result.same.values()):
        parts.append(f"{_counted(same, 'row')} {_were(same)} there already.")
    return " ".join(parts)


def preview_sentence(preview: Preview) -> str:
    """What would change, and whether it can be taken in."""
    new = sum(count.new for count in preview.files)
    finished = sum(count.finished for count in preview.files)
    same = sum(count.same for count in preview.files)
    parts = [f"{_counted(new, 'row')} {_is(new)} new"]
    if finished:
        parts.append(f"{_counted(finished, 'open stage')} would be finished")
    if same:
        parts.append(f"{_counted(same, 'row')} {_is(same)} in the book already")
    if preview.refused:
        count = len(preview.refused)
        parts.append(f"{_counted(count, 'thing')} {_is(count)} wrong, so nothing can be taken in")
    elif not preview.new:
        return "All of it is in the book already, so there is nothing to take in."
    return f"{', '.join(parts)}."


def ignored_sentence(ignored: Iterable[str]) -> str:
    """Which files were not read; empty for none."""
    names = ", ".join(ignored)
    return f"Not read, since they are none of the files of this form: {names}." if names else ""


def refused_text(refused: Iterable[RefusedLine]) -> str:
    """Every refused line as ``file:line: column: what is wrong``, one below the other."""
    return "".join(f"{each.text}\n" for each in refused)


def preview_json(preview: Preview) -> dict[str, Any]:
    """``{"can_be_taken", "files", "new", "refused", "ignored"}``.

    ``files`` counts rows file by file as ``new``, ``finished``, ``same`` and ``refused``; ``new``
    are the rows that come in by ``file``, ``line`` and ``key``, ``finishes`` where one only
    finishes a stage of the book; ``refused`` are things that are wrong by ``file``, ``line`` (null
    for a whole file), ``column``, ``message``, and all of it as ``text``.
    """
    return {
        "can_be_taken": preview.can_be_taken,
        "files": [_file_json(count) for count in preview.files],
        "new": [
            {
                "file": row.file,
                "line": row.line or None,
                "key": row.name,
                "finishes": row.finishes,
            }
            for row in preview.new
        ],
        "refused": [
            {
                "file": each.file,
                "line": each.line or None,
                "column": each.column,
                "message": each.message,
                "text": each.text,
            }
            for each in preview.refused
        ],
        "ignored": list(preview.ignored),
    }


def _file_json(count: FileCount) -> dict[str, Any]:
    return {
        "file": count.file,
        "new": count.new,
        "finished": count.finished,
        "same": count.same,
        "refused": count.refused,
    }


def _counted(number: int, thing: str) -> str:
    return f"{number:,} {thing}" if number == 1 else f"{number:,} {thing}s"


def _is(number: int) -> str:
    return "is" if number == 1 else "are"


def _were(number: int) -> str:
    return "was" if number == 1 else "were"

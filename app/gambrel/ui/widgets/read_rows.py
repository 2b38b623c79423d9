"""How a table is read by finger and keyboard: whole rows, nothing to edit, Tab goes past it."""

from __future__ import annotations

from PySide6.QtWidgets import QAbstractItemView, QTableView


def read_in_rows(table: QTableView, *, row: int, head: int) -> None:
    """Let a table show rows to read and to choose.

    Args:
        table: A view that has its model.
        row: The height of a row in pixels.
        head: The least height of the heads.
    """
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setShowGrid(False)
    table.setTabKeyNavigation(False)  # Tab goes on to the next control, the arrows walk the rows
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(row)
    heads = table.horizontalHeader()
    heads.setMinimumHeight(head)
    heads.setSectionsClickable(False)
    heads.setHighlightSections(False)

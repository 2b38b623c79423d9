"""The scale's part of Setup: connects its page with the port and with what the station keeps."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from gambrel.devices.inbox import Heard
from gambrel.domain.bench.scale_setting import NO_SCALE, ScaleSetting
from gambrel.domain.bench.steady import LiveWeight
from gambrel.domain.refusals import Refusal
from gambrel.services.scales import keep_scale, scale_of
from gambrel.ui.context import Context
from gambrel.ui.scale.draft import changed, draft_of, setting_of
from gambrel.ui.scale.state import describe_form, describe_heard, describe_live
from gambrel.ui.scale.view import ScaleView

TRY_MS = 300
"""After the last change the scale is opened as the form has it; typing does not open it often."""


class ScaleSection(QWidget):
    """What is filled in is tried at once; Keep keeps it, and leaving the page puts it back."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self._kept: ScaleSetting | None = None
        self._draft = draft_of(NO_SCALE)
        self._ports: tuple[tuple[str, str], ...] = ()
        self._begun = False
        self._trouble = ""
        self._tried: ScaleSetting | None = None
        self.view = ScaleView(context.theme)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.view)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(TRY_MS)
        self._soon.timeout.connect(self._try)
        self._connect()

    def _connect(self) -> None:
        view, scale = self.view, self.context.scale
        view.form.changed.connect(self.change)
        view.form.ports_wanted.connect(self._look_for_ports)
        view.keep_wanted.connect(self.keep)
        view.leave_wanted.connect(self.put_back)
        view.ask_wanted.connect(scale.request)
        scale.reading.connect(self._show_live)
        scale.heard.connect(self._show_heard)

    def refresh(self) -> None:
        """Read what is kept; what is being changed stays as it is."""
        if self._begun:
            return
        self._begun = True
        try:
            self._kept = scale_of(self.context.book, self.context.station)
            self._draft = draft_of(self._kept)
        except Refusal as refusal:
            self._trouble = str(refusal)
        self._show_form()
        self._show_live(self.context.scale.live)
        self._show_heard(Heard())
        self._look_for_ports()

    def _look_for_ports(self) -> None:
        from gambrel.devices.serial_scale import serial_ports

        self.context.tasks.run_task(
            lambda: tuple((port.name, port.about) for port in serial_ports()),
            self._know_ports,
            self._no_ports,
        )

    def _know_ports(self, ports: tuple[tuple[str, str], ...]) -> None:
        self._ports = ports
        self._show_form()

    def _no_ports(self, error: Exception) -> None:
        self._trouble = self.tr("The ports of this machine could not be listed ({0}).").format(
            error
        )
        self._show_form()

    def change(self, name: str, value: str) -> None:
        """Change one field; what can be used is tried in a moment."""
        self._trouble = ""
        self._draft = changed(self._draft, name, value)
        self._show_form()
        self._soon.start()

    def _try(self) -> None:
        try:
            setting = setting_of(self._draft)
        except Refusal:
            return  # the form says it already
        if setting != self.context.scale.setting:
            self._open(setting)

    def _open(self, setting: ScaleSetting) -> None:
        self._tried = setting
        self._show_heard(Heard())
        self.context.scale.open(setting)
        self._show_live(self.context.scale.live)

    def keep(self) -> None:
        """Keep what is filled in for this station, and use it from now on."""
        self._soon.stop()
        try:
            setting = setting_of(self._draft)
            keep_scale(self.context.book, self.context.station, setting)
        except Refusal as refusal:
            self._trouble = str(refusal)
            self._show_form()
            return
        self._kept, self._trouble = setting, ""
        if setting != self.context.scale.setting:
            self._open(setting)
        self._tried = None
        self._show_form()

    def put_back(self) -> None:
        """Forget the changes, and go on with what is kept."""
        self._soon.stop()
        self._trouble = ""
        kept = self._kept or NO_SCALE
        self._draft = draft_of(kept)
        if self.context.scale.setting != kept:
            self._open(kept)
        self._tried = None
        self._show_form()

    def _show_form(self) -> None:
        state = describe_form(self._draft, self._kept, self._ports, self._trouble)
        self.view.show_form(state)

    def _show_live(self, live: LiveWeight) -> None:
        context = self.context
        asked = context.scale.asked_by_tap
        self.view.show_live(describe_live(live, context.formats, asked_by_tap=asked))

    def _show_heard(self, heard: Heard) -> None:
        told = describe_heard(heard.stream, heard.lines, heard.good, heard.bad, heard.total)
        self.view.show_heard(told)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.context.scale.listen(True)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if event.spontaneous():  # the window was only minimised
            return
        self._soon.stop()
        self.context.scale.listen(False)
        # Closing the window hides it first, and has let go of the scale.
        if self._tried is not None and self.window().isVisible():
            self.put_back()

"""What went into a blend: allergens in bold, lots and dates beneath."""

from __future__ import annotations

from gambrel.ui.theme import Theme
from gambrel.ui.tub.contents_state import ContentsText
from gambrel.ui.widgets.card import Card, label


class Contents(Card):
    """Shows a `ContentsText`."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.allergens = label(role="label", wrap=True)
        self.unknown = label(role="strong", wrap=True)
        self.lots = label(wrap=True)
        self.cautions = label(role="soft", wrap=True)
        for each in (self.allergens, self.unknown, self.lots, self.cautions):
            self.box.addWidget(each)
        self.box.addStretch(1)

    def show_state(self, state: ContentsText) -> None:
        """Show what is kept."""
        pairs = (
            (self.allergens, state.allergens),
            (self.unknown, state.unknown),
            (self.lots, state.lots),
            (self.cautions, state.cautions),
        )
        for line, text in pairs:
            line.setText(text)
            line.setVisible(bool(text))

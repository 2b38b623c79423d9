"""The window: the only folder that draws with Qt."""

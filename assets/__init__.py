"""What the program draws with: fonts, icons, body maps and the design tokens.

The folders hold data only and stand outside the layers: ui and reports may read them.

- ``fonts/``: IBM Plex Sans in three weights, files unchanged, with its licence (OFL 1.1).
- ``icons/``: line icons from Lucide (ISC), drawn in ``currentColor``, with their licence.
- ``maps/``: our own outlines of bodies, read by ``gambrel.domain.drawing.bodymap.read_map``.
- ``tokens.toml``: colours, sizes and spaces, read by ``gambrel.domain.drawing.tokens.read_tokens``.
"""

from importlib.resources import files

__all__ = ["data", "text"]


def data(name: str) -> bytes:
    """Return the bytes of one asset, named from this folder with ``/``: ``"icons/x.svg"``.

    Raises:
        FileNotFoundError: There is no asset of that name.
    """
    parts = name.split("/")
    if any(part in ("", ".", "..") or "\\" in part for part in parts):
        raise FileNotFoundError(f"There is no asset named {name!r}: names look like icons/x.svg.")
    place = files(__name__).joinpath(*parts)
    if not place.is_file():
        raise FileNotFoundError(
            f"There is no asset named {name!r}: it did not come with the program."
        )
    return place.read_bytes()


def text(name: str) -> str:
    """Return one asset as text (UTF-8); errors as for `data`."""
    return data(name).decode("utf-8")

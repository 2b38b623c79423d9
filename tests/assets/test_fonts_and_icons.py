"""The bundled files are what the screens and papers count on."""

from __future__ import annotations

import ast
import io
from importlib.resources import files
from xml.etree import ElementTree

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # fontTools has no types

from gambrel import assets

WEIGHTS = ("Regular", "SemiBold", "Bold")
ICONS = sorted(
    icon.name
    for icon in files("gambrel.assets").joinpath("icons").iterdir()
    if icon.name.endswith(".svg")
)


def signatures(source: str) -> set[str]:
    functions = [node for node in ast.parse(source).body if isinstance(node, ast.FunctionDef)]
    return {f"{each.name}({ast.unparse(each.args)})" for each in functions}


def test_the_stub_for_type_checkers_tells_what_the_code_has() -> None:
    stub = files("gambrel").joinpath("assets.pyi").read_text("utf-8")
    code = files("gambrel.assets").joinpath("__init__.py").read_text("utf-8")
    assert signatures(stub) == signatures(code) == {"data(name: str)", "text(name: str)"}


def font(weight: str) -> TTFont:
    return TTFont(io.BytesIO(assets.data(f"fonts/IBMPlexSans-{weight}.ttf")))


def advances(face: TTFont, letters: str) -> set[int]:
    glyphs = face.getBestCmap()
    return {face["hmtx"][glyphs[ord(letter)]][0] for letter in letters}


@pytest.mark.parametrize("weight", WEIGHTS)
def test_all_digits_share_one_width_so_that_columns_align(weight: str) -> None:
    assert advances(font(weight), "0123456789") == {600}


def test_the_width_check_can_fail() -> None:
    assert len(advances(font("Regular"), "iW")) == 2


@pytest.mark.parametrize("weight", WEIGHTS)
def test_fonts_may_be_embedded_and_draw_what_papers_write(weight: str) -> None:
    face = font(weight)
    assert face["OS/2"].fsType == 0
    assert "glyf" in face  # reportlab reads TrueType outlines only
    assert not set(map(ord, "éüß€½µ×−–…→‹›Ø\u00a0\u202f\u2019")) - set(face.getBestCmap())


def test_the_fonts_come_with_their_licence() -> None:
    licence = assets.text("fonts/LICENSE")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert 'Reserved Font Name "Plex"' in licence


@pytest.mark.parametrize("name", ICONS)
def test_every_icon_is_a_line_drawing_in_the_colour_of_the_text(name: str) -> None:
    source = assets.text(f"icons/{name}")
    root = ElementTree.fromstring(source)
    assert root.get("viewBox") == "0 0 24 24"
    assert root.get("stroke") == "currentColor"
    assert root.get("fill") == "none"
    assert "#" not in source, "a fixed colour would not follow the theme"
    assert len(root) > 0


def test_the_icons_come_with_their_licence() -> None:
    assert len(ICONS) > 30
    assert assets.text("icons/LICENSE").startswith("ISC License")


@pytest.mark.parametrize(
    "name", ["", "icons", "icons/none.svg", "../README.md", "/etc", "icons//x.svg", "icons\\x.svg"]
)
def test_a_name_that_is_no_asset_is_refused_by_name(name: str) -> None:
    with pytest.raises(FileNotFoundError, match="no asset named"):
        assets.data(name)

"""The shop's own picture: what is none is refused, and none is trusted before it is seen."""

from __future__ import annotations

import struct
import warnings
import zlib
from io import BytesIO

import pdfplumber
import pypdfium2
import pytest
from PIL import Image

from gambrel.domain.refusals import Refusal
from gambrel.reports.logo import read_logo
from gambrel.reports.papers import PAPERS, Paper
from gambrel.reports.tickets import draw_tickets
from tests.reports.reading import boxes_of, outside
from tests.reports.test_tickets import AUD, papers, places_of, ticket


@papers
def test_a_logo_stands_in_the_ticket_and_the_name_beside_it(paper: Paper) -> None:
    for size in ((400, 100), (100, 400)):
        logo = read_logo(picture(*size))
        named = ticket(name="Rolled lamb shoulder with garlic and mint")
        pdf = draw_tickets([named], paper, AUD, shop="Shop", logo=logo).pdf
        assert outside(pdf) == []
        places_of(pdf, paper)
        ((_, boxes),) = boxes_of(pdf)
        with pdfplumber.open(BytesIO(pdf)) as document:
            (drawn,) = document.pages[0].images
        assert abs(drawn["width"] / drawn["height"] - size[0] / size[1]) < 0.01
        for box in boxes:
            if len(box.what) == 1 and box.what.strip() and box.top < drawn["bottom"]:
                assert box.right < drawn["x0"] or box.bottom > drawn["bottom"]


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "not a PNG or JPEG"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "not a PNG or JPEG"),
        (b"%PDF-1.4", "not a PNG or JPEG"),
        (b"\x89PNG\r\n\x1a\n" + b"x" * 50, "not a PNG or JPEG"),
        (b"x" * 4_000_001, "4.0 MB"),
    ],
)
def test_a_logo_that_is_no_picture_is_refused(data: bytes, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        read_logo(data)


def test_a_broken_or_thin_logo_is_refused() -> None:
    whole = picture(300, 300)
    with pytest.raises(Refusal, match="damaged"):
        read_logo(whole[: len(whole) // 2])
    with pytest.raises(Refusal, match="1500 by 10 pixels, too thin"):
        read_logo(picture(1500, 10))


@pytest.mark.parametrize("side", [4001, 20_000])
def test_a_huge_logo_is_refused_by_its_size_before_it_is_unpacked(side: int) -> None:
    """Four hundred megapixels in 50 kB: what counts is what the file says of itself."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with pytest.raises(Refusal, match=f"{side} by {side} pixels; save it smaller"):
            read_logo(blank_png(side))


def blank_png(side: int) -> bytes:
    """A white picture of one bit a dot, packed row by row so that it is never whole in memory."""
    packer = zlib.compressobj(9)
    row = b"\0" + b"\xff" * ((side + 7) // 8)
    rows = b"".join(packer.compress(row) for _ in range(side)) + packer.flush()
    head = struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0)
    chunks = [(b"IHDR", head), (b"IDAT", rows), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in chunks
    )


def test_a_logo_is_no_finer_on_paper_than_a_printer_is() -> None:
    logo = read_logo(saved(Image.new("RGB", (3600, 1800), "navy"), "PNG"))
    assert logo.image.getSize() == (1200, 600)


def test_a_logo_lets_the_paper_through_and_keeps_the_colours_of_other_inks() -> None:
    clear = Image.new("RGBA", (40, 20), (200, 0, 0, 0))
    clear.paste((0, 80, 160, 255), (20, 0, 40, 20))
    inks = Image.new("CMYK", (40, 20), (255, 0, 255, 0))
    left, right = points_of(saved(clear, "PNG"))
    assert left == (255, 255, 255)
    assert right == (0, 80, 160)
    for red, green, blue in points_of(saved(inks, "JPEG")):
        assert green > 200
        assert max(red, blue) < 60


def test_a_photo_that_was_taken_sideways_stands_upright() -> None:
    turned = Image.Exif()
    turned[274] = 6  # the tag that says how a camera was held: a quarter turn
    assert read_logo(saved(Image.new("RGB", (200, 100)), "JPEG", exif=turned)).ratio == 0.5


def saved(image: Image.Image, kind: str, **options: object) -> bytes:
    out = BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def points_of(data: bytes) -> list[tuple[int, ...]]:
    """A logo's colour on paper near its left and its right end."""
    pdf = draw_tickets([ticket()], PAPERS["card-a6"], AUD, shop="Shop", logo=read_logo(data)).pdf
    with pdfplumber.open(BytesIO(pdf)) as document:
        (drawn,) = document.pages[0].images
    with pypdfium2.PdfDocument(pdf) as document:
        seen = document[0].render(scale=2).to_pil().convert("RGB")
    level = (drawn["top"] + drawn["bottom"]) / 2
    step = (drawn["x1"] - drawn["x0"]) / 8
    ends = (drawn["x0"] + step, drawn["x1"] - step)
    return [seen.getpixel((round(2 * x), round(2 * level))) for x in ends]


def picture(width: int, height: int) -> bytes:
    out = BytesIO()
    Image.effect_noise((width, height), 80).save(out, "PNG")
    return out.getvalue()

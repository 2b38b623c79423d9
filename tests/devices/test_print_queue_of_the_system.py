"""A real printing system (CUPS) on this machine, with queues of its own that write into files.

Wants `cupsd` and the filters that come beside it (Debian: cups, cups-client, cups-filters); where
they are missing these tests are skipped, and nothing is claimed of such a system.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import pypdfium2
import pytest
import zxingcpp

from gambrel.devices.pages import Pages
from tests.devices.papers import NUMBER, label, ruler
from tests.devices.test_pages import dark_runs

FILTERS = Path("/usr/lib/cups/filter/pdftopdf")
MISSING = (
    os.name == "nt" or not all(map(shutil.which, ("cupsd", "lpadmin"))) or not FILTERS.exists()
)
pytestmark = [
    pytest.mark.skipif(
        MISSING, reason="no cupsd with its filters here: check.py --long brings them"
    ),
    pytest.mark.skipif(os.name != "nt" and os.geteuid() != 0, reason="cupsd is started as root"),
]

SEND = """
import sys
from pathlib import Path
from threading import Thread
from PySide6.QtGui import QGuiApplication
from gambrel.devices.printer import Sending, SystemPrinters
from gambrel.domain.refusals import Refusal

app = QGuiApplication([])
name, pdf, copies, dpi = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])

def work():
    printers = SystemPrinters()
    try:
        print(*sorted(each.name for each in printers.at_hand()))
        printers.send(Sending(name, pdf.read_bytes(), "Test", copies, dpi), lambda *_: True)
        print("handed over")
    except Refusal as refusal:
        print(refusal)

thread = Thread(target=work)
thread.start()
thread.join()
"""

# What a driver says of its printer, in the form that the system reads (PPD 4.3). Made for this
# test: a label roll of any size, 203 dots an inch, that takes PDF as it leaves the filters.
DRIVER = """*PPD-Adobe: "4.3"
*FormatVersion: "4.3"
*FileVersion: "1.0"
*LanguageVersion: English
*LanguageEncoding: ISOLatin1
*PCFileName: "TEST.PPD"
*Manufacturer: "Test"
*Product: "(Test)"
*ModelName: "Test"
*ShortNickName: "Test"
*NickName: "Test"
*PSVersion: "(3010.000) 0"
*LanguageLevel: "3"
*ColorDevice: False
*DefaultColorSpace: Gray
*cupsVersion: 2.3
*cupsManualCopies: True
*cupsFilter2: "application/vnd.cups-pdf application/pdf 0 -"
*OpenUI *PageSize: PickOne
*DefaultPageSize: A4
*PageSize A4/A4: "<</PageSize[595 842]>>setpagedevice"
*CloseUI: *PageSize
*OpenUI *PageRegion: PickOne
*DefaultPageRegion: A4
*PageRegion A4/A4: "<</PageSize[595 842]>>setpagedevice"
*CloseUI: *PageRegion
*DefaultImageableArea: A4
*ImageableArea A4/A4: "0 0 595 842"
*DefaultPaperDimension: A4
*PaperDimension A4/A4: "595 842"
"""
ANY_SIZE = """*MaxMediaWidth: "600"
*MaxMediaHeight: "1000"
*HWMargins: 0 0 0 0
*CustomPageSize True: "pop pop pop <</PageSize[5 -2 roll]/ImagingBBox null>>setpagedevice"
*ParamCustomPageSize Width: 1 points 36 600
*ParamCustomPageSize Height: 2 points 36 1000
*ParamCustomPageSize WidthOffset: 3 points 0 0
*ParamCustomPageSize HeightOffset: 4 points 0 0
*ParamCustomPageSize Orientation: 5 int 0 3
"""


@dataclass(frozen=True)
class System:
    """A running printing system; ``out`` is where every queue writes."""

    root: Path

    @property
    def out(self) -> Path:
        return self.root / "printed"

    @property
    def surroundings(self) -> dict[str, str]:
        server = str(self.root / "sock")
        return os.environ | {"CUPS_SERVER": server, "QT_QPA_PLATFORM": "offscreen"}

    def run(self, *command: str) -> str:
        done = subprocess.run(
            command, env=self.surroundings, capture_output=True, text=True, check=False, timeout=30
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def add(self, name: str, driver: str) -> None:
        ppd = self.root / f"{name}.ppd"
        ppd.write_text(driver)
        self.run("lpadmin", "-p", name, "-E", "-v", f"file:{self.out}", "-P", str(ppd))

    def send(self, name: str, pdf: bytes, *, copies: int = 1, dpi: int = 203) -> list[str]:
        """Send from a process of its own, by our own code; what that process said."""
        paper = self.root / "paper.pdf"
        paper.write_bytes(pdf)
        self.out.write_bytes(b"")
        command = (sys.executable, "-c", SEND, name, str(paper), str(copies), str(dpi))
        return self.run(*command).splitlines()

    def came_out(self) -> bytes:
        """What the queue wrote, once it has nothing left to do."""
        for _ in range(300):
            if not self.run("lpstat", "-o") and (made := self.out.read_bytes()):
                return made
            time.sleep(0.05)  # the system is another process and tells nobody
        raise AssertionError("nothing was printed")


def configure(root: Path) -> None:
    """Write the least that the system wants: one socket, no log-ins, files as devices."""
    open_to_all = "Order allow,deny\n  Allow all"
    limits = f"<Limit All>\n  {open_to_all}\n</Limit>"
    (root / "cupsd.conf").write_text(
        f"Listen {root / 'sock'}\nBrowsing Off\nWebInterface No\nDefaultAuthType None\n"
        f"<Location />\n  {open_to_all}\n</Location>\n"
        f"<Location /admin>\n  {open_to_all}\n</Location>\n"
        f"<Policy default>\n{limits}\n</Policy>\n"
    )
    places = {"ServerRoot": "", "RequestRoot": "spool", "TempDir": "spool/tmp", "CacheDir": "cache"}
    places |= {"StateDir": "state", "AccessLog": "access", "ErrorLog": "error", "PageLog": "page"}
    lines = [f"{name} {root / place}" for name, place in places.items()]
    (root / "files.conf").write_text("\n".join(["FileDevice Yes", *lines, ""]))
    for folder in ("spool/tmp", "cache", "state"):
        (root / folder).mkdir(parents=True)
    (root / "printed").touch(0o666)


@pytest.fixture(scope="module")
def system() -> Iterator[System]:
    with TemporaryDirectory(prefix="q-") as folder:  # a short path: that of a socket has a limit
        root = Path(folder)
        root.chmod(0o755)
        configure(root)
        command = ["cupsd", "-f", "-c", str(root / "cupsd.conf"), "-s", str(root / "files.conf")]
        with subprocess.Popen(command) as process:
            made = System(root)
            try:
                for _ in range(100):
                    if (root / "sock").exists():
                        break
                    time.sleep(0.05)
                made.add("labels", DRIVER + ANY_SIZE)
                made.add("office", DRIVER)
                yield made
            finally:
                process.terminate()


@pytest.mark.parametrize("size", [(58, 40), (100, 60), (62.5, 33.3)])
def test_a_label_goes_through_the_system_at_its_true_size(
    system: System, size: tuple[float, float]
) -> None:
    at = (3.0, 11.0, size[0] - 4)
    assert system.send("labels", ruler(*size, at))[-1] == "handed over"
    with Pages(system.came_out()) as pages:
        image = pages.image(0, 203 / 25.4, smooth=False)
    runs = dark_runs(image, image.height() // 2)
    begins = [begin for begin, _ in runs]
    # The system may put the page down a few dots aside (parts of a point), never smaller.
    assert [begin - begins[0] for begin in begins] == pytest.approx(
        [(x - at[0]) * 8 for x in at], abs=1
    )
    assert abs(begins[0] - at[0] * 8) <= 4
    assert all(2 <= length <= 4 for _, length in runs)


def test_its_code_scans_and_copies_come_out(system: System) -> None:
    assert system.send("labels", label(), copies=3)[-1] == "handed over"
    document = pypdfium2.PdfDocument(system.came_out())
    assert len(document) == 3
    for page in document:
        picture = page.render(scale=203 / 72).to_pil()
        assert [code.text for code in zxingcpp.read_barcodes(picture)] == [NUMBER]


def test_every_printer_is_listed_and_a_sheet_fits_the_office(system: System) -> None:
    said = system.send("office", ruler(210, 297, (20, 190)), dpi=300)
    assert said == ["labels office", "handed over"]
    with Pages(system.came_out()) as pages:
        image = pages.image(0, 20, smooth=False)
    first, last = (begin / 20 for begin, _ in dark_runs(image, image.height() // 2))
    assert last - first == pytest.approx(170, abs=0.1)


def test_no_such_paper_no_such_printer_and_one_that_is_stopped(system: System) -> None:
    assert "no paper of 58 × 40 mm" in system.send("office", label())[-1]
    assert "not there any more" in system.send("attic", label())[-1]
    system.run("cupsdisable", "labels")
    try:
        assert "does not answer" in system.send("labels", label())[-1]
    finally:
        system.run("cupsenable", "labels")

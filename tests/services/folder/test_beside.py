"""People, recipes, labels and limits go into files and come back, with every fault named."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from gambrel.domain.prices.ticket_setting import (
    LARGEST_LOGO,
    TICKET_SETTING,
    TicketSetting,
    ticket_setting_text,
)
from gambrel.domain.refusals import RowsRefused
from gambrel.domain.trade.around import Person, RecipeLine
from gambrel.domain.trade.records import Void
from gambrel.services.books import Book
from gambrel.services.folder.beside import held_beside
from gambrel.services.folder.beside_forms import BESIDE
from gambrel.services.folder.load import check_folder, load_folder
from gambrel.services.folder.write import dump_folder
from tests.small_shop import write_shop

NewBook = Callable[[str], Book]

FILES = {
    "people.csv": "name\nAna\nJoss\n",
    "ingredients.csv": (
        "ingredient,name,price_per_kg,allergens\nrusk,Rusk,3.10,wheat\nsalt,Salt,1.20,\n"
    ),
    "lean_classes.csv": "cut,lean_percent\ntrim,78.5\n",
    "measured_lean.csv": (
        "piece,measured_at,lean_percent,person\nP2,2026-11-19T07:00:00+11:00,80,Ana\n"
    ),
    "ingredient_lots.csv": "stage,ingredient,lot,use_by\nS2,salt,L-7,2027-01-31\n",
    "recipes.csv": (
        "recipe,name,product,lean_least_percent,lean_most_percent,minutes_per_kg,note\n"
        "plain,Plain mince,mince,75,,0.5,twice through\n"
    ),
    "recipe_lines.csv": (
        "recipe,position,cut,ingredient,grams_per_kg\nplain,1,trim,,990\nplain,2,,salt,10\n"
    ),
    "labels.csv": 'cut,ingredients,allergens,storage,cooking\nmince,"Beef, salt",,Keep cold,Cook\n',
    "origins.csv": (
        "of,key,born,reared,slaughtered,abattoir,cut_in,plant\nsupplier,farm,A,A,A,12,A,34\n"
    ),
    "settings.csv": "name,value\ncountry,AU\n",
}


def write_beside(folder: Path, **changes: str) -> Path:
    write_shop(folder)
    for name, text in FILES.items():
        (folder / name).write_text(changes.get(name.partition(".")[0], text), encoding="utf-8")
    return folder


def test_every_file_is_tried() -> None:
    assert {form.file for form in BESIDE.values()} == set(FILES)


def test_all_come_back_as_they_were(new_book: NewBook, tmp_path: Path) -> None:
    first, second = new_book("first"), new_book("second")
    result = load_folder(first, write_beside(tmp_path / "in"))
    assert (result.added["recipe_lines"], result.added["people"]) == (2, 2)
    rows = dump_folder(first, tmp_path / "out")
    assert rows["recipe_lines"] == 2
    for name, text in FILES.items():
        assert (tmp_path / "out" / name).read_text(encoding="utf-8") == text
    load_folder(second, tmp_path / "out")
    with first.reading() as one, second.reading() as other:
        assert held_beside(one) == held_beside(other)


def test_loading_twice_adds_nothing(new_book: NewBook, tmp_path: Path) -> None:
    book = new_book("shop")
    folder = write_beside(tmp_path / "in")
    load_folder(book, folder)
    assert load_folder(book, folder).added == {}


def test_pins_and_what_is_a_stations_own_stay_in_the_book(
    new_book: NewBook, tmp_path: Path
) -> None:
    book = new_book("shop")
    load_folder(book, write_beside(tmp_path / "in"))
    with book.transaction() as work:
        work.put(Person("Ana", "scrypt$secret"))
        work.put(Person("Gone", active=False))
        work.set_setting("scale:bench-1", "secret")
    dump_folder(book, tmp_path / "out")
    told = "".join(path.read_text(encoding="utf-8") for path in (tmp_path / "out").iterdir())
    assert "secret" not in told
    assert "Gone" not in told


def test_what_belongs_to_a_cancelled_stage_is_not_told(new_book: NewBook, tmp_path: Path) -> None:
    book = new_book("shop")
    load_folder(book, write_beside(tmp_path / "in"))
    with book.transaction() as work:
        shop_stage = work.stage("S2")
        assert shop_stage is not None
        work.add([Void("P5", shop_stage.started_at)])
        work.cancel_stage("S2", shop_stage.started_at, "", "mistake")
    dump_folder(book, tmp_path / "out")
    assert not (tmp_path / "out" / "ingredient_lots.csv").exists()
    load_folder(new_book("other"), tmp_path / "out")


def test_a_line_more_for_a_recipe_of_the_book_is_refused(new_book: NewBook, tmp_path: Path) -> None:
    """The lines of a recipe make a kilo, so another one is always too much."""
    book = new_book("shop")
    load_folder(book, write_beside(tmp_path / "in"))
    more = tmp_path / "more"
    more.mkdir()
    header = FILES["recipe_lines.csv"].partition("\n")[0]
    (more / "recipe_lines.csv").write_text(f"{header}\nplain,3,,rusk,40\n", encoding="utf-8")
    with pytest.raises(RowsRefused, match=r"recipe_lines.csv:2: recipe: 'plain': .* 1040 g of a"):
        load_folder(book, more)
    with book.reading() as work:
        assert [line.position for line in work.every(RecipeLine)] == [1, 2]


def test_the_largest_logo_comes_back(new_book: NewBook, tmp_path: Path) -> None:
    book, other = new_book("shop"), new_book("other")
    load_folder(book, write_beside(tmp_path / "in"))
    kept = ticket_setting_text(TicketSetting(logo=bytes(range(250)) * (LARGEST_LOGO // 250)))
    with book.transaction() as work:
        work.set_setting(TICKET_SETTING, kept)
    dump_folder(book, tmp_path / "out")
    load_folder(other, tmp_path / "out")
    with other.reading() as work:
        assert work.setting(TICKET_SETTING) == kept


_RECIPES = "recipe,name,product,lean_least_percent,lean_most_percent,minutes_per_kg\n"
_LINES = "recipe,position,cut,ingredient,grams_per_kg\n"
_INGREDIENTS = "ingredient,name,price_per_kg,allergens\nrusk,Rusk,3.10,wheat\n"
BAD = [
    ("people", "name\nAna\nAna\n", "people.csv:3: name: 'Ana' is already on line 2"),
    ("lean_classes", "cut,lean_percent\nrumpp,50\n", "'rumpp' is not among the cuts"),
    ("lean_classes", "cut,lean_percent\ntrim,101\n", "101 is no per cent of lean"),
    ("measured_lean", "piece,measured_at,lean_percent\nP9,2026-11-19,80\n", "among the pieces"),
    ("ingredient_lots", "stage,ingredient,lot\nS9,salt,L\n", "'S9' is not among the stages"),
    ("recipes", "recipe,name,product\nplain,Plain,minze\n", "did you mean 'mince'"),
    (
        "recipe_lines",
        "recipe,position,cut,ingredient,grams_per_kg\nplain,1,trim,salt,990\n",
        "recipe_lines.csv:2: cut: expected either a cut or an ingredient",
    ),
    (
        "recipe_lines",
        "recipe,position,cut,ingredient,grams_per_kg\nplain,1,trim,,1001\n",
        "1001 g in a kilogram",
    ),
    (
        "recipe_lines",
        "recipe,position,cut,ingredient,grams_per_kg\nplane,1,,pepper,9\n",
        "'pepper' is not among the ingredients",
    ),
    ("lean_classes", "cut,lean_percent\ntrim,78.512\n", "to a hundredth"),
    ("lean_classes", "cut,lean_percent\nrump,78.5\n", "'rump' has no class of lean"),
    ("measured_lean", "piece,measured_at,lean_percent\nP2,2020-01-01,80\n", "not weighed yet then"),
    ("ingredient_lots", "stage,ingredient,lot\nS2,rusk,L\n", "'S2' took no 'rusk'"),
    ("ingredients", f"{_INGREDIENTS}salt,Salt,-1.20,\n", "ingredients.csv:3: price_per_kg: no"),
    ("ingredients", f"{_INGREDIENTS}salt,Salt,1.20,whaet\n", "Did you mean 'wheat'"),
    ("recipes", f"{_RECIPES}plain,Plain,mince,75,900,\n", "Lean lies between 0 and 100"),
    ("recipes", f"{_RECIPES}plain,Plain,mince,-5,,\n", "recipes.csv:2: recipe: 'plain': Lean"),
    ("recipes", f"{_RECIPES}plain,Plain,mince,90,80,\n", "least lean is above the most"),
    ("recipes", f"{_RECIPES}plain,Plain,mince,,,-5\n", "Correct the minutes"),
    ("recipes", f"{_RECIPES}plain,Plain,bone,,,\n", "makes a cut of the catalogue"),
    (
        "recipes",
        f"{_RECIPES}plain,Plain,mince,,,\nempty,Empty,mince,,,\n",
        "recipes.csv:3: recipe: 'empty': A recipe takes trim",
    ),
    (
        "recipes",
        f"{_RECIPES}plain,Plain,mince,,,\nagain,PLAIN,mince,,,\n",
        "recipes.csv:3: recipe: 'again': 'plain' has its name already",
    ),
    ("recipe_lines", f"{_LINES}plain,1,,salt,1000\n", "A recipe takes trim"),
    ("recipe_lines", f"{_LINES}plain,1,trim,,500\n", "500 g missing"),
    ("recipe_lines", f"{_LINES}plain,1,rump,,1000\n", "'rump' is no trim"),
    ("recipe_lines", f"{_LINES}plain,1,trim,,500\nplain,2,trim,,500\n", "stands in two lines"),
    ("recipe_lines", f"{_LINES}plain,-1,trim,,1000\n", "-1 is no place in a list"),
    ("settings", "name,value\ntrim-age-days,abc\n", "settings.csv:2: value: 'abc' is no number"),
    ("settings", "name,value\nbody_days,soon\n", "'soon' is not a limit in days"),
    ("settings", "name,value\ncountry,Ireland\n", "is no country code"),
    ("settings", "name,value\ntickets,{}\n", "cannot be read"),
    ("labels", "cut\nmints\n", "'mints' is not among the cuts"),
    ("origins", "of,key\nbody,HQ-9\n", "'HQ-9' is not among the bodies"),
    ("origins", "of,key\nfarm,HQ-1\n", "expected one of supplier, body"),
    ("settings", "name,wert\na,b\n", "wert"),
]


@pytest.mark.parametrize(("file", "text", "says"), BAD)
def test_what_cannot_be_is_refused_by_name_and_nothing_is_loaded(
    new_book: NewBook, tmp_path: Path, file: str, text: str, says: str
) -> None:
    book = new_book("shop")
    folder = write_beside(tmp_path / "in", **{file: text})
    for look in (lambda: load_folder(book, folder), lambda: check_folder(folder)):
        with pytest.raises(RowsRefused) as refused:
            look()
        assert says in str(refused.value)
    with book.reading() as work:
        assert work.shop() is None
        assert work.settings() == {}


def test_what_hangs_on_a_file_that_cannot_be_read_is_not_refused_as_well(
    tmp_path: Path,
) -> None:
    folder = write_beside(tmp_path / "in")
    (folder / "cuts.csv").write_bytes(b'"')
    (folder / "ingredients.csv").write_bytes(b'"')
    with pytest.raises(RowsRefused) as refused:
        check_folder(folder)
    files = [sentence.partition(":")[0] for sentence in refused.value.sentences]
    assert files == ["cuts.csv", "ingredients.csv"]


def test_other_content_is_refused(new_book: NewBook, tmp_path: Path) -> None:
    book = new_book("shop")
    load_folder(book, write_beside(tmp_path / "in"))
    dearer = FILES["ingredients.csv"].replace("3.10", "3.20")
    with pytest.raises(RowsRefused, match="'rusk' is in the book with other content"):
        load_folder(book, write_beside(tmp_path / "other", ingredients=dearer))

"""Who works in the shop, and their PINs where the shop wants them."""

from __future__ import annotations

from dataclasses import replace

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Person
from gambrel.domain.trade.pins import hashed_pin, pin_matches
from gambrel.services.books import Book

LONGEST_NAME = 40


def team(book: Book) -> list[Person]:
    """The people of the shop who still work there, by name."""
    with book.reading() as work:
        return [person for person in work.every(Person) if person.active]


def add_person(book: Book, name: str) -> Person:
    """Take someone into the team, or back into it.

    Raises:
        Refusal: No name, too long a one, or one that works here already.
    """
    name = " ".join(name.split())
    if not name:
        raise Refusal("A name is needed. Type the name as it stands on the roster.")
    if len(name) > LONGEST_NAME:
        raise Refusal(f"The name is longer than {LONGEST_NAME} letters. Shorten it.")
    with book.transaction() as work:
        found = work.every(Person, name=name)
        if found and found[0].active:
            raise Refusal(f"{name} is in the team already. Add a letter to tell two apart.")
        person = replace(found[0], active=True) if found else Person(name)
        work.put(person)
    return person


def retire_person(book: Book, name: str) -> Person:
    """Take someone off the team; what they weighed keeps their name.

    Returns:
        The person as they stood before, for `put_back_person`.
    Raises:
        Refusal: There is no such person.
    """
    with book.transaction() as work:
        person = _found(work.every(Person, name=name), name)
        work.put(replace(person, active=False, pin=""))
    return person


def put_back_person(book: Book, person: Person) -> None:
    """Let someone stand in the team as they stood before an act, their PIN too.

    Raises:
        Refusal: The book may not be written.
    """
    with book.transaction() as work:
        work.put(person)


def set_pin(book: Book, name: str, pin: str, salt: bytes) -> Person:
    """Give someone a PIN, or none with an empty one.

    Args:
        book: The shop's book.
        name: Whose it is.
        pin: Four to eight digits, or empty.
        salt: Random bytes (`gambrel.domain.trade.pins.SALT_BYTES`).
    Returns:
        The person as they stood before, for `put_back_person`.
    Raises:
        Refusal: There is no such person, or it is no PIN.
    """
    kept = hashed_pin(pin, salt) if pin else ""
    with book.transaction() as work:
        person = _found(work.every(Person, name=name), name)
        work.put(replace(person, pin=kept))
    return person


def needs_pin(book: Book, name: str) -> bool:
    """Whether someone is asked for a PIN; names that are not in the team are not."""
    with book.reading() as work:
        return any(person.pin for person in work.every(Person, name=name) if person.active)


def has_left(book: Book, name: str) -> bool:
    """Whether someone was in the team and is not any more; a name never in it has not left."""
    with book.reading() as work:
        return any(not person.active for person in work.every(Person, name=name))


def check_pin(book: Book, name: str, pin: str) -> bool:
    """Whether this is someone's PIN; True where none is wanted."""
    with book.reading() as work:
        found = [person for person in work.every(Person, name=name) if person.active]
    return all(pin_matches(person.pin, pin) for person in found if person.pin)


def _found(people: list[Person], name: str) -> Person:
    if not people or not people[0].active:
        raise Refusal(f"{name} is not in the team. Look at the list again.")
    return people[0]

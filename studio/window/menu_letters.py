"""The letters by which entries of a menu are taken: each has one of its own, underlined.

Words of the program bear theirs where they are written ("&Open…"). What a maker has named, and what
is offered only at times, gets one here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from studio.window.plain_label import on_button

_LONG_WORD = 3
"""Of shorter words, such as "a" or "of", nobody thinks first."""

_BEFORE = "1234567890ABCDEFGHIJKLMNOPQRSTUVWXYZ"
"""Put before a name whose own letters are all taken, or that has none."""


def with_letters(names: Sequence[str]) -> list[str]:
    """Names as a menu takes them: a letter of each is marked, no two alike, the first one or that
    of another word where it is free; an ampersand of a name stays one.

    As many get a letter of their own as can, whatever comes first. The others get a sign before
    them; past the 36th of those an entry has none.
    """
    owners = _matched([list(_letters(name)) for name in names])
    spots = {at: (name, spot) for at, name, spot in _spots(owners, names)}
    free = (sign for sign in _BEFORE if sign not in owners)
    told = []
    for at, name in enumerate(names):
        if at in spots:
            _, spot = spots[at]
            told.append(f"{on_button(name[:spot])}&{on_button(name[spot:])}")
        else:
            sign = next(free, "")
            told.append(f"&{sign}  {on_button(name)}" if sign else on_button(name))
    return told


def numbered(names: Sequence[str]) -> list[str]:
    """Names with their place before them, which is also the key of the first nine."""
    return [f"{'&' if at < 10 else ''}{at}  {on_button(name)}" for at, name in enumerate(names, 1)]


def _letters(name: str) -> Iterator[str]:
    """The letters that could stand for a name, the likeliest first, each once and large."""
    words = name.split()
    firsts = [word[0] for word in words if len(word) >= _LONG_WORD]
    likely = dict.fromkeys((*name[:1], *firsts, *name))
    large = (sign.upper() for sign in likely if sign.isalnum())
    # A letter that grows by being made large, as the German sharp s, is no key.
    yield from dict.fromkeys(sign for sign in large if len(sign) == 1 and ord(sign) < 0x10000)


def _matched(wanted: Sequence[Sequence[str]]) -> dict[str, int]:
    """Who gets which letter: by turns, the likeliest that is free; where none is, others give way
    to another of theirs (augmenting paths, as in any handbook on matching in bipartite graphs).
    """
    owners: dict[str, int] = {}

    def take(at: int, seen: set[str]) -> bool:
        free = next((sign for sign in wanted[at] if sign not in owners), None)
        if free is not None:
            owners[free] = at
            return True
        for sign in wanted[at]:
            if sign not in seen:
                seen.add(sign)
                if take(owners[sign], seen):
                    owners[sign] = at
                    return True
        return False

    for at in range(len(wanted)):
        take(at, set())
    return owners


def _spots(owners: dict[str, int], names: Sequence[str]) -> Iterator[tuple[int, str, int]]:
    """Where in each name its letter is marked: at the beginning of a word if there is one."""
    for sign, at in owners.items():
        name = names[at]
        places = [k for k, one in enumerate(name) if one.upper() == sign]
        yield at, name, next((k for k in places if k == 0 or name[k - 1] == " "), places[0])

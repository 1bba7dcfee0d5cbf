"""Which display code is meant by what somebody read off a machine."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from firstoff.search.normalise import fold, plate


def codes_read(shown: str, notations: Mapping[str, str]) -> tuple[str, ...]:
    """The ids of the codes that ``shown`` can be, in order; ``notations`` maps ids to codes as the machine shows them.

    Read as strictly as anything fits: an id itself; as shown, spaces aside; whatever the case; without accents, hyphens
    and dots and with O for 0. More than one where two codes are told apart by none of these; none where nothing fits.
    """
    if shown in notations:
        return (shown,)
    for read in _READINGS:
        wanted = read(shown)
        found = sorted(slug for slug, notation in notations.items() if wanted and read(notation) == wanted)
        if found:
            return tuple(found)
    return ()


def _without_spaces(text: str) -> str:
    return "".join(text.split())


def _any_case(text: str) -> str:
    return _without_spaces(text).casefold()


def _as_on_a_plate(text: str) -> str:
    return plate(_without_spaces(fold(text)))


_READINGS: tuple[Callable[[str], str], ...] = (_without_spaces, _any_case, _as_on_a_plate)

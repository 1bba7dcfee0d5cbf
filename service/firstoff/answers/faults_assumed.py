"""Faults that a request assumes, looked up; what is wrong with a question about energy, as an error of the service."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from firstoff.appliance.circuit import Circuit
from firstoff.energy.assume import Assumption, parsed
from firstoff.energy.errors import BadReading, Contradiction, UnknownSubject
from firstoff.errors import BadRequest, NotFound
from firstoff.search import near


def assumptions_of(circuit: Circuit, texts: Iterable[str]) -> list[Assumption]:
    """``kind:subject`` texts as assumptions, each once, in their order.

    :raises NotFound: a kind or subject is none there is; carries the nearest names.
    :raises BadRequest: it is not said what is assumed to be faulty.
    """
    with asked_rightly():
        return list(dict.fromkeys(parsed(text, circuit) for text in texts))


@contextmanager
def asked_rightly() -> Iterator[None]:
    """Errors of the energy room as errors of the service.

    :raises NotFound: an assumption is about something the circuit does not have.
    :raises BadRequest: the question contradicts itself, or nobody can take such a reading.
    """
    try:
        yield
    except UnknownSubject as error:
        raise NotFound(error.what, error.subject, near(error.subject, error.candidates, limit=3)) from error
    except Contradiction as error:
        raise BadRequest(str(error), mend="Assume faults that can be there together, each by name.") from error
    except BadReading as error:
        raise BadRequest(str(error), mend="Name two points of the model; a look at a component lists them.") from error

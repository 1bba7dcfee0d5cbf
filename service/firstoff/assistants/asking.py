"""What each tool takes, with the words that teach an assistant what to pass. Unknown arguments are refused."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from firstoff.answers.reading import ReadingRequest
from firstoff_contract.common import Answer
from firstoff_contract.diagnosis import DiagnosisRequest, MeterQuantity
from firstoff_contract.record import RecordRequest
from firstoff_contract.removal import PlanRequest

Name = Annotated[str, Field(min_length=1, max_length=200)]
Names = Annotated[list[Name], Field(max_length=1000)]
Symptoms = Annotated[list[Name], Field(max_length=50)]
Serial = Annotated[
    str | None,
    Field(
        max_length=64,
        description="Serial number off the rating plate. Leave it out where it is not known: where the answer depends "
        "on it you are told so, and which ranges differ. Never guess it.",
    ),
]
ModelName = Annotated[
    str,
    Field(
        min_length=1,
        max_length=100,
        description="The machine: its name, such as tgd27-460-s, or the number as it stands on the rating plate.",
    ),
]
Opened = Annotated[
    Names,
    Field(
        description="Devices that are open (plug pulled, breaker off, button off), by the names describe_machine lists."
    ),
]
Off = Annotated[
    Names, Field(description="What is off the machine: names of components, or of the removals that took them off.")
]
Released = Annotated[
    Names, Field(description="Capacitors that were discharged AND proved dead. Never list one that is only waited for.")
]
Assume = Annotated[
    Names,
    Field(
        description="Faults taken to be there, as kind:name, such as open:LINK, shorted:LINK, welded:DEVICE or "
        "open-neutral."
    ),
]


class OfMachine(Answer):
    """Whatever is asked about one machine."""

    model: ModelName
    serial: Serial = None


class Finding(Answer):
    query: str = Field(
        min_length=1,
        max_length=1000,
        description="In the customer's or technician's words; typing errors are forgiven.",
    )
    model: Annotated[str | None, Field(max_length=100, description="The machine in hand, where it is known.")] = None
    serial: Serial = None
    kind: Literal["symptom", "component", "code", "model"] | None = Field(
        default=None, description="One kind only; all where left out."
    )
    lang: str | None = Field(default=None, max_length=10, description="Language to answer in: en, es or de.")
    limit: int = Field(default=5, ge=1, le=50, description="How many hits at the most.")


class Parts(OfMachine):
    component: Name | None = Field(
        default=None, description="One component, to be told in full. Leave out for the list of all."
    )
    offset: int = Field(default=0, ge=0, le=1_000_000, description="How many of the list to pass over.")
    limit: int = Field(default=200, ge=1, le=200, description="How many of the list to give.")


class Planning(OfMachine, PlanRequest):
    """A plan's request, with the machine."""


class Liveness(OfMachine):
    opened: Opened = Field(default=[])
    off: Off = Field(default=[])
    released: Released = Field(default=[])
    at: Names = Field(default=[], description="Points, or components with points, to show; all where left out.")
    assume: Assume = Field(default=[])
    worst: bool = Field(
        default=False, description="True for the worst state of each point over no fault and every single fault."
    )


class Touching(OfMachine):
    touch: Names = Field(min_length=1, description="Points or components that a hand or a probe is to touch.")


class Diagnosing(OfMachine, DiagnosisRequest):
    """What was found, with the machine."""


class Carrying(OfMachine):
    symptoms: Symptoms = Field(default=[], description="Symptoms, by name or in the customer's words.")
    parts: int = Field(default=3, ge=0, le=10, description="How many parts at the most.")


class Code(OfMachine):
    code: Name = Field(description="As the machine shows it, such as E4; spaces, case and hyphens are forgiven.")


class Metering(OfMachine):
    between: Annotated[list[Name], Field(min_length=2, max_length=2)] = Field(
        description="The two points the probes go to, the red one first."
    )
    quantity: MeterQuantity = Field(default="voltage", description="What is measured.")
    opened: Opened = Field(default=[])
    actuated: Names = Field(
        default=[], description="Devices whose changeover contact is thrown over: door shut, motor at speed."
    )
    off: Off = Field(default=[])
    released: Released = Field(default=[])
    assume: Assume = Field(default=[])
    celsius: float | None = Field(default=None, ge=-60, le=300, description="Temperature of the parts; 20 if left out.")
    measured: str | None = Field(
        default=None, max_length=40, description="What the meter shows, such as 230, 12.4 kohm or OL."
    )

    def request(self) -> ReadingRequest:
        """The same as the desk takes it."""
        return ReadingRequest(
            between=tuple(self.between),
            quantity=self.quantity,
            opened=tuple(self.opened),
            actuated=tuple(self.actuated),
            off=tuple(self.off),
            released=tuple(self.released),
            assume=tuple(self.assume),
            celsius=self.celsius,
            measured=self.measured,
            serial=self.serial,
        )


class Recording(OfMachine, RecordRequest):
    """The readings and confirmations that end a job, with the machine."""

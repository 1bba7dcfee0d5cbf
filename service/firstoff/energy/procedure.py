"""Making safe and restoring in the order of 29 CFR 1910.147: what a plan does, as the procedure it has to follow.

(d): prepare, tell people, shut down, isolate, lock or tag, release stored energy, verify, then work. (e): inspect,
clear people, take the locks off, tell people, restore. (f)(1): for a test with the supply on the machine is cleared
and restored, and made safe again by the whole of (d). (a)(2)(iii)(A): a plug that stays under the sole control of the
one who works needs no lock; what is stored is released all the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import groupby

from firstoff.appliance.circuit import Device

PLUG = "plug"
"""Slug of the device kind of a plug that is drawn from its socket."""

_STANDARD = "29 CFR 1910.147"
_TAG = "hang a tag with your name, the date and what is being done"
_SECOND_MEASURE = (
    "take out a fuse of the same circuit, block the handle or open a second isolating device as well, "
    "and prove dead again after every break"
)


class Stage(StrEnum):
    """What a step of the procedure is."""

    PREPARE = "prepare"
    TELL = "tell"
    SHUT_DOWN = "shut_down"
    GET_AT = "get_at"
    ISOLATE = "isolate"
    LOCK = "lock_and_tag"
    RELEASE = "release"
    VERIFY = "verify"
    WORK = "work"
    INSPECT = "inspect"
    CLEAR = "clear_people"
    UNLOCK = "take_locks_off"
    RESTORE = "restore"
    READ = "read_hands_off"


class Part(StrEnum):
    """Which part of the procedure a step belongs to."""

    MAKE_SAFE = "make_safe"
    WORK = "work"
    LIVE_TEST = "live_test"
    RESTORE = "restore"


class Deed(StrEnum):
    """What an act of a plan is, as far as the procedure goes."""

    ISOLATE = "isolate"
    PROVE = "prove"
    RELEASE = "release"
    WORK = "work"
    INSPECT = "inspect"
    RESTORE = "restore"
    READ = "read"


@dataclass(frozen=True, slots=True)
class PlanAct:
    """An act of a plan: ``number`` is any that tells it from the others, ``text`` what is done.

    ``devices`` are those that an act of isolating opens, or one of restoring closes. ``verify`` says how it is seen
    that a released energy is gone, ``returns`` that it may build up again. ``competence`` is who alone may do it.
    """

    number: int
    deed: Deed
    text: str
    devices: tuple[Device, ...] = ()
    verify: str = ""
    returns: bool = False
    competence: str | None = None


@dataclass(frozen=True, slots=True)
class ProcedureStep:
    """One step: ``acts`` are the acts of the plan it stands for, ``clause`` where its place is from (work has none)."""

    stage: Stage
    part: Part
    text: str
    clause: str | None
    devices: tuple[str, ...] = ()
    acts: tuple[int, ...] = ()
    competence: str | None = None


def procedure(
    acts: Sequence[PlanAct], energies: Sequence[str], open_already: Sequence[Device] = ()
) -> tuple[ProcedureStep, ...]:
    """The acts of a plan with all that 29 CFR 1910.147 puts before, between and after them.

    ``energies`` says in words what there is to make safe; ``open_already`` are the isolating devices that are open at
    the start. Without an act that isolates, restores, releases or proves dead there is no procedure: the work alone.
    """
    if not open_already and all(act.deed in (Deed.WORK, Deed.INSPECT) for act in acts):
        return tuple(step for deed, run, _ in _runs(acts) for step in _told(deed, run, ()))
    steps = [_step(Stage.PREPARE, _known(energies), "(d)(1)"), _step(Stage.TELL, _TELL_BEFORE, "(c)(9)")]
    steps += _still_open(open_already)
    before, reaching, rest = (acts[:0], acts[:0], acts) if open_already else _until_isolated(acts)
    for deed, run, later in _runs(before):
        steps += _told(deed, run, later)
    if rest and rest[0].deed is Deed.ISOLATE:
        steps.append(_step(Stage.SHUT_DOWN, _SHUT_DOWN, "(d)(2)"))
        steps += [_of(act, Stage.GET_AT, Part.MAKE_SAFE, "(d)(3)") for act in reaching]
    for deed, run, later in _runs(rest):
        steps += _told(deed, run, later)
    return tuple(steps)


def _until_isolated(acts: Sequence[PlanAct]) -> tuple[Sequence[PlanAct], Sequence[PlanAct], Sequence[PlanAct]]:
    """What is done with the supply on, the work right before the first act that isolates, and all from that act on."""
    first = next((index for index, act in enumerate(acts) if act.deed is Deed.ISOLATE), None)
    if first is None:
        return acts[:0], acts[:0], acts
    begins = first
    while begins and acts[begins - 1].deed is Deed.WORK:
        begins -= 1
    return acts[:begins], acts[begins:first], acts[first:]


def _runs(acts: Sequence[PlanAct]) -> Iterator[tuple[Deed, list[PlanAct], Sequence[PlanAct]]]:
    """Runs of acts of the same deed, each with the acts behind it."""
    behind = 0
    for deed, run in groupby(acts, key=lambda act: act.deed):
        members = list(run)
        behind += len(members)
        yield deed, members, acts[behind:]


def sole_control(devices: Iterable[Device], energies_isolated: Iterable[str]) -> bool:
    """Whether keeping the plug in hand will do instead of a lock: plugs alone are opened, for electricity alone."""
    opened = list(devices)
    return bool(opened) and all(each.kind.id == PLUG for each in opened) and set(energies_isolated) <= {"mains"}


_TELL_BEFORE = (
    "Tell everyone who uses the machine, or could switch its supply back on, that it is being made safe, and that they "
    "leave plug, switches and valves alone until you say so."
)
_SHUT_DOWN = "Shut the machine down in the ordinary way: end the programme and wait until it stands still."
_INSPECT = "See that tools, leads and loose parts are out of the machine, and that guards and earth wires are in place."
_CLEAR = "See that nobody has a hand in the machine or stands where it could hurt them."
_TELL_AFTER = "Tell those who were told before that the supply is coming back."


def _step(stage: Stage, text: str, clause: str, part: Part = Part.MAKE_SAFE) -> ProcedureStep:
    return ProcedureStep(stage, part, text, _STANDARD + clause)


def _of(act: PlanAct, stage: Stage, part: Part, clause: str) -> ProcedureStep:
    devices = tuple(device.id for device in act.devices)
    return ProcedureStep(stage, part, act.text, _STANDARD + clause, devices, (act.number,), act.competence)


def _known(energies: Sequence[str]) -> str:
    if not energies:
        return "Nothing is known of the energies in this machine: treat everything as live."
    return f"Know what has to be made safe: {'; '.join(energies)}. What is unknown is treated as live."


def _still_open(devices: Sequence[Device]) -> list[ProcedureStep]:
    """Where the machine was found isolated, nobody vouches for it: look, lock, and go on by proving dead."""
    steps = []
    for device in devices:
        text = f"See for yourself that the {device.label} is open; do not take anyone's word for it."
        steps.append(ProcedureStep(Stage.ISOLATE, Part.MAKE_SAFE, text, f"{_STANDARD}(d)(3)", (device.id,)))
    return steps + [_locked(device) for device in devices]


def _locked(device: Device) -> ProcedureStep:
    label = device.label
    if device.kind.id == PLUG:
        clause = "(a)(2)(iii)(A)"
        held = "put it in a lock bag" if device.lockable else "tie a tag to it"
        text = (
            f"Keep the {label} in your sight and within your reach as long as you work: under your sole control it "
            f"needs no lock. Where you cannot, {held} and {_TAG}. The plug does nothing about what is stored in the "
            "machine."
        )
    elif device.lockable:
        clause = "(d)(4)"
        text = f"Fit your own lock to the {label}, keep the key on you, and {_TAG}."
    elif device.lockable is False:
        clause = "(c)(3)(ii)"
        text = f"The {label} takes no lock: {_TAG}, and {_SECOND_MEASURE}."
    else:
        clause = "(d)(4)"
        text = (
            f"Look whether the {label} takes a lock. If it does, fit your own, keep the key on you, and {_TAG}. "
            f"If it does not, {_TAG}, and {_SECOND_MEASURE}."
        )
    return ProcedureStep(Stage.LOCK, Part.MAKE_SAFE, text, _STANDARD + clause, (device.id,))


def _told(deed: Deed, acts: list[PlanAct], later: Sequence[PlanAct]) -> Iterator[ProcedureStep]:
    """The steps for a run of acts of one deed; ``later`` are the acts behind them."""
    if deed is Deed.ISOLATE:
        yield from (_of(act, Stage.ISOLATE, Part.MAKE_SAFE, "(d)(3)") for act in acts)
        opened = {device.id: device for act in acts for device in act.devices}
        yield from (_locked(device) for device in opened.values())
    elif deed is Deed.PROVE:
        yield from (_of(act, Stage.VERIFY, Part.MAKE_SAFE, "(d)(6)") for act in acts)
    elif deed is Deed.RELEASE:
        for act in acts:
            yield _of(act, Stage.RELEASE, Part.MAKE_SAFE, "(d)(5)(i)")
            again = " It may build up again: verify again after every break." if act.returns else ""
            clause = "(d)(5)(ii)" if act.returns else "(d)(6)"
            verify = act.verify or "See that it is gone before a hand goes in."
            yield ProcedureStep(Stage.VERIFY, Part.MAKE_SAFE, verify + again, _STANDARD + clause, (), (act.number,))
    elif deed is Deed.RESTORE:
        yield from _restored(acts, _is_test(later))
    elif deed is Deed.READ:
        yield from (_of(act, Stage.READ, Part.LIVE_TEST, "(f)(1)(iv)") for act in acts)
    elif deed is Deed.INSPECT:
        test = bool(later) and later[0].deed is Deed.RESTORE and _is_test(later[1:])
        part, clause = (Part.LIVE_TEST, "(f)(1)(i)") if test else (Part.RESTORE, "(e)(1)")
        yield from (_of(act, Stage.INSPECT, part, clause) for act in acts)
    else:
        text = "; ".join(dict.fromkeys(act.text for act in acts))
        yield ProcedureStep(Stage.WORK, Part.WORK, text, None, (), tuple(act.number for act in acts))


def _is_test(later: Sequence[PlanAct]) -> bool:
    """Whether a reading is taken before the supply goes off again."""
    for act in later:
        if act.deed in (Deed.READ, Deed.ISOLATE):
            return act.deed is Deed.READ
    return False


def _restored(acts: list[PlanAct], for_test: bool) -> Iterator[ProcedureStep]:
    part = Part.LIVE_TEST if for_test else Part.RESTORE
    clauses = ("(f)(1)(i)", "(f)(1)(ii)", "(f)(1)(iii)", "(f)(1)(ii)", "(f)(1)(iv)")
    if not for_test:
        clauses = ("(e)(1)", "(e)(2)(i)", "(e)(3)", "(e)(2)(ii)", "(e)")
    yield _step(Stage.INSPECT, _INSPECT, clauses[0], part)
    yield _step(Stage.CLEAR, _CLEAR, clauses[1], part)
    for device in {device.id: device for act in acts for device in act.devices}.values():
        text = f"Take your lock and tag off the {device.label}; nobody else does that for you."
        yield ProcedureStep(Stage.UNLOCK, part, text, _STANDARD + clauses[2], (device.id,))
    yield _step(Stage.TELL, _TELL_AFTER, clauses[3], part)
    yield from (_of(act, Stage.RESTORE, part, clauses[4]) for act in acts)

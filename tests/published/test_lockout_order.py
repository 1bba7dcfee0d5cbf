"""The order of making safe and of restoring, against the paragraphs of 29 CFR 1910.147.

Source: 29 CFR 1910.147, Control of hazardous energy (lockout/tagout), paragraphs (a)(2)(iii)(A), (c)(9), (d)(1) to
(d)(6), (e)(1) to (e)(3), (f)(1)(i) to (v), as quoted in secondary texts.
"""

from __future__ import annotations

import re

from firstoff.answers.desk import Desk
from firstoff_contract.procedure import Procedure, ProcedureNote
from firstoff_contract.removal import PlanRequest

#: What each paragraph orders. (c)(9): those affected are told before controls are applied and after they are off.
PARAGRAPHS = {
    "prepare": {"(d)(1)"},
    "tell": {"(c)(9)", "(e)(2)(ii)", "(f)(1)(ii)"},
    "shut_down": {"(d)(2)"},
    "get_at": {"(d)(3)"},
    "isolate": {"(d)(3)"},
    "lock_and_tag": {"(d)(4)", "(c)(3)(ii)", "(a)(2)(iii)(A)"},
    "release": {"(d)(5)(i)"},
    "verify": {"(d)(6)", "(d)(5)(ii)"},
    "inspect": {"(e)(1)", "(f)(1)(i)"},
    "clear_people": {"(e)(2)(i)", "(f)(1)(ii)"},
    "take_locks_off": {"(e)(3)", "(f)(1)(iii)"},
    "restore": {"(e)", "(f)(1)(iv)"},
    "read_hands_off": {"(f)(1)(iv)"},
}


def asked(desk: Desk, model: str, *reach: str) -> Procedure:
    return desk.make_safe(model, PlanRequest(reach=list(reach), serial="1"))


def paragraph(step: ProcedureNote) -> str:
    assert step.clause is not None
    found = re.fullmatch(r"29 CFR 1910\.147(.+)", step.clause)
    assert found is not None
    return found[1]


def test_every_step_names_the_paragraph_that_orders_it(desk: Desk) -> None:
    for model, target in (("tgd27-460-s", "terminal-block:live-test"), ("flb-316-k", "compressor")):
        for step in asked(desk, model, target).steps:
            if step.stage == "work":
                assert step.clause is None
            else:
                assert paragraph(step) in PARAGRAPHS[step.stage], step


def test_paragraph_d_in_its_order(desk: Desk) -> None:
    """(d)(1), (2), (3), (4), (5), (6) for the first time each; work after all that come before it."""
    steps = asked(desk, "flb-316-k", "compressor").steps
    first: dict[str, int] = {}
    for step in steps:
        first.setdefault(step.stage, step.n)
    assert first["prepare"] < first["tell"] < first["shut_down"] < first["isolate"] < first["lock_and_tag"]
    assert first["lock_and_tag"] < first["verify"] < first["work"]
    assert first["lock_and_tag"] < first["release"]


def test_paragraph_e_in_its_order(desk: Desk) -> None:
    steps = [step for step in asked(desk, "flb-316-k", "compressor").steps if step.part == "restore"]
    told = [paragraph(step) for step in steps]
    assert told == sorted(told, key=["(e)(1)", "(e)(2)(i)", "(e)(3)", "(e)(2)(ii)", "(e)"].index)
    assert set(told) == {"(e)(1)", "(e)(2)(i)", "(e)(3)", "(e)(2)(ii)", "(e)"}


def test_paragraph_f_a_test_clears_restores_and_makes_safe_again(desk: Desk) -> None:
    steps = asked(desk, "tgd27-460-s", "terminal-block:live-test").steps
    test = [step for step in steps if step.part == "live_test"]
    after = steps[test[-1].n]
    assert [step.stage for step in test[-6:]] == [
        "inspect", "clear_people", "take_locks_off", "tell", "restore", "read_hands_off",
    ]  # fmt: skip
    assert [each.stage for each in steps[after.n - 1 : after.n + 2]] == ["isolate", "lock_and_tag", "verify"]


def test_the_plug_in_hand(desk: Desk) -> None:
    """(a)(2)(iii)(A): under the sole control of the one who works; not enough while a capacitor holds charge."""
    found = asked(desk, "tgd27-460-s", "drum-belt")
    assert found.sole_control.will_do
    assert found.sole_control.clause == "29 CFR 1910.147(a)(2)(iii)(A)"
    assert "not enough while a capacitor holds charge" in found.sole_control.text

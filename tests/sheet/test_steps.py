"""Steps as the sheet prints them: cautions once in full, points within reach in few words, torques where they count."""

from __future__ import annotations

from firstoff.sheet.steps import Reach, Told, instruction_of_most, lines_of
from firstoff_contract.common import CautionNote, Condition, Ref
from firstoff_contract.removal import Action, ConnectionNote, Exposure, FasteningNote, Step

LIFT = CautionNote(id="lift", signal_word="CAUTION", hazard="weight", text="It is heavy.", protection="Lift by two.")


def step(n: int, action: Action = "remove", **more: object) -> Step:
    given = {"label": f"step {n}", "instruction": "", "needed_for": [], "minutes": 1.0, "component": None}
    return Step.model_validate({"n": n, "action": action, **given, **more})


def exposed(count: int, state: Condition, volts: float | None = None) -> list[Exposure]:
    return [Exposure(id=f"t{n}", label=f"tag {n}", state=state, volts=volts) for n in range(count)]


def reach(*steps: Step) -> list[tuple[Reach, ...]]:
    return [line.reach for line in lines_of(steps, [], Told(), why=False)]


def test_a_caution_is_said_in_full_once_and_pointed_to_after() -> None:
    out = [step(1, cautions=[LIFT]), step(2, cautions=[LIFT])]
    first, second = lines_of(out, [], Told(), why=False)
    assert (first.cautions, first.again) == ((LIFT,), ())
    assert (second.cautions, second.again) == ((), ((LIFT, 1),))
    back = lines_of([step(1, "refit", cautions=[LIFT]), step(2, "refit", cautions=[LIFT])], out, Told(), why=False)
    assert [line.again for line in back] == [((LIFT, None),), ((LIFT, 1),)]


def test_a_caution_of_the_same_name_with_another_text_is_another() -> None:
    other = LIFT.model_copy(update={"text": "It is wet."})
    first, second = lines_of([step(1, cautions=[LIFT]), step(2, cautions=[other])], [], Told(), why=False)
    assert second.cautions == (other,)
    assert first.cautions == (LIFT,)


def test_cautions_told_before_all_steps_are_not_told_in_full_again() -> None:
    (line,) = lines_of([step(1, cautions=[LIFT])], [], Told((LIFT,)), why=False)
    assert (line.cautions, line.again) == ((), ((LIFT, None),))


def test_unsafe_points_are_all_named_and_the_worst_come_first() -> None:
    points = [*exposed(7, "live", 187.4), Exposure(id="u", label="loose wire", state="unknown")]
    (found,) = reach(step(1, exposes=points))
    assert found == (
        Reach("LIVE, up to 187.4 V", "; ".join(f"tag {n}" for n in range(7)), safe=False),
        Reach("UNKNOWN, treat as live", "loose wire", safe=False),
    )


def test_the_same_points_are_not_listed_again() -> None:
    found = reach(
        step(1, exposes=exposed(4, "live", 187)),
        step(2),
        step(3, exposes=exposed(4, "live", 187)),
        step(4, exposes=exposed(4, "isolated")),
    )
    assert found[2] == (Reach("still LIVE, up to 187 V", "the points listed at step 1", safe=False),)
    assert found[3] == (Reach("now isolated", "the points listed at step 1", safe=True),)


def test_points_partly_made_safe_are_listed() -> None:
    mixed = [*exposed(3, "isolated")[:2], *exposed(3, "live")[2:]]
    found = reach(step(1, exposes=exposed(3, "live")), step(2, exposes=mixed))
    assert found[1] == (Reach("LIVE", "tag 2", safe=False), Reach("isolated", "tag 0; tag 1", safe=True))


def test_isolated_points_that_are_measured_anyway_are_counted() -> None:
    one = step(1, exposes=exposed(9, "isolated"))
    measured = frozenset(f"t{n}" for n in range(9))
    (line,) = lines_of([one], [], Told(points=measured), why=False)
    assert line.reach == (Reach("isolated", "tag 0; tag 1; tag 2; tag 3 and 5 more under Make safe", safe=True),)
    (line,) = lines_of([one], [], Told(points=measured - {"t8"}), why=False)
    assert line.reach == (Reach("isolated", "; ".join(f"tag {n}" for n in range(9)), safe=True),)


def test_points_that_are_live_again_are_all_named() -> None:
    steps = [step(1, exposes=exposed(6, "isolated")), step(2, exposes=exposed(6, "live"))]
    found = [line.reach for line in lines_of(steps, [], Told(points=frozenset(f"t{n}" for n in range(6))), why=False)]
    assert found[1] == (Reach("LIVE", "; ".join(f"tag {n}" for n in range(6)), safe=False),)


def test_torques_and_seals_stand_where_a_part_is_refitted() -> None:
    screw = FasteningNote(kind="screw", count=9, size="M4", drive="T20", torque_nm=1.4, single_use=True)
    hose = ConnectionNote(kind="hose", label="drain hose", lock="clip", seal="O-ring")
    held = {"fastenings": [screw], "connections": [hose]}
    off, on = lines_of([step(1, **held), step(2, "refit", **held)], [], Told(), why=False)
    assert off.held == ("9 × screw M4, T20", "drain hose (clip)")
    assert on.held == ("9 × screw M4, tighten to 1.4 N·m, renew", "drain hose, seal: O-ring")


def test_tools_of_the_way_out_are_at_hand_on_the_way_back() -> None:
    out = [step(1, tools=[Ref(id="driver", label="nut driver")])]
    back = [step(1, "refit", tools=[Ref(id="driver", label="nut driver")]), step(2, tools=[Ref(id="g", label="gauge")])]
    assert [line.tools for line in lines_of(out, [], Told(), why=False)] == [("nut driver",)]
    assert [line.tools for line in lines_of(back, out, Told(), why=False)] == [(), ("gauge",)]


def test_what_a_step_is_for_is_said_on_request() -> None:
    one = step(1, needed_for=[Ref(id="a:test", label="Test: a"), Ref(id="b:test", label="Test: b")])
    assert lines_of([one], [], Told(), why=True)[0].needed_for == "Test: a and Test: b"
    assert lines_of([one], [], Told(), why=False)[0].needed_for == ""


def test_an_instruction_that_most_share_is_found() -> None:
    steps = [step(n, instruction="In reverse.") for n in range(1, 4)] + [step(4, instruction="Gently.")]
    assert instruction_of_most(steps) == "In reverse."
    assert instruction_of_most(steps[:2]) == ""
    assert instruction_of_most([]) == ""

"""Steps as the sheet prints them: cautions once in full, points within reach in few words, torques where they count."""

from __future__ import annotations

from firstoff.sheet.steps import Reach, Told, lines_of, sentence_of_most
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


def test_what_protects_from_danger_is_said_every_time() -> None:
    kills = LIFT.model_copy(update={"signal_word": "DANGER"})
    steps = [step(n, cautions=[kills]) for n in (1, 2, 3)]
    assert [line.again for line in lines_of(steps, [], Told(), why=False)[1:]] == [((kills, None),), ((kills, None),)]


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


def test_what_is_to_be_new_is_not_said_twice() -> None:
    tie = FasteningNote(kind="cable tie", count=2, single_use=True)
    (line,) = lines_of(
        [step(1, "refit", fastenings=[tie], renew=[{"label": "tie", "count": 2}])], [], Told(), why=False
    )
    assert line.held == ()


def test_tools_of_the_way_out_are_at_hand_on_the_way_back() -> None:
    out = [step(1, tools=[Ref(id="driver", label="nut driver")])]
    back = [step(1, "refit", tools=[Ref(id="driver", label="nut driver")]), step(2, tools=[Ref(id="g", label="gauge")])]
    assert [line.tools for line in lines_of(out, [], Told(), why=False)] == [("nut driver",)]
    assert [line.tools for line in lines_of(back, out, Told(), why=False)] == [(), ("gauge",)]


def test_what_a_step_is_for_is_said_on_request() -> None:
    one = step(1, needed_for=[Ref(id="a:test", label="Test: a"), Ref(id="b:test", label="Test: b")])
    assert lines_of([one], [], Told(), why=True)[0].needed_for == "Test: a and Test: b"
    assert lines_of([one], [], Told(), why=False)[0].needed_for == ""


def test_a_sentence_that_most_begin_with_is_found_and_said_once() -> None:
    texts = ["In reverse. Tighten it.", "In reverse.", "In reverse. Wait.", "Gently."]
    steps = [step(n, "refit", instruction=text) for n, text in enumerate(texts, 1)]
    assert sentence_of_most(steps) == "In reverse."
    assert sentence_of_most(steps[:2]) == ""
    assert sentence_of_most([]) == ""
    lines = lines_of(steps, [], Told(), why=False, shared="In reverse.")
    assert [line.instruction for line in lines] == ["Tighten it.", "", "Wait.", "Gently."]


def test_what_the_instruction_says_is_not_said_again() -> None:
    screw = FasteningNote(kind="screw", count=9, size="M4", torque_nm=1.4)
    seen = {"component": {"id": "a", "label": "filter"}, "kind": None, "text": "The arrow points down."}
    told = step(
        1, "refit", fastenings=[screw], hides_checks=[seen],
        instruction="First see that the checks it hides are ticked off: filter. Tighten 9 x screw M4 to 1.4 N m.",
    )  # fmt: skip
    silent = step(2, "refit", fastenings=[screw], hides_checks=[seen])
    first, second = lines_of([told, silent], [], Told(), why=False)
    assert (first.held, first.hidden) == ((), ())
    assert second.held == ("9 × screw M4, tighten to 1.4 N·m",)
    assert [each.text for each in second.hidden] == ["The arrow points down."]

"""The single-line drawing: nothing is left out, nothing is shown better than it is, and it can be read."""

from __future__ import annotations

import random
from collections import Counter
from itertools import combinations, pairwise
from xml.etree import ElementTree

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from firstoff.answers.names import capacitors
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Appliance
from firstoff.collection.opening import Opened
from firstoff.drawing import Supply, picture, supply_of
from firstoff.drawing.marks import WORDS
from firstoff.drawing.picture import drawing_of
from firstoff.drawing.placing import placed
from firstoff.energy import PointCondition, Situation, live_points, situation_of
from firstoff.sheet.lettering import width_of
from support.circuits import appliance, random_case

SVG = "{http://www.w3.org/2000/svg}"
ORDER = ["live", "unknown", "off_not_isolated", "isolated"]
MOST_ROWS = 45


def machines(opened: Opened) -> list[Appliance]:
    return [each for entry in opened.collection.models for each in opened.collection.appliances(entry.id)]


def some_situation(machine: Appliance, rng: random.Random) -> Situation:
    """Any devices open, any capacitors discharged, a few parts off."""
    circuit = machine.circuit
    devices = frozenset(each for each in sorted(circuit.devices) if rng.random() < rng.choice([0.1, 0.3, 0.8]))
    released = frozenset(each for each in sorted(capacitors(machine)) if rng.random() < 0.5)
    parts = rng.sample(sorted(machine.components), min(len(machine.components), rng.choice([0, 0, 1, 3])))
    return situation_of(machine, devices, frozenset(parts), released, {})


def holds(machine: Appliance, situation: Situation, supply: Supply) -> None:
    """What must be true of every drawing, told from the states of the points alone."""
    circuit = machine.circuit
    states = {name: point.state.value for name, point in live_points(circuit, situation).items()}
    drawn = Counter(unit for row in supply.rows if row.opened is not None for unit in row.units)
    assert drawn == Counter(circuit.devices.keys()), "every device once"
    for row in supply.rows:
        if row.opened is not None:
            (device,) = row.units
            assert row.opened == (device in situation.opened)
            assert row.isolating == circuit.devices[device].isolating
    told: dict[str, list[str]] = {}
    for row in supply.rows:
        for mark in row.marks:
            if mark.points:
                worst = min((states[point] for point in mark.points), key=ORDER.index)
                assert mark.state.value == worst, row.text
            for point in mark.points:
                told.setdefault(point, []).append(mark.state.value)
    assert told.keys() == states.keys(), "every point is in some row"
    for point, words in told.items():
        assert all(ORDER.index(word) <= ORDER.index(states[point]) for word in words)
    for stroke in drawing_of(supply).strokes:
        assert all(ORDER.index(stroke.mark.state) <= ORDER.index(states[point]) for point in stroke.mark.points)


@given(st.integers(0, 10**9))
@hypothesis_settings(max_examples=40)
def test_nothing_is_drawn_better_than_it_is(opened: Opened, seed: int) -> None:
    rng = random.Random(seed)
    machine = rng.choice(machines(opened))
    situation = some_situation(machine, rng)
    holds(machine, situation, supply_of(machine, situation))


@given(st.integers(0, 10**9), st.integers(2, 14))
def test_nothing_is_drawn_better_than_it_is_in_any_circuit(seed: int, size: int) -> None:
    """Circuits with loops, bare points, several sources and devices of many poles."""
    case = random_case(seed, size=size)
    machine = appliance(case.circuit)
    for situation in (case.situation, some_situation(machine, random.Random(seed))):
        supply = supply_of(machine, situation)
        holds(machine, situation, supply)
        ElementTree.fromstring(picture(supply))


@given(st.integers(0, 10**9), st.integers(2, 14))
def test_a_line_leads_only_between_what_is_joined(seed: int, size: int) -> None:
    """Two rows, one below the other, have a net in common or a transformer between them (told by networkx)."""
    circuit = random_case(seed, size=size).circuit
    rows = supply_of(appliance(circuit), Situation()).rows
    wires = nx.Graph()
    wires.add_nodes_from(circuit.points)
    for link in circuit.links.values():
        wires.add_nodes_from((link.start, link.end))
        if link.kind in (LinkKind.CONDUCTOR, LinkKind.PIPE):
            wires.add_edge(link.start, link.end)
    for row in rows:
        if row.parent < 0 or row.coupled or not row.units:
            continue
        reached = {
            other for point in row.line.points if point in wires for other in nx.node_connected_component(wires, point)
        }
        above = rows[row.parent]
        ends = {
            end
            for link in circuit.links.values()
            if link.device in above.units or (link.component in above.units and link.device is None)
            for end in (link.start, link.end)
        }
        for unit in above.units:
            if unit in circuit.sources:
                source = circuit.sources[unit]
                ends |= {*source.lines, *source.feeds, *([source.neutral] if source.neutral else [])}
        assert ends & reached, (row.text, above.text)


@pytest.mark.parametrize("columns", [1, 2, 3])
@given(seed=st.integers(0, 10**9))
@hypothesis_settings(max_examples=15)
def test_nothing_overlaps(opened: Opened, columns: int, seed: int) -> None:
    rng = random.Random(seed)
    machine = rng.choice(machines(opened))
    root = ElementTree.fromstring(picture(supply_of(machine, some_situation(machine, rng)), columns=columns))
    _, _, width, height = map(float, root.get("viewBox", "").split())
    assert width <= 400 * columns
    boxes = []
    for each in root.iter(f"{SVG}text"):
        size, x, y = (float(each.get(name, "nan")) for name in ("font-size", "x", "y"))
        wide = width_of(each.text or "", size, bold=each.get("font-weight") == "bold")
        boxes.append((x, y - 0.75 * size, x + wide, y + 0.2 * size, each.text))
    symbols = [each.get("transform", "") for each in root.iter(f"{SVG}g") if each.get("class") == "symbol"]
    for place in symbols:
        x, y = map(float, place.removeprefix("translate(").rstrip(")").split())
        boxes.append((x - 11, y, x + 11, y + 24, "symbol"))
    for left, top, right, bottom, text in boxes:
        assert min(left, top) >= 0, text
        assert right <= width + 0.1, text
        assert bottom <= height, text
    for one, other in combinations(boxes, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)
    for x0, y0, x1, y1 in pieces(root):
        for left, top, right, bottom, text in boxes:
            if text != "symbol" and not text_figure(text):
                assert x1 <= left or right <= x0 or y1 <= top or bottom <= y0, text


def text_figure(text: str | None) -> bool:
    """Whether it is the figure that counts conductors, which stands at its line."""
    return bool(text) and str(text).isdigit()


def pieces(root: ElementTree.Element) -> list[tuple[float, float, float, float]]:
    """The straight pieces of all lines as boxes, legend aside."""
    found = []
    for each in root.iter(f"{SVG}path"):
        if "line" in each.get("class", "").split() and each.find(f"{SVG}title") is not None:
            corners = [tuple(map(float, pair.split())) for pair in each.get("d", "").lstrip("M").split("L")]
            for (x0, y0), (x1, y1) in pairwise(corners):
                found.append((min(x0, x1) - 2.5, min(y0, y1), max(x0, x1) + 2.5, max(y0, y1)))
    return found


@pytest.mark.parametrize("columns", [1, 2, 3])
def test_columns_hold_the_same(opened: Opened, columns: int) -> None:
    """Folding moves rows and lines, and neither loses nor bends any: vertical lengths add up."""
    for machine in machines(opened):
        supply = supply_of(machine, Situation())
        plain, folded = drawing_of(supply), drawing_of(supply, columns)
        assert [figure.row for figure in folded.figures] == [figure.row for figure in plain.figures]

        def run(root: ElementTree.Element) -> float:
            return sum(y1 - y0 for _, y0, _, y1 in pieces(root))

        one, other = (ElementTree.fromstring(picture(supply, columns=each)) for each in (1, columns))
        assert run(one) == pytest.approx(run(other), abs=1.0)


def test_every_line_carries_its_word_and_style(opened: Opened) -> None:
    for machine in machines(opened):
        for devices in (frozenset[str](), frozenset(machine.circuit.devices)):
            situation = situation_of(machine, devices, frozenset(), frozenset(capacitors(machine)), {})
            supply = supply_of(machine, situation)
            root = ElementTree.fromstring(picture(supply))
            words = {condition.value.replace("_", "-"): word for condition, word in WORDS.items()}
            strokes = [each for each in root.iter(f"{SVG}path") if each.find(f"{SVG}title") is not None]
            assert strokes
            for each in strokes:
                _, style = each.get("class", "").split()
                assert (each.findtext(f"{SVG}title") or "").startswith(words[style])
            shown = [
                each.text or "" for each in root.iter(f"{SVG}text") if (each.get("class") or "").startswith("word")
            ]
            assert len(shown) == len(supply.rows) + len(WORDS)
            live = [row for row in supply.rows if row.line.state is PointCondition.LIVE]
            assert sum(text.startswith("LIVE") for text in shown) == len(live) + 1


def test_devices_are_drawn_as_they_stand(opened: Opened) -> None:
    for machine in machines(opened):
        devices = sorted(machine.circuit.devices)
        for one in devices:
            situation = situation_of(machine, frozenset({one}), frozenset(), frozenset(), {})
            root = ElementTree.fromstring(picture(supply_of(machine, situation)))
            found = {}
            for group in root.iter(f"{SVG}g"):
                name = group.get("data-device")
                if name is not None:
                    contacts = [each for each in group.iter(f"{SVG}path") if "contact" in (each.get("class") or "")]
                    (contact,) = contacts
                    bars = [each for each in group.iter(f"{SVG}path") if each.get("class") == "bar"]
                    found[name] = (contact.get("class") == "contact open", len(bars))
            assert found == {each: (each == one, int(machine.circuit.devices[each].isolating)) for each in devices}


def test_it_is_no_hairball(opened: Opened) -> None:
    for machine in machines(opened):
        assert len(supply_of(machine, Situation()).rows) <= MOST_ROWS, machine.model


@given(st.lists(st.integers(-1, 30), max_size=30))
def test_lines_cross_nothing(wanted: list[int]) -> None:
    """Between a row and one that hangs from it, all rows stand to the right of the line."""
    parents = [min(parent, number - 1) for number, parent in enumerate(wanted)]
    order, column = placed(parents)
    assert sorted(order) == list(range(len(parents)))
    place = {row: at for at, row in enumerate(order)}
    for row, parent in enumerate(parents):
        if parent >= 0:
            assert place[parent] < place[row]
            assert column[row] - column[parent] in (0, 1)
            assert all(column[each] > column[parent] for each in order[place[parent] + 1 : place[row]])


def test_rows_that_hang_in_a_circle_are_refused() -> None:
    with pytest.raises(ValueError, match="circle"):
        placed([1, 0])


def test_texts_are_escaped(opened: Opened) -> None:
    from dataclasses import replace

    machine = opened.collection.appliances("tgd27-460-s")[0]
    nasty = '<script>&"\x00'
    supply = supply_of(machine, Situation())
    rows = tuple(replace(row, text=nasty, notes=(nasty,)) for row in supply.rows)
    text = picture(replace(supply, title=nasty, situation=nasty, rows=rows))
    root = ElementTree.fromstring(text)
    assert not list(root.iter(f"{SVG}script"))
    assert "<script" not in text


def test_it_is_told_in_words_too(opened: Opened) -> None:
    machine = opened.collection.appliances("tgd27-460-s")[0]
    situation = situation_of(machine, frozenset({"power-control"}), frozenset(), frozenset(), {})
    root = ElementTree.fromstring(picture(supply_of(machine, situation)))
    assert root.get("role") == "img"
    title, said = root.findtext(f"{SVG}title") or "", root.findtext(f"{SVG}desc") or ""
    assert title == "Supply of TGD27/460 S. Open: power button contact."
    live = "LIVE, 120 V AC"
    assert (
        f"power button contact from appliance connector on the filter: {live}; control, OPEN; beyond it: {live}."
        in said
    )
    assert f"Revision {machine.revision}" in said


def test_what_stays_live_and_what_is_separated(opened: Opened) -> None:
    """The four-pin plug opens all; the power button alone leaves the board live; the 12 V supply is separated."""
    machine = opened.collection.appliances("tgd27-460-s")[0]
    everything = frozenset(capacitors(machine))
    off = supply_of(machine, situation_of(machine, frozenset({"supply-plug"}), frozenset(), everything, {}))
    below = {row.units[0]: row.line.state.value for row in off.rows if row.units}
    assert below.pop("mains") == below.pop("supply-plug") == "live"
    assert set(below.values()) == {"isolated"}
    low = next(row for row in off.rows if row.units == ("board-12v",))
    assert low.coupled
    assert off.rows[low.parent].units == ("control-board-sensor",)


def test_it_can_be_cut_to_a_part(opened: Opened) -> None:
    machine = opened.collection.appliances("tgd27-460-s")[0]
    asked = frozenset({"heater-1", "heater-2"})
    cut = supply_of(machine, Situation(), asked)
    units = {unit for row in cut.rows for unit in row.units}
    assert {"mains", "supply-plug", "appliance-connector", "heater-relay-contact", "heater-element"} <= units
    assert "drum-lamp" not in units
    assert asked <= {point for row in cut.rows for mark in row.marks for point in mark.points}

"""The job sheet as a page: what it says, in which order, escaped, and readable by a screen reader."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, fields, is_dataclass, replace
from html.parser import HTMLParser
from itertools import pairwise
from typing import Any

import pytest

from firstoff.answers.bench import laid_out
from firstoff.answers.desk import Desk
from firstoff.answers.job_sheet import job_sheet
from firstoff.appliance.model import Appliance
from firstoff.appliance.terms import Concept
from firstoff.settings import Settings
from firstoff.sheet import Job, page
from firstoff_contract.removal import PlanRequest

JOBS = [
    ("tgd27-460-s", ["drum-belt"]),
    ("tgd27-460-s", ["terminal-block:live-test"]),
    ("tgd27-460-s", ["lint-filter:inspect"]),
    ("flb-316-t", ["compressor-high-capacity"]),
    ("flb-316-t", ["evaporator-fan", "water-tank", "plinth:inspect", "door-shelves"]),
]
HOSTILE = "</style></title><script>alert(1)</script><img src=x onerror='alert(2)'>\"&{{ 7*7 }}\x0b"


@dataclass
class Element:
    tag: str
    attributes: dict[str, str | None]
    text: list[str] = field(default_factory=list)


class Read(HTMLParser):
    """All elements in order, each with the text directly and indirectly in it; every tag must be closed in order."""

    VOID = frozenset({"meta", "br", "img", "link"})

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[Element] = []
        self._open: list[Element] = []
        self.feed(html)
        self.close()
        assert not self._open, [each.tag for each in self._open]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(Element(tag, dict(attrs)))
        if tag not in self.VOID:
            self._open.append(self.elements[-1])

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(Element(tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop().tag == tag

    def handle_data(self, data: str) -> None:
        for each in self._open:
            each.text.append(data)

    def all(self, *tags: str) -> list[Element]:
        return [each for each in self.elements if each.tag in tags]

    def text(self, tag: str) -> str:
        return " ".join("".join(self.all(tag)[0].text).split())


def job_of(desk: Desk, model: str, reach: list[str]) -> Job:
    return desk.job_sheet(model, PlanRequest(reach=reach))


@pytest.fixture(scope="module", params=JOBS, ids=lambda job: "+".join(job[1]))
def sheet(request: pytest.FixtureRequest, desk: Desk) -> tuple[Job, Read]:
    job = job_of(desk, *request.param)
    return job, Read(page(job))


def test_everything_of_the_plan_is_on_it(sheet: tuple[Job, Read]) -> None:
    job, read = sheet
    said = read.text("body")
    plan = job.plan
    for step in [*plan.steps, *plan.refit]:
        assert f"{step.n} {step.label[:1].upper()}{step.label[1:]}" in said
        first, _, rest = step.instruction.partition(". ")
        for text in [first, rest, *(each.text for each in (*step.cautions, *step.checks))]:
            assert " ".join(text.split()) in said
        for caution in step.cautions:
            assert caution.protection in said
        for fastening in step.fastenings:
            if fastening.torque_nm is not None:
                tight = f"to {fastening.torque_nm:g} N"
                assert f"{tight}·m" in said or f"{tight} m" in said
        for point in step.exposes:
            assert point.state == "isolated" or point.label in said
    for text in (plan.notice, plan.revision, job.machine.number, job.machine.label, job.machine.platform):
        assert text in said
    for tool in plan.kit.tools:
        assert tool.label in said
    for part in plan.kit.parts:
        assert part.label in said
        assert (part.part_number or "") in said
    for note in plan.finish:
        assert note.text in said
    for line in plan.record.lines if plan.record else []:
        if line.verdict != "not_applicable":
            assert line.how in said
            assert line.label[1:] in said
            assert line.limit is None or f"{line.limit.standard}, {line.limit.edition}" in said
    for device in plan.make_safe.devices:
        assert device.instruction in said
    for release in plan.make_safe.release:
        assert release.text in said
    assert f"{plan.minutes:g} min of work" in said
    assert "Proved: no plan takes less work." in said


def test_every_measurement_can_be_ticked(sheet: tuple[Job, Read]) -> None:
    job, read = sheet
    items = [" ".join("".join(each.text).split()) for each in read.all("li")]
    for each in job.plan.make_safe.prove_dead:
        text = " ".join(each.text.split())
        assert text in items or any(item and item in text for item in items if len(item) > 3), text


def test_sections_come_in_the_order_of_the_work(sheet: tuple[Job, Read]) -> None:
    job, read = sheet
    heads = ["".join(each.text) for each in read.all("h2")]
    order = [
        "Before you begin", "Carry", "Make safe", "Out", "Back", "To finish", "Safety record", "Other ways",
        "What comes off first",
    ]  # fmt: skip
    assert heads == [name for name in order if name in heads]
    assert {"Before you begin", "Carry", "Out", "To finish", "What comes off first"} <= set(heads)
    assert ("Make safe" in heads) == job.plan.make_safe.needed
    assert ("Other ways" in heads) == bool(job.plan.alternatives)


def test_headings_are_in_order_and_the_page_has_a_language(sheet: tuple[Job, Read]) -> None:
    _, read = sheet
    levels = [int(each.tag[1]) for each in read.all("h1", "h2", "h3", "h4")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(later <= earlier + 1 for earlier, later in pairwise(levels))
    assert read.all("html")[0].attributes["lang"] == "en"
    assert len(read.all("main")) == len(read.all("header")) == len(read.all("footer")) == 1
    assert read.all("title")
    labelled = [each.attributes["aria-labelledby"] for each in read.all("section")]
    ids = [each.attributes["id"] for each in read.elements if "id" in each.attributes]
    assert set(labelled) <= set(ids)
    assert len(ids) == len(set(ids))


def test_every_section_can_be_gone_to(sheet: tuple[Job, Read]) -> None:
    _, read = sheet
    links = {each.attributes["href"]: "".join(each.text) for each in read.all("a")}
    heads = {f"#{each.attributes['id']}": "".join(each.text) for each in read.all("h2")}
    assert links == heads


def test_a_caution_comes_before_its_step(sheet: tuple[Job, Read]) -> None:
    job, read = sheet
    said = read.text("main")
    for step in job.plan.steps:
        head = said.index(f"{step.n} {step.label[:1].upper()}{step.label[1:]}")
        for caution in step.cautions:
            assert said.rfind(caution.hazard, 0, head) >= 0
            assert said.index(caution.protection) < head


def test_signal_words_are_words(sheet: tuple[Job, Read]) -> None:
    """Each is spelt out; the alert symbol goes with all but NOTICE (ANSI Z535.4 as commonly cited, from memory)."""
    _, read = sheet
    words = [each for each in read.all("strong") if each.attributes.get("class") == "word"]
    assert words
    assert {"".join(each.text) for each in words} <= {"DANGER", "WARNING", "CAUTION", "NOTICE"}


def test_it_needs_nothing_from_elsewhere(sheet: tuple[Job, Read]) -> None:
    _, read = sheet
    assert not read.all("script", "img", "link", "iframe", "form", "input", "object")
    for each in read.elements:
        assert not {"src", "action", "style"} & each.attributes.keys()
        assert (each.attributes.get("href") or "#").startswith("#")
        assert not [name for name in each.attributes if name.startswith("on")]


def test_ticks_are_for_the_eye_and_their_text_for_all(sheet: tuple[Job, Read]) -> None:
    job, read = sheet
    ticks = [each for each in read.all("span") if "tick" in (each.attributes.get("class") or "")]
    assert all(each.attributes["aria-hidden"] == "true" for each in ticks)
    assert len(ticks) >= len(job.plan.steps) + len(job.plan.refit) + len(job.plan.finish) + len(job.plan.kit.tools)


def test_fields_to_fill_in(desk: Desk) -> None:
    said = page(job_of(desk, "tgd27-460-s", ["drum-belt"]))
    for name in ("Serial number", "Date", "Technician", "Customer"):
        assert re.search(rf'{name} <span class="blank">', said), name


def test_readings_have_blanks(desk: Desk) -> None:
    job = job_of(desk, "tgd27-460-s", ["drum-belt"])
    assert job.plan.record is not None
    read = Read(page(job))
    (section,) = [each for each in read.all("section") if each.attributes["class"] == "record"]
    said = " ".join("".join(section.text).split())
    assert "Earth continuity: at most 0.1 ohm" in said
    for place in job.plan.record.lines[0].places:
        assert (f"{place.component.label} ohm" in said) == place.opened
    assert said.count("pass fail") == sum(line.kind == "measurement" for line in job.plan.record.lines)
    assert "is no pass: the machine is not handed over" in said


def test_a_machine_that_stands_open_is_closed(desk: Desk) -> None:
    job = desk.job_sheet("tgd27-460-s", PlanRequest(off=["back-panel", "transition-duct"]))
    read = Read(page(job))
    assert read.text("h1") == "Close up the machine"
    assert "Refit: back panel" in read.text("main")
    assert "What comes off first" not in ["".join(each.text) for each in read.all("h2")]


def test_why_is_said(desk: Desk) -> None:
    job = job_of(desk, "tgd27-460-s", ["drum-belt"])
    said = Read(page(job)).text("main")
    for step in [*job.plan.steps, *job.plan.refit]:
        assert step.because in said
    assert job.plan.rejected
    for way in job.plan.rejected:
        assert f"{way.way.label}. {way.reason}" in said


def test_bulletins_that_matter(desk: Desk) -> None:
    """The dryer's bulletin is about two thermostats; the fridge-freezer's about no part in particular."""
    assert "high-limit thermostat with it" not in page(job_of(desk, "tgd27-460-s", ["drum-belt"]))
    assert "high-limit thermostat with it" in page(job_of(desk, "tgd27-460-s", ["thermal-cut-off"]))
    assert "Bulletin, changed procedure" in page(job_of(desk, "flb-316-t", ["drip-tray"]))


def test_a_serial_number_is_printed_with_its_range(desk: Desk) -> None:
    job = desk.job_sheet("flb-316-k", PlanRequest(reach=["evaporator-fan-quiet"], serial="241801500"))
    said = page(job)
    assert "241801500" in said
    assert "serial numbers from 241801000" in said


def test_the_name_of_the_shop_is_printed_where_it_is_set(desk: Desk) -> None:
    job = job_of(desk, "tgd27-460-s", ["drum-belt"])
    assert "Larkfield Appliance Repair" in page(replace(job, shop="Larkfield Appliance Repair"))
    assert "Larkfield" not in page(job)


def test_a_plan_that_is_not_proved_says_so(desk: Desk) -> None:
    job = job_of(desk, "tgd27-460-s", ["drum-belt"])
    doubtful = replace(job, plan=job.plan.model_copy(update={"optimal": False, "bound": 41.0}))
    assert not doubtful.settled
    assert "Not proved the least: no plan is under 41 min." in page(doubtful)


def test_many_targets_are_all_named(desk: Desk) -> None:
    read = Read(page(job_of(desk, "flb-316-t", ["evaporator-fan", "water-tank", "plinth:inspect", "door-shelves"])))
    assert "and 1 more" in read.text("h1")
    assert "Inspect: plinth grille" in read.text("header")
    assert "For: Replace: evaporator fan" in read.text("main")


def renamed(value: Any) -> Any:
    """``value`` with every text that a content author writes made hostile; slugs and enumerations stay."""
    if isinstance(value, Concept):
        return Concept(value.id, value.label + HOSTILE)
    if isinstance(value, dict):
        return {key: renamed(each) for key, each in value.items()}
    if isinstance(value, tuple):
        return tuple(renamed(each) for each in value)
    if is_dataclass(value) and not isinstance(value, type):
        texts = {"label", "instruction", "undo_instruction", "text", "protection", "part_number", "release", "maker"}
        new = {}
        for each in fields(value):
            one = getattr(value, each.name)
            new[each.name] = one + HOSTILE if each.name in texts and isinstance(one, str) else renamed(one)
        return type(value)(**new)
    return value


@pytest.fixture(scope="module")
def hostile(desk: Desk) -> str:
    machine: Appliance = renamed(desk.opened.collection.appliances("tgd27-460-s", None)[0])
    return page(job_sheet(laid_out(machine), Settings(shop=HOSTILE), PlanRequest(reach=["drum-belt"])))


def test_hostile_content_stays_text(hostile: str) -> None:
    read = Read(hostile)
    assert not read.all("script", "img")
    assert hostile.count("<style>") == 1
    assert len(read.all("title")) > 1  # the page's and those within the picture
    said = read.text("body")
    assert said.count("<script>alert(1)</script>") > 100
    assert "{{ 7*7 }}" in read.text("h1")
    assert "\x0b" not in hostile
    assert not [name for each in read.elements for name in each.attributes if name.startswith("on")]

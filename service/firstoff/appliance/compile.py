"""From the statements of a platform's graph to the read model of all its parts.

The outcome is the platform with every part any model has; ``variant.narrowed`` makes one model of it.
"""

from __future__ import annotations

from collections.abc import Mapping

from firstoff.appliance.compile_energy import circuit
from firstoff.appliance.compile_faults import checks, codes, faults, service_modes
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Bulletin,
    Caution,
    Component,
    Connection,
    Construction,
    Fastening,
    FinishStep,
    Preparation,
    Purpose,
    ReassemblyCheck,
    Removal,
    State,
    StateVariable,
    Symptom,
)
from firstoff.appliance.statements import Resource, Statements, sources
from firstoff.appliance.terms import Concept
from firstoff.appliance.variant import Changes
from firstoff.errors import ContentBroken


def whole_platform(
    graph: Statements, *, revision: str, symptoms: Mapping[str, Symptom], isolating_kinds: frozenset[str]
) -> Appliance:
    """The platform described by ``graph`` with the parts of all its models.

    ``symptoms`` is the shared vocabulary, by slug; ``isolating_kinds`` the slugs of device kinds that isolate.

    :raises ContentBroken: a resource lacks what its class needs; `firstoff check` says it in full.
    """
    platforms = list(graph.of_class("Platform"))
    if len(platforms) != 1:
        told = ", ".join(each.id for each in platforms) or "none"
        raise ContentBroken(f"A graph describes one platform. Found: {told}.")
    platform = platforms[0]
    states = _states(graph)
    all_faults = faults(graph)
    used = {effect.symptom for fault in all_faults.values() for effect in fault.effects}
    all_codes = codes(graph)
    used.update(symptom for code in all_codes.values() for symptom in code.symptoms)
    return Appliance(
        model="",
        model_number="",
        label=platform.label,
        platform=Concept(platform.id, platform.label),
        maker=platform.text("maker") or "",
        kind=platform.needed_concept("applianceKind"),
        revision=revision,
        status=platform.text("status") or "draft",
        components={resource.id: _component(resource) for resource in graph.of_class("Component")},
        removals={resource.id: _removal(resource) for resource in graph.of_class("Removal")},
        access_paths={resource.id: _access_path(resource) for resource in graph.of_class("AccessPath")},
        variables={resource.id: _variable(resource, states) for resource in graph.of_class("StateVariable")},
        states=states,
        preparations={resource.id: _preparation(resource, states) for resource in graph.of_class("Preparation")},
        circuit=circuit(graph, isolating_kinds),
        cautions=tuple(_caution(resource) for resource in graph.of_class("Caution")),
        symptoms={slug: symptoms.get(slug, Symptom(slug, slug)) for slug in sorted(used)},
        faults=all_faults,
        checks=checks(graph),
        codes=all_codes,
        service_modes=service_modes(graph),
        bulletins=tuple(_bulletin(resource) for resource in graph.of_class("Bulletin")),
        finish=tuple(sorted(map(_finish, graph.of_class("FinishStep")), key=lambda step: (step.order, step.text))),
        construction=_construction(platform),
    )


def changes_of(resource: Resource) -> Changes:
    """What a model or a serial range does to its platform.

    :raises ContentBroken: a substitution is not complete, or two are of one component.
    """
    replaces: dict[str, str] = {}
    for part in resource.parts("substitutes"):
        original = part.needed_slug("original")
        if original in replaces:
            raise ContentBroken(f"{resource.id} has two substitutes for {original}.")
        replaces[original] = part.needed_slug("substitute")
    return Changes(
        leaves_out=resource.slugs("leavesOut"),
        adds=resource.slugs("adds"),
        replaces=replaces,
        rated_input=resource.number("ratedInput"),
    )


def _construction(platform: Resource) -> Construction:
    return Construction(
        built_to=platform.concept("builtTo"),
        protection_class=platform.text("protectionClass"),
        stationary=platform.flag("stationary") if platform.literals("stationary") else None,
        operation=platform.text("operation"),
        rated_input=platform.number("ratedInput"),
    )


def _component(resource: Resource) -> Component:
    return Component(
        id=resource.id,
        label=resource.label,
        kind=resource.needed_concept("kind"),
        zone=resource.needed_concept("inZone"),
        part_number=resource.text("partNumber"),
        supersedes=resource.texts("supersedes"),
        sits_inside=resource.slug("sitsInside"),
        replaced_as=resource.slug("replacedAs"),
        kilograms=resource.number("kilograms"),
        sources=sources(resource),
        cord_metres=resource.number("cordMetres"),
        cord_square_millimetres=resource.number("cordSquareMillimetres"),
        price_band=resource.concept("priceBand"),
    )


def _fastening(resource: Resource) -> Fastening:
    return Fastening(
        kind=resource.needed_concept("kind"),
        count=resource.count("count") or 1,
        drive=resource.concept("drive"),
        size=resource.text("size"),
        torque=resource.number("torque"),
        single_use=resource.flag("singleUse"),
        tools=resource.concepts("tool"),
        label=resource.label or None,
    )


def _connection(resource: Resource) -> Connection:
    return Connection(
        kind=resource.needed_concept("kind"),
        label=resource.label,
        lock=resource.text("lock"),
        seal=resource.text("seal"),
        single_use=resource.flag("singleUse"),
        opens=resource.slugs("opens"),
    )


def _reassembly_check(resource: Resource) -> ReassemblyCheck:
    return ReassemblyCheck(
        resource.text("text") or "",
        resource.flag("beforeCover"),
        kind=resource.concept("checkKind"),
        after_supply=resource.flag("afterSupply"),
        wait_minutes=resource.number("waitMinutes"),
    )


def _removal(resource: Resource) -> Removal:
    connections = tuple(_connection(part) for part in resource.parts("connection"))
    return Removal(
        id=resource.id,
        component=resource.needed_slug("removes"),
        label=resource.label,
        minutes_out=resource.needed_number("minutesOut"),
        minutes_back=resource.needed_number("minutesBack"),
        needs_off=resource.slugs("needsOff"),
        needs_states=resource.slugs("needsState"),
        fastenings=tuple(_fastening(part) for part in resource.parts("fastening")),
        connections=connections,
        tools=resource.concepts("tool"),
        consumables=resource.texts("consumable"),
        opens=resource.slugs("opens").union(*(connection.opens for connection in connections)),
        bares=resource.slugs("bares"),
        checks=tuple(_reassembly_check(part) for part in resource.parts("reassemblyCheck")),
        instruction=resource.text("instruction") or "",
        persons=resource.count("persons") or 1,
        single_use=resource.flag("singleUse"),
        sources=sources(resource),
        refit_instruction=resource.text("refitInstruction") or "",
    )


def _access_path(resource: Resource) -> AccessPath:
    return AccessPath(
        id=resource.id,
        component=resource.needed_slug("reaches"),
        label=resource.label,
        purpose=resource.member("purpose", Purpose),
        audience=resource.needed_concept("audience"),
        minutes=resource.number("minutes") or 0.0,
        needs_off=resource.slugs("needsOff"),
        needs_fitted=resource.slugs("needsFitted"),
        needs_states=resource.slugs("needsState"),
        tools=resource.concepts("tool"),
        bares=resource.slugs("bares"),
        live=resource.flag("live"),
        instruction=resource.text("instruction") or "",
        sources=sources(resource),
    )


def _states(graph: Statements) -> dict[str, State]:
    variables = {resource.id for resource in graph.of_class("StateVariable")}
    states = {resource.id: _state(resource) for resource in graph.of_class("State")}
    for state in states.values():
        if state.variable not in variables:
            raise ContentBroken(f"{state.id} is a value of {state.variable}, which is no state variable.")
    return states


def _state(resource: Resource) -> State:
    return State(
        id=resource.id,
        variable=resource.needed_slug("valueOf"),
        label=resource.label,
        initial=resource.flag("initial"),
        devices_open=resource.slugs("devicesOpen"),
    )


def _variable(resource: Resource, states: Mapping[str, State]) -> StateVariable:
    own = tuple(state.id for state in states.values() if state.variable == resource.id)
    if sum(states[state].initial for state in own) != 1:
        raise ContentBroken(f"{resource.id} must have exactly one initial state.")
    return StateVariable(resource.id, resource.label, own, resource.slug("controls"))


def _preparation(resource: Resource, states: Mapping[str, State]) -> Preparation:
    gives = resource.needed_slug("gives")
    if gives not in states:
        raise ContentBroken(f"{resource.id} gives {gives}, which is no state.")
    initial = next(s.id for s in states.values() if s.variable == states[gives].variable and s.initial)
    return Preparation(
        id=resource.id,
        label=resource.label,
        gives=gives,
        from_state=resource.slug("fromState") or initial,
        minutes=resource.needed_number("minutes"),
        undo_minutes=resource.needed_number("undoMinutes"),
        needs_off=resource.slugs("needsOff"),
        needs_fitted=resource.slugs("needsFitted"),
        needs_states=resource.slugs("needsState"),
        tools=resource.concepts("tool"),
        instruction=resource.text("instruction") or "",
        undo_instruction=resource.text("undoInstruction") or "",
        persons=resource.count("persons") or 1,
        moves_machine=resource.flag("movesMachine"),
        sources=sources(resource),
    )


def _caution(resource: Resource) -> Caution:
    return Caution(
        id=resource.id,
        signal_word=resource.needed_slug("signalWord"),
        hazard=resource.needed_concept("hazard"),
        text=resource.text("text") or resource.label,
        protection=resource.text("protection") or "",
        applies_to=resource.slugs("appliesTo"),
    )


def _bulletin(resource: Resource) -> Bulletin:
    return Bulletin(
        id=resource.id,
        label=resource.label,
        kind=resource.needed_concept("bulletinKind"),
        text=resource.text("text") or "",
        concerns=resource.slugs("concerns"),
    )


def _finish(resource: Resource) -> FinishStep:
    order = resource.count("order")
    if order is None:
        raise ContentBroken(f"{resource.id} has no order.")
    return FinishStep(
        order,
        resource.text("text") or resource.label,
        resource.flag("beforeSupply"),
        id=resource.id,
        label=resource.label or resource.id,
        only_after=resource.slugs("onlyAfter"),
        wait_minutes=resource.number("waitMinutes"),
        competence=resource.text("competence"),
        recorded=resource.flag("recorded"),
    )

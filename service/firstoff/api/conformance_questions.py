"""The questions of the conformance cases, by subject: addresses, or questions with a body or headers of their own."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

_DRYER = "/v1/models/tgd27-460-s"
_OVEN = "/v1/models/tem34-260-h"
_HOB = "/v1/models/qmh60-420-n"
_FRIDGE = "/v1/models/flb-316-k"
_LD = {"accept": "application/ld+json"}


@dataclass(frozen=True, slots=True)
class Question:
    """A request; ``kept`` headers of its answer belong to the case, and ``again`` asks once more with its ETag."""

    address: str
    method: str = "GET"
    body: Any = None
    headers: dict[str, str] = field(default_factory=dict)
    kept: tuple[str, ...] = ()
    again: bool = False


def _post(address: str, body: Any, **headers: str) -> Question:
    return Question(address, "POST", body, headers)


_NEGOTIATED = ("cache-control", "content-language", "vary")

SUBJECTS: dict[str, dict[str, str | Question]] = {
    "search": {
        "a complaint in words": "/v1/search?q=drum+wont+turn&limit=3",
        "a complaint about the machine in hand": f"/v1/search?q=no+heat&model={_DRYER.rpartition('/')[2]}&limit=2",
        "German": "/v1/search?q=trommel+dreht+nicht&limit=2&lang=de",
        "Spanish, misspelt": "/v1/search?q=no+caliennta&limit=2",
        "a code": "/v1/search?q=E5&kind=code&limit=2",
        "a part of one machine": "/v1/search?q=heatre+element&kind=component&model=tgd27-460-s&limit=2",
        "a number on a plate": "/v1/search?q=tgd27+46o&kind=model&limit=3",
        "nothing typed": "/v1/search?q=",
        "no words at all": "/v1/search?q=%F0%9F%98%80%00",
        "markup is text": "/v1/search?q=%3Cscript%3Ealert(1)%3C/script%3E&limit=2",
        "half a word": "/v1/suggest?q=drumm+do&limit=3&model=tgd27-460-s",
        "half a word in German": "/v1/suggest?q=heizt+ni&limit=3&lang=de",
        "nothing typed yet": "/v1/suggest?q=",
    },
    "models": {
        "all, first page": "/v1/models?limit=4",
        "all, second page": "/v1/models?limit=4&offset=4",
        "all, beyond the last page": "/v1/models?limit=4&offset=400",
        "a number as on the plate": "/v1/models?number=TGD27/460+S",
        "a number with the letter O": "/v1/models?number=tgd27+46o+s",
        "a near miss": "/v1/models?number=tgd27+466+s",
        "the dryer": _DRYER,
        "the oven by its number": "/v1/models/TEM34%20260%20H",
        "the fridge-freezer, serial number unknown": _FRIDGE,
        "the fridge-freezer with its serial number": f"{_FRIDGE}?serial=241800500",
        "components, first page": f"{_DRYER}/components?limit=5",
        "components, last page": f"{_DRYER}/components?limit=60&offset=50",
        "components that only some serial numbers have": f"{_FRIDGE}/components?limit=200",
        "a component": f"{_DRYER}/components/drum-belt",
        "a component with stored energy": f"{_OVEN}/components/hv-capacitor",
        "a component that contains others": f"{_HOB}/components/power-board-a",
        "what a part hides": f"{_DRYER}/components/back-panel/hidden",
        "codes": f"{_DRYER}/codes?limit=3",
        "codes, next page": f"{_DRYER}/codes?limit=3&offset=3",
        "a code as the machine shows it": f"{_DRYER}/codes/e%205",
        "a code by its name": f"{_OVEN}/codes/code-e5",
        "service modes of one kind": f"{_DRYER}/service-modes?kind=component-test",
        "service modes of two kinds": f"{_OVEN}/service-modes?kind=stored-codes&kind=clearing",
    },
    "plans": {
        "a belt": f"{_DRYER}/removal-plan?reach=drum-belt",
        "two targets, one to look at": f"{_DRYER}/removal-plan?reach=blower-wheel&reach=door-switch:inspect",
        "a test made live": f"{_DRYER}/removal-plan?reach=terminal-block:live-test",
        "some of it off already": f"{_DRYER}/removal-plan?reach=drum-belt&off=toe-panel&states=supply-isolated",
        "closing up": f"{_DRYER}/removal-plan?off=top-panel&states=supply-isolated,pulled-out",
        "nothing to take off": f"{_DRYER}/removal-plan?reach=lint-filter:inspect",
        "tools at hand": f"{_DRYER}/removal-plan?reach=door-switch&tools=driver-cross-ph2,plastic-lever,putty-knife"
        "&tools=floor-protection,torch"
        "&tools=multimeter,two-pole-voltage-tester,lockout-kit,driver-hexalobular-t20,nut-driver-5-16in",
        "fewest parts, alone": f"{_DRYER}/removal-plan?reach=heater-element:test&minimise=parts&limits=alone",
        "stored charge on the way": f"{_OVEN}/removal-plan?reach=magnetron-cut-out",
        "a fixed supply": f"{_HOB}/removal-plan?reach=touch-board",
        "water and a serial number": f"{_FRIDGE}/removal-plan?reach=damper:test&serial=241800500",
        "asked in a body": _post(
            f"{_DRYER}/removal-plan", {"reach": ["door-switch:test"], "off": ["toe-panel"], "states": ["pulled-out"]}
        ),
        "the plans that no other beats": f"{_FRIDGE}/removal-plan/pareto?reach=damper:test&serial=1",
        "worth doing while it is open": f"{_DRYER}/while-open?reach=drum-belt",
        "within reach as it stands": f"{_OVEN}/exposed",
        "within reach with the top off": f"{_DRYER}/exposed?off=top-panel&states=supply-isolated,pulled-out",
        "within reach without a tool": f"{_OVEN}/exposed?tools=",
        "the plan as a sheet": f"{_DRYER}/job-sheet?reach=lint-filter:inspect",
        "the plan as a picture": f"{_DRYER}/removal-plan/picture?reach=drum-belt",
    },
    "live-points": {
        "the dryer as it stands": f"{_DRYER}/live-points",
        "switched off at the control": f"{_DRYER}/live-points?opened=power-control",
        "door open": f"{_DRYER}/live-points?opened=door-interlock&at=drive-motor,heater-element,terminal-block",
        "every control open": f"{_DRYER}/live-points?opened=power-control,start-control,door-interlock,belt-interlock"
        "&opened=motor-relay-contact,heater-relay-contact,high-limit-contact,motor-protector-contact"
        "&opened=centrifugal-contacts",
        "unplugged": f"{_DRYER}/live-points?opened=supply-plug",
        "unplugged and discharged": f"{_DRYER}/live-points?opened=supply-plug&released=bus-capacitor,filter-capacitor",
        "unplugged, one of two discharged": f"{_DRYER}/live-points?opened=supply-plug&released=filter-capacitor",
        "unplugged and switched off": f"{_DRYER}/live-points?opened=supply-plug&opened=power-control&at=control-board-s"
        "ensor,mains-filter",
        "lead off at the machine": f"{_DRYER}/live-points?opened=appliance-connector"
        "&at=terminal-block,inlet-lead,heater-element,supply-cord",
        "discharged, still plugged in": f"{_DRYER}/live-points?released=bus-capacitor,filter-capacitor"
        "&at=low-voltage-supply,mains-filter",
        "heater relay open, one side": f"{_DRYER}/live-points?opened=heater-relay-contact&at=heater-element",
        "both sides of the heater": f"{_DRYER}/live-points?opened=heater-relay-contact,centrifugal-contacts"
        "&at=heater-element",
        "a part off": f"{_DRYER}/live-points?off=terminal-cover&at=terminal-block&opened=power-control",
        "a contact taken for welded": f"{_DRYER}/live-points?opened=power-control,motor-relay-contact"
        "&assume=welded:motor-relay-contact&at=drive-motor",
        "the worst of every single fault": f"{_DRYER}/live-points?opened=supply-plug&worst=true&at=heater-element",
        "one point": f"{_DRYER}/live-points?at=heater-1",
        "the oven as it stands": f"{_OVEN}/live-points",
        "the oven with the door open": f"{_OVEN}/live-points?opened=primary-interlock,secondary-interlock,door-sense"
        "&at=hv-capacitor,hv-transformer,magnetron",
        "the oven unplugged": f"{_OVEN}/live-points?opened=supply-plug",
        "the oven unplugged and discharged": f"{_OVEN}/live-points?opened=supply-plug"
        "&released=hv-cap,x-capacitor,y-capacitor-l,y-capacitor-n",
        "the oven unplugged, only the large capacitor discharged": f"{_OVEN}/live-points?opened=supply-plug"
        "&released=hv-cap&at=hv-capacitor,filter-board,magnetron",
        "every relay of the oven open": f"{_OVEN}/live-points?at=magnetron,convection-heater,grill-element,cooling-fan"
        "&opened=microwave-relay,heat-relay,fan-relay,lamp-relay",
        "the hob switched off by its key": f"{_HOB}/live-points?opened=on-key&at=terminal-block,power-board-a",
        "the hob with its breaker open": f"{_HOB}/live-points?opened=cooker-breaker&at=terminal-block,power-board-a",
        "the hob with its isolator and key open": f"{_HOB}/live-points?opened=hob-disconnect,on-key"
        "&released=bus-a&at=terminal-block,bus-capacitor-a",
        "the fridge-freezer's board, unplugged": f"{_FRIDGE}/live-points?opened=plug&serial=1&at=main-board",
    },
    "isolation": {
        "a motor": f"{_DRYER}/isolation?touch=drive-motor",
        "two parts": f"{_DRYER}/isolation?touch=drive-motor,heater-element",
        "one point": f"{_DRYER}/isolation?touch=heater-1",
        "the socket itself": f"{_DRYER}/isolation?touch=wall-socket",
        "stored charge at high voltage": f"{_OVEN}/isolation?touch=hv-capacitor",
        "a fixed supply": f"{_HOB}/isolation?touch=terminal-block",
        "water and electricity": f"{_FRIDGE}/isolation?touch=water-inlet-valve&serial=1",
        "a part with nothing live": f"{_DRYER}/isolation?touch=door",
        "refrigerant": f"{_FRIDGE}/isolation?touch=evaporator&serial=1",
        "making safe for a live test": f"{_DRYER}/make-safe?reach=terminal-block:live-test",
        "making safe with a part off": f"{_OVEN}/make-safe?reach=magnetron-cut-out&off=wrapper&states=supply-isolated",
        "every energy of the fridge-freezer": f"{_FRIDGE}/energies?serial=1",
        "every energy of the oven in a warm room": f"{_OVEN}/energies?ambient=35",
        "a socket": f"{_DRYER}/socket-check?measured=line1-neutral:118,line2-neutral:3",
        "a socket that is in order": f"{_OVEN}/socket-check?measured=line-neutral:231,line-earth:230,neutral-earth:0.4",
        "a machine to take along": f"{_OVEN}/pocket",
        "the supply as a drawing": f"{_OVEN}/supply-picture?opened=supply-plug&at=magnetron&columns=1",
    },
    "readings": {
        "a broken heater": f"{_DRYER}/reading?between=heater-1,heater-2&quantity=resistance&opened=supply-plug"
        "&released=bus-capacitor,filter-capacitor&measured=OL",
        "a heater in order": f"{_DRYER}/reading?between=heater-1,heater-2&quantity=resistance&opened=supply-plug"
        "&released=bus-capacitor,filter-capacitor&measured=10.2+ohm",
        "volts with everything closed": f"{_DRYER}/reading?between=heater-1,heater-2&quantity=ac-voltage",
        "a thermistor by its resistance": f"{_DRYER}/components/cycling-thermistor/curve?ohms=5000",
        "a thermistor at a temperature": f"{_DRYER}/components/cycling-thermistor/curve?celsius=60",
        "a refrigerant at a temperature": "/v1/refrigerants/r600a/saturation?celsius=-20",
        "a refrigerant at a pressure": "/v1/refrigerants/r134a/saturation?kilopascals_gauge=100",
    },
    "diagnosis": {
        "one symptom": f"{_DRYER}/diagnosis?symptoms=no-heat",
        "a symptom that is not there": f"{_FRIDGE}/diagnosis?symptoms=fridge-warm&absent=freezer-warm&serial=1",
        "a code": f"{_OVEN}/diagnosis?codes=E5",
        "nothing found yet": f"{_OVEN}/diagnosis",
        "findings in a body": _post(
            f"{_DRYER}/diagnosis",
            {
                "symptoms": ["no-heat"],
                "absent": ["weak-airflow"],
                "readings": [
                    {
                        "between": ["heater-1", "heater-2"],
                        "quantity": "resistance",
                        "value": "OL",
                        "opened": ["supply-plug"],
                        "released": ["bus-capacitor", "filter-capacitor"],
                    }
                ],
            },
        ),
        "a remedy that did not help": _post(
            f"{_DRYER}/diagnosis", {"symptoms": ["no-heat"], "tried": ["remedy-replace-cut-off"], "off": ["back-panel"]}
        ),
        "what to carry": f"{_FRIDGE}/carry?symptoms=fridge-warm&parts=3&serial=1",
        "what to carry with no room for parts": f"{_DRYER}/carry?symptoms=drum-does-not-turn&parts=0",
        "what jobs have shown": f"{_OVEN}/outcomes",
    },
    "record": {
        "blank": f"{_DRYER}/safety-record",
        "blank after work": f"{_DRYER}/safety-record?done=drum-belt,back-panel",
        "blank where nothing was opened": f"{_OVEN}/safety-record?done=",
        "readings within the limits": _post(
            f"{_DRYER}/safety-record",
            {
                "readings": [
                    {"quantity": "earth-continuity", "value": 0.08, "unit": "ohm", "note": "front panel"},
                    {"quantity": "insulation-resistance", "value": 500, "unit": "Mohm", "over_range": True},
                    {"quantity": "leakage-current", "value": 210, "unit": "uA"},
                ],
                "done": ["drum-belt"],
            },
        ),
        "a reading over its limit": _post(
            f"{_OVEN}/safety-record",
            {
                "readings": [{"quantity": "earth-continuity", "value": 4.1, "unit": "ohm"}],
                "confirmed": [{"line": "finish-interlocks", "by": "The technician on the job"}],
            },
        ),
    },
    "problems": {
        "a model that is not there": "/v1/models/tgd27-46o-x",
        "a name like none": "/v1/models/zzzzzzzz",
        "a name of markup": "/v1/models/%3Cimg%20src=x%3E",
        "a component misspelt": f"{_DRYER}/components/drumbelt",
        "a part off misspelt": f"{_DRYER}/removal-plan?reach=drum-belt&off=top-pannel",
        "a device misspelt": f"{_DRYER}/live-points?opened=supply-plugg",
        "a capacitor that is not there": f"{_DRYER}/live-points?released=c9",
        "a point that is not there": f"{_DRYER}/isolation?touch=nowhere",
        "a code that is not there": f"{_DRYER}/codes/E99",
        "a refrigerant that is not there": "/v1/refrigerants/r999/saturation?celsius=0",
        "nothing to reach": f"{_DRYER}/removal-plan",
        "nothing to touch": f"{_DRYER}/isolation",
        "a purpose that is none": f"{_DRYER}/removal-plan?reach=drum-belt:polish",
        "a parameter misspelt": f"{_DRYER}/removal-plan?reach=drum-belt&of=top-panel",
        "one value given twice": f"{_DRYER}/removal-plan?reach=drum-belt&minimise=parts&minimise=minutes",
        "a choice that is not offered": f"{_DRYER}/removal-plan?reach=drum-belt&minimise=effort",
        "two states of one variable": f"{_DRYER}/removal-plan?reach=drum-belt&states=in-place,pulled-out",
        "a state against a limit": f"{_DRYER}/removal-plan?reach=drum-belt&limits=machine-fixed&states=pulled-out",
        "no way within a limit": f"{_DRYER}/removal-plan?reach=drum-belt&limits=machine-fixed",
        "a tool is missing": f"{_DRYER}/removal-plan?reach=drive-motor&tools=multimeter",
        "a number out of range": f"{_DRYER}/components?limit=0",
        "a word for a number": f"{_DRYER}/components?limit=many",
        "a serial number is needed": f"{_FRIDGE}/removal-plan?reach=evaporator-fan",
        "a fault that is none": f"{_DRYER}/live-points?assume=broken:everything",
        "one probe": f"{_DRYER}/reading?between=heater-1",
        "a field that is unknown": _post(f"{_DRYER}/removal-plan", {"reach": ["drum-belt"], "of": []}),
        "a field of the wrong kind": _post(f"{_DRYER}/removal-plan", {"reach": "drum-belt"}),
        "a finding that is unknown": _post(f"{_DRYER}/diagnosis", {"symptoms": ["sulks"], "codes": ["E99"]}),
        "a reading in a unit of something else": _post(
            f"{_DRYER}/safety-record", {"readings": [{"quantity": "earth-continuity", "value": 1, "unit": "mA"}]}
        ),
        "outcomes where none are taken": _post("/v1/outcomes", {"model": "tgd27-460-s", "fault": "fault-heater-open"}),
        "publishing where none is set up": Question("/v1/graphs/tolvane-galewood", "DELETE"),
        "a platform that is not there": "/v1/graphs/tolvane-galewod",
        "no such address": "/v1/nothing",
    },
    "protocol": {
        "an answer is not sent twice": Question(_DRYER, kept=_NEGOTIATED, again=True),
        "a list is not sent twice": Question("/v1/models?limit=2", kept=_NEGOTIATED, again=True),
        "a search is not sent twice": Question("/v1/search?q=no+heat&limit=1", kept=_NEGOTIATED, again=True),
        "linked data is not sent twice": Question("/v1/models?limit=2", headers=_LD, kept=_NEGOTIATED, again=True),
        "linked data": Question(f"{_DRYER}/isolation?touch=door", headers=_LD, kept=_NEGOTIATED),
        "linked data of a question in a body": Question(
            f"{_DRYER}/safety-record", "POST", {"done": []}, _LD, kept=_NEGOTIATED
        ),
        "whichever is preferred": Question(
            f"{_DRYER}/components?limit=1", headers={"accept": "application/json;q=0.2, application/ld+json;q=0.9"}
        ),
        "anything will do": Question(f"{_DRYER}/components?limit=1", headers={"accept": "*/*"}),
        "an etag of something else": Question(
            f"{_DRYER}/components?limit=1", headers={"if-none-match": '"of-something-else"'}
        ),
        "a problem is a problem whatever is asked for": Question("/v1/models/zzzzzzzz", headers=_LD),
        "a representation that is not offered": Question(_DRYER, headers={"accept": "text/csv"}),
        "a picture is not offered as data": Question(
            f"{_DRYER}/supply-picture", headers={"accept": "application/json"}
        ),
        "a method that is not allowed": Question("/v1/models", "DELETE", kept=("allow",)),
        "another method that is not allowed": Question(f"{_DRYER}/live-points", "POST", {}, kept=("allow",)),
        "the process is alive": "/healthz",
        "the content is loaded": "/readyz",
    },
}

"""The page at ``/addresses``: what this service answers, with links that work on the content it serves."""

from __future__ import annotations

from html import escape
from urllib.parse import quote

from firstoff.appliance.circuit import Device
from firstoff.appliance.model import Appliance
from firstoff.collection.catalogue import Collection
from firstoff.errors import FirstoffError

STYLE = """
:root { color-scheme: light dark; --ink: #1b1b1b; --ground: #fbfaf7; --rule: #c9c4b8; --link: #0b4f8a; }
@media (prefers-color-scheme: dark) { :root { --ink: #ecebe6; --ground: #17191b; --rule: #454a4f; --link: #8fc3f5; } }
body { margin: 0 auto; max-width: 44rem; padding: 1rem; font: 1.05rem/1.5 system-ui, sans-serif;
  color: var(--ink); background: var(--ground); }
h1 { font-size: 1.6rem; margin: .5rem 0 0; } h2 { font-size: 1.15rem; margin: 2rem 0 .25rem; }
a { color: var(--link); } ul { list-style: none; padding: 0; }
li { border-top: 1px solid var(--rule); }
ul a { display: block; padding: .7rem 0; overflow-wrap: anywhere; }
form { display: flex; gap: .5rem; margin: 1rem 0; flex-wrap: wrap; }
input, button { font: inherit; min-height: 3rem; padding: 0 .75rem; border: 1px solid var(--rule);
  border-radius: .25rem;   background: transparent; color: inherit; }
input { flex: 1 1 14rem; }
.first { border-left: .35rem solid; padding: .25rem .75rem; margin: 1rem 0; }
code { font-size: .95em; overflow-wrap: anywhere; }
"""


def addresses_page(collection: Collection) -> str:
    """HTML for a person who opened the address in a browser; everything from content is escaped."""
    sections = "".join(_section(collection, entry.id) for entry in collection.models[:20])
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>firstoff</title><style>{STYLE}</style></head><body>
<h1>firstoff</h1>
<p>What comes off first, what is still live, what is probably wrong.</p>
<p class="first"><strong>Before anything else:</strong> isolate, release stored energy, prove dead. Local codes and
licensed practice come first. Unknown is never safe.</p>
<form action="/v1/search"><label for="q">Symptom, part, code or model</label>
<input id="q" name="q" required><button>Search</button></form>
<ul><li><a href="/">The app for a phone</a></li>
<li><a href="/v1/models">All models</a></li><li><a href="/openapi.json">OpenAPI description</a></li>
<li><a href="/ontology">The words in which machines are described</a></li>
<li><a href="/sparql">Query the content</a></li>
<li><a href="/readyz">What is served, and what was refused</a></li></ul>
{sections}
</body></html>"""


def _section(collection: Collection, model: str) -> str:
    try:
        serial = _a_serial(collection, model)
        appliance = collection.appliances(model, serial)[0]
    except FirstoffError as error:
        return f"<h2>{escape(model)}</h2><p>{escape(error.detail)} {escape(error.mend)}</p>"
    heading = f"{appliance.maker} {appliance.model_number}"
    links = "".join(
        f'<li><a href="{escape(address)}">{escape(text)}</a></li>' for address, text in _links(appliance, serial)
    )
    return f"<h2>{escape(heading)}</h2><p>{escape(appliance.label)}</p><ul>{links}</ul>"


def _a_serial(collection: Collection, model: str) -> str | None:
    """A serial number of the newest range, where the model has ranges, so that every link answers."""
    ranges = collection.serial_ranges(model)
    return (ranges[-1].first or ranges[-1].last) if ranges else None


def _links(appliance: Appliance, serial: str | None) -> list[tuple[str, str]]:
    """Addresses that answer for this model, with what they answer."""
    base = f"/v1/models/{appliance.model}"
    given = f"serial={quote(serial)}" if serial else ""
    links = [(base, "What is known of it"), (f"{base}/components", f"Its {len(appliance.components)} components")]

    def add(question: str, asked: str, text: str) -> None:
        query = "&".join(part for part in (asked, given) if part)
        links.append((f"{base}/{question}?{query}" if query else f"{base}/{question}", text))

    deepest = _deepest(appliance)
    if deepest is not None:
        add(
            "removal-plan",
            f"reach={deepest}",
            f"What comes off first to replace: {appliance.components[deepest].label}",
        )
        add("job-sheet", f"reach={deepest}", f"The job sheet to print: {appliance.components[deepest].label}")
    add("live-points", "", "What is live with everything closed")
    button = _button(appliance)
    if button is not None:
        add("live-points", f"opened={button.id}", f"What is still live when this is off: {button.label}")
    if deepest is not None:
        add("isolation", f"touch={deepest}", f"How to make safe to touch: {appliance.components[deepest].label}")
    return links


def _deepest(appliance: Appliance) -> str | None:
    """A component worth a plan: with points, holding no energy, and with the most to take off directly before it."""
    holding = {source.held_by for source in appliance.circuit.sources.values()}
    with_points = {point.component for point in appliance.circuit.points.values()} - holding
    candidates = [removal for removal in appliance.removals.values() if removal.component in with_points]
    best = max(candidates, key=lambda removal: (len(removal.needs_off), removal.id), default=None)
    return best.component if best else None


def _button(appliance: Appliance) -> Device | None:
    """The push button that opens the most contacts."""
    contacts = [link.device for link in appliance.circuit.links.values()]
    buttons = [each for each in appliance.circuit.devices.values() if each.kind.id == "push-button"]
    return max(buttons, key=lambda each: (contacts.count(each.id), each.id), default=None)

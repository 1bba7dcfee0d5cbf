"""The page at ``/sparql``: a field for a query, for a person with a browser."""

from __future__ import annotations

from html import escape

from firstoff.sheet import content_security_policy
from firstoff.sparql.asking import Served

_STYLE = """
:root { color-scheme: light dark; --ink: #1b1b1b; --ground: #fbfaf7; --rule: #c9c4b8; --link: #0b4f8a; }
@media (prefers-color-scheme: dark) { :root { --ink: #ecebe6; --ground: #17191b; --rule: #454a4f; --link: #8fc3f5; } }
body { margin: 0 auto; max-width: 52rem; padding: 1rem; font: 1.05rem/1.5 system-ui, sans-serif;
  color: var(--ink); background: var(--ground); }
h1 { font-size: 1.6rem; margin: .5rem 0; } a { color: var(--link); }
textarea { box-sizing: border-box; width: 100%; font: .95rem/1.4 ui-monospace, monospace; padding: .5rem; }
textarea, button { border: 1px solid var(--rule); border-radius: .25rem; background: transparent; color: inherit; }
button { font: inherit; min-height: 3rem; padding: 0 1.5rem; margin-top: .5rem; }
li { overflow-wrap: anywhere; }
"""
_EXAMPLE = """PREFIX fo: <https://firstoff.example/ontology#>
PREFIX rdfs: <http://www.w3.org/2000/01/rdf-schema#>
SELECT ?model ?number ?label WHERE {
  ?model a fo:Model ; fo:modelNumber ?number ; rdfs:label ?label
}
ORDER BY ?number
LIMIT 100"""
#: As the page of an answer may do nothing, but with its form.
POLICY = content_security_policy(_STYLE).replace("form-action 'none'", "form-action 'self'")


def sparql_page(served: Served) -> str:
    """HTML with a form and the graphs by name; no script."""
    graphs = "".join(f"<li>{escape(name)} ({served.graphs[name]:,})</li>" for name in sorted(served.graphs))
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Query the content</title><style>{_STYLE}</style></head><body>
<h1>Query the content</h1>
<p>What is asked here is data, not advice: no answer of a query says that anything is safe to touch. Unknown is never
safe.</p>
<form action="/sparql"><label for="query">A query in SPARQL 1.1; it only reads</label>
<textarea id="query" name="query" rows="12" required spellcheck="false">{escape(_EXAMPLE)}</textarea>
<button>Ask</button></form>
<p>{served.triples:,} triples; where nothing is said all of them are asked. By name, for GRAPH and FROM:</p>
<ul>{graphs}</ul>
<p>The words are explained at <a href="/ontology">/ontology</a>. Programs ask here too: SPARQL 1.1 Protocol.</p>
</body></html>"""

"""Household and trade words that mean the same, for the search.

Common practice, no source: collected by us, in English, Spanish and German.
"""

from __future__ import annotations

SYNONYMS: tuple[tuple[str, ...], ...] = (
    ("fridge", "refrigerator", "icebox", "fresh food"),
    ("freezer", "deep freeze"),
    ("dryer", "tumble dryer", "tumbler"),
    ("noisy", "loud", "noise", "sound", "racket"),
    ("squeal", "squeak", "screech", "chirp"),
    ("thump", "bang", "knock", "thud"),
    ("rattle", "clatter"),
    ("leak", "leaking", "drip", "dripping", "puddle"),
    ("warm", "not cold", "not cooling"),
    ("no heat", "not heating", "cold air", "won't get warm"),
    ("dead", "no power", "won't turn on", "does nothing"),
    ("stuck", "jammed", "seized"),
    ("smell", "odour", "odor", "stink"),
    ("burning", "burnt", "scorched"),
    ("lint", "fluff"),
    ("duct", "vent", "hose"),
    ("gasket", "seal"),
    ("bulb", "lamp", "light"),
    ("sensor", "thermistor", "probe"),
    ("motor", "engine"),
    ("board", "pcb", "module", "control"),
    ("ice", "frost"),
    ("spin", "turn", "rotate", "tumble"),
    ("tap", "faucet", "valve"),
    ("earth", "ground"),
    ("nevera", "frigorífico", "refrigerador", "heladera"),
    ("secadora", "secarropas"),
    ("ruido", "ruidoso"),
    ("kühlschrank", "kühlgerät"),
    ("trockner", "wäschetrockner"),
    ("geräusch", "lärm", "laut"),
)

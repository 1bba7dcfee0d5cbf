"""How it is seen that an energy is gone, in the usual words of each kind, where the content has none of its own.

29 CFR 1910.147(d)(6) asks for verification before work begins; what is done here is common practice, no source.
"""

from __future__ import annotations

USUAL: dict[str, str] = {
    "mains": "Prove the tester on a known live source, measure every pair of conductors and each to earth, prove the "
    "tester again.",
    "battery": "Measure the direct voltage between the poles behind the opened device, with a tester proved before.",
    "solar": "Measure the direct voltage between the poles, covered panels or not, with a tester proved before.",
    "extra-low-voltage": "Measure between its conductors and from each to earth; it goes with its supply.",
    "high-voltage": "Prove its supply dead and its capacitor discharged. Use only a meter and probe that are rated for "
    "the voltage.",
    "stored-charge": "Measure the direct voltage across it, discharge it, and measure again.",
    "water": "Open a tap or hose below it over a bowl and see that nothing comes any more.",
    "gas": "See that the flame is out and cannot be lit; look for leaks with a spray or a gas detector, never a flame.",
    "refrigerant": "See that the gauges stay at 0 and that the gas detector stays silent.",
    "spring": "See that it hangs slack, or that its block bears it, before a hand goes behind it.",
    "heat": "Hold the back of a hand near without touching, then measure with an infrared thermometer.",
    "weight": "See that it rests on its support and does not give when it is pushed.",
    "rotation": "Look and listen until it stands still, and try the start button with the supply off.",
}

UNKNOWN = "Nobody has told how this energy is seen to be gone: treat it as there."


def usual(energy: str) -> str:
    """The usual words for an energy kind."""
    return USUAL.get(energy, UNKNOWN)

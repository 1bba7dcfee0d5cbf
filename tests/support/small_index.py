"""A few entries of every kind, with synonyms, for tests of the search."""

from __future__ import annotations

from firstoff.search import Entry, Phrase

SYNONYMS = (("washer", "washing machine"), ("fridge", "refrigerator"), ("turn", "spin"), ("lamp", "light bulb"))
ENTRIES = (
    Entry(
        "symptom",
        "fridge-not-cooling",
        "Fridge is not cooling",
        (
            Phrase("Fridge is not cooling"),
            Phrase("fresh food is warm"),
            Phrase("Kühlschrank kühlt nicht", "de"),
            Phrase("el refrigerador no enfría", "es"),
        ),
    ),
    Entry(
        "symptom",
        "no-spin",
        "Drum does not turn",
        (
            Phrase("Drum does not turn"),
            Phrase("washing machine won't spin"),
            Phrase("Trommel dreht nicht", "de"),
            Phrase("el tambor no gira", "es"),
        ),
    ),
    Entry("symptom", "no-heat", "Dryer does not heat", (Phrase("Dryer does not heat"), Phrase("clothes stay damp"))),
    Entry("symptom", "leak", "Water under the machine", (Phrase("leaks water"), Phrase("verliert Wasser", "de"))),
    Entry("component", "drain-pump", "Drain pump", models=frozenset({"wm-1200-a"}), group="marrowby-front"),
    Entry("component", "drain-pump", "Drain pump", models=frozenset({"td-90"}), group="tolvane-dry", weight=0.5),
    Entry("component", "sump-pump", "Sump pump", models=frozenset({"dw-6"}), group="tolvane-dish"),
    Entry("component", "door-switch", "Door switch", (Phrase("Door switch"), Phrase("Türschalter", "de"))),
    Entry("component", "dishwasher-arm", "Dishwasher spray arm"),
    Entry("component", "lamp", "Light bulb"),
    Entry("code", "e4", "E-4", (Phrase("E-4", ""), Phrase("drain fault"))),
    Entry("code", "e5", "E-5", (Phrase("E-5", ""), Phrase("heater fault"))),
    Entry("code", "f05", "F05", (Phrase("F05", ""),)),
    Entry("model", "wm-1200-a", "WM-1200/A", (Phrase("WM-1200/A", ""),)),
    Entry("model", "wm-1o0", "WM-1O0", (Phrase("WM-1O0", ""),)),
    Entry("model", "td-90", "TD 90", (Phrase("TD 90", ""),)),
)

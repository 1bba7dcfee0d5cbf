"""The supply of a machine as a single-line drawing in SVG: what is live, what is open, what stands between.

``supply_of(appliance, situation)`` says what is shown and ``picture(supply)`` draws it; ``rows_of(appliance)`` are
the rows for others to draw. All are pure.
"""

from firstoff.drawing.picture import MOST_COLUMNS, picture, picture_style
from firstoff.drawing.supply import Supply, rows_of, supply_of

__all__ = ["MOST_COLUMNS", "Supply", "picture", "picture_style", "rows_of", "supply_of"]

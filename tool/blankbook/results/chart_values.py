"""What a size chart asks for, and how far from it is sound."""

from blankbook.records.model import Chart, Shop


def charted_length(chart: Chart | None, size: str, point: str) -> float | None:
    """Return the charted length in millimetres, if the chart has it."""
    length = chart.sizes.get(size, {}).get(point) if chart else None
    return length.mm if length else None


def chart_tolerance(shop: Shop, chart: Chart | None, point: str) -> float:
    """Return the chart's tolerance in millimetres, else the shop's; it needs no case."""
    if chart and point in chart.tolerance:
        return chart.tolerance[point].mm
    return shop.tolerance[point]


def sound_steps(asked: float, allowed: float) -> tuple[float, float]:
    """Return the smallest and the largest step that is sound, where the chart asks for *asked*.

    However wide the tolerance, what is under half a step is not one.
    """
    least = asked - allowed
    return (max(least, asked / 2) if asked > 0 else least), asked + allowed

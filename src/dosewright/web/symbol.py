"""A DataMatrix symbol as SVG, its modules dark on white with the quiet zone that ISO/IEC 16022 asks for."""

from dosewright.core.paper.datamatrix import dark_stretches

__all__ = ["draw_symbol"]


def draw_symbol(text: str) -> str:
    """The symbol, without the text beside it: a code that opens something is for a scanner only."""
    dark = dark_stretches(text)
    side = max(row for row, _, _ in dark) + 3  # the last row is dark all along; one module of quiet all round
    path = "".join(f"M{column + 1} {row + 1}h{many}v1h-{many}z" for row, column, many in dark)
    return (
        f'<svg class="symbol" viewBox="0 0 {side} {side}" role="img" aria-label="the badge’s code, for a scanner" '
        f'shape-rendering="crispEdges"><rect width="{side}" height="{side}" fill="#fff"/><path d="{path}" fill="#000"/></svg>'
    )

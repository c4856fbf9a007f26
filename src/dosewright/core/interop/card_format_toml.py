"""Card-format file → `CardFormat`. In: TOML text. Out: the geometry, or one sentence that names line, field and what would be right."""

from fractions import Fraction

from dosewright.core.interop.toml_text import TomlTable, parse_toml
from dosewright.core.packing.card_format import Box, CardFormat, Cavity, LabelSheet

__all__ = ["parse_card_format"]


def parse_card_format(text: str) -> CardFormat:
    """The card format that the text describes. Raises TomlError: unknown or missing key, wrong kind, boxes off the sheet or overlapping."""
    file = parse_toml(text)
    made = CardFormat(
        name=file.text("name"),
        title=file.text("title"),
        rows=_some(file, "rows"),
        columns=_some(file, "columns"),
        roll=file.flag("roll"),
        filled_from_back=file.flag("filled_from_back"),
        cavity=_cavity(file.table("cavity")),
        sheet=_sheet(file.table("sheet")),
        smallest_type=file.amount("smallest_type_pt"),
    )
    file.require_all_known()
    _require_one_row(file, made)
    _require_room(file.table("sheet"), made)
    return made


def _some(table: TomlTable, key: str) -> int:
    value = table.whole(key)
    if not 1 <= value <= 100:
        raise table.fault(key, "must be from 1 to 100")
    return value


def _cavity(table: TomlTable) -> Cavity:
    names = ("length_mm", "width_mm", "depth_mm", "design_fill")
    length, width, depth, fill = (table.amount(name) for name in names)
    if width > length:
        raise table.fault("width_mm", "must not exceed length_mm")
    if fill > Fraction(64, 100):
        raise table.fault("design_fill", "must be at most 0.64, where random packing ends")
    units = _some(table, "max_units")
    table.require_all_known()
    return Cavity(length, width, depth, fill, units)


def _sheet(table: TomlTable) -> LabelSheet:
    made = LabelSheet(
        width=table.amount("width_mm"),
        height=table.amount("height_mm"),
        header=_box(table.table("header")),
        first_cavity=_box(table.table("first_cavity")),
        pitch_across=table.amount("pitch_across_mm"),
        pitch_down=table.amount("pitch_down_mm"),
        labels_across=_some(table, "labels_across"),
    )
    table.require_all_known()
    return made


def _box(table: TomlTable) -> Box:
    box = Box(*(table.amount(name) for name in ("left_mm", "top_mm", "width_mm", "height_mm")))
    table.require_all_known()
    return box


def _require_one_row(file: TomlTable, made: CardFormat) -> None:
    if made.roll and made.rows != 1:
        raise file.fault("rows", "must be 1 for a roll")


def _require_room(sheet: TomlTable, made: CardFormat) -> None:
    """Every label on the sheet, none over the next one or over the header."""
    first, last = made.cavity_label(1, 1), made.cavity_label(made.rows, made.columns)
    if first.width > made.sheet.pitch_across:
        raise sheet.fault("pitch_across_mm", "must not be less than the width of a cavity label")
    if first.height > made.sheet.pitch_down:
        raise sheet.fault("pitch_down_mm", "must not be less than the height of a cavity label")
    widest = made.cavity_label(1, min(made.sheet.labels_across, made.columns))
    for key, box in (("header", made.sheet.header), ("first_cavity", widest), ("first_cavity", last)):
        if box.left + box.width > made.sheet.width or box.top + box.height > made.sheet.height:
            raise sheet.fault(key, "must leave all its labels on the sheet; the last one would reach over the edge")
    header = made.sheet.header
    if header.top + header.height > first.top and first.top + first.height > header.top and header.left < widest.left + widest.width:
        raise sheet.fault("header", "must not reach over the cavity labels")

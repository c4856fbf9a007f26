"""Plain Spanish sentences; evening is "al atardecer", because "por la noche" is also bedtime. Source: pharmacy practice, from memory."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.words.counted import Counting, Noun, count_words
from dosewright.core.regimen.words.phrasebook import Phrasebook, list_words
from dosewright.core.units.amount_words import NumberStyle

__all__ = ["SPANISH"]

_D, _H, _W, _M = TimeUnit.DAY, TimeUnit.HOUR, TimeUnit.WEEK, TimeUnit.MONTH
_MONTHS = ["enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"]
_NOUNS = {
    "tablet": Noun("comprimido", "comprimidos"), "capsule": Noun("cápsula", "cápsulas", feminine=True), "sachet": Noun("sobre", "sobres"),
    "drop": Noun("gota", "gotas", feminine=True), "puff": Noun("inhalación", "inhalaciones", feminine=True),
    "patch": Noun("parche", "parches"), "suppository": Noun("supositorio", "supositorios"),
    "ampoule": Noun("ampolla", "ampollas", feminine=True),
    "spray": Noun("pulverización", "pulverizaciones", feminine=True),
    "lozenge": Noun("pastilla para chupar", "pastillas para chupar", feminine=True),
    "pessary": Noun("óvulo", "óvulos"), "vial": Noun("vial", "viales"), "dose": Noun("dosis", "dosis", feminine=True),
    "application": Noun("aplicación", "aplicaciones", feminine=True), "piece": Noun("pieza", "piezas", feminine=True),
    "spoonful": Noun("cucharadita de 5 mL", "cucharaditas de 5 mL", feminine=True, glyphs=True),
    "teaspoonful": Noun("cucharadita", "cucharaditas", feminine=True), "measure": Noun("medida", "medidas", feminine=True),
    "tablespoonful": Noun("cucharada", "cucharadas", feminine=True),
    "pill": Noun("pastilla", "pastillas", feminine=True), "unit": Noun("unidad", "unidades", feminine=True), "": Noun("", ""),
}  # fmt: skip
_MEASURED = {"mg": "mg", "microgram": "microgramos", "g": "g", "mL": "mL", "mmol": "mmol"}
_WORDS = ["cero", "un", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve", "diez", "once", "doce"]


def _ones(noun: Noun) -> list[str]:
    return [*_WORDS[:1], "una" if noun.feminine else "un", *_WORDS[2:]]


def _with_part(whole: int, rest: Fraction, noun: Noun, style: NumberStyle) -> str | None:
    half = "media" if noun.feminine else "medio"
    if rest == Fraction(1, 2):
        return f"{count_words(whole, style, _ones(noun))} {noun.of(Fraction(whole))} y {half}" if whole else f"{half} {noun.one}"
    parts = {Fraction(1, 4): f"un cuarto de {noun.one}", Fraction(3, 4): f"tres cuartos de {noun.one}"}
    return parts.get(rest) if not whole else None


def _date(day: date) -> str:
    return f"{day.day} de {_MONTHS[day.month - 1]} de {day.year}"


def _month_days(days: Sequence[int]) -> str:
    return f"{'el día' if len(days) == 1 else 'los días'} {list_words([str(day) for day in days], 'y')} de cada mes"


SPANISH = Phrasebook(
    say_amount=Counting(_NOUNS, _MEASURED, _ones, _with_part).say,
    verb="Tomar",
    verb_after="{first}, {verb} {rest}",
    verb_other={"patch": "Aplicar", "drop": "Poner", "puff": "Usar", "suppository": "Usar", "pessary": "Usar", "spray": "Usar",
                "application": "Usar"},
    when={
        "MORN": "por la mañana", "NOON": "al mediodía", "EVE": "al atardecer", "HS": "al acostarse", "WAKE": "al levantarse",
        "CM": "con el desayuno", "CD": "con la comida", "CV": "con la cena",
        "ACM": "antes del desayuno", "ACD": "antes de la comida", "ACV": "antes de la cena",
        "PCM": "después del desayuno", "PCD": "después de la comida", "PCV": "después de la cena",
    },
    clock="a las {a}",
    offset="{n} minutos",
    offset_hours={(_H, 1): "1 hora", (_H, None): "{n} horas"},
    times={(_D, 1): "una vez al día", (_D, None): "{n} veces al día",
           (_W, 1): "una vez a la semana", (_W, None): "{n} veces a la semana", (_M, 1): "una vez al mes", (_M, None): "{n} veces al mes"},
    number_words=_WORDS,
    up_to_times="hasta {n} veces al día",
    every={(_D, 1): "todos los días", (_D, 2): "en días alternos", (_D, 8): "", (_D, 15): "", (_D, None): "cada {n} días",
           (_H, None): "cada {n} horas",
           (_W, None): "cada {n} semanas", (_M, None): "cada {n} meses"},
    every_range="cada {a} a {b} horas",
    weekdays=("lunes", "martes", "miércoles", "jueves", "viernes", "sábados", "domingos"),
    on_days="los {a}",
    say_month_days=_month_days,
    first_month_days="los primeros {n} días de cada mes",
    cycle="los días {a} a {b} de cada ciclo de {n} días",
    lasting={(_D, 1): "durante 1 día", (_D, None): "durante {n} días", (_W, 1): "durante 1 semana", (_W, None): "durante {n} semanas",
             (_M, 1): "durante 1 mes", (_M, None): "durante {n} meses"},
    since="desde el {a}",
    until="hasta el {a}",
    since_until="desde el {a} hasta el {b}",
    say_date=_date,
    wanted="si precisa",
    wanted_for="si precisa para {a}",
    own_openers=("para", "en", "contra"),
    under_the_tongue="Debajo de la lengua",
    at_most={_H: "No tomar más de {a} en {n} horas", _D: "No tomar más de {a} en {n} días"},
    once="en dosis única",
    then="luego",
    and_word="y",
    to_word="a",
)  # fmt: skip

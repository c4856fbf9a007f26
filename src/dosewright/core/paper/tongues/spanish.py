"""Spanish. Source of the words: pharmacy practice, from memory. Evening is "al atardecer", as in directions: "noche" is bedtime too."""

from datetime import date

from dosewright.core.paper.tongues.tongue import Tongue

__all__ = ["SPANISH"]

_DAYS = ("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo")
_MONTHS = ("enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre")


def _day(day: date) -> str:
    return f"{_DAYS[day.weekday()]} {day.day} de {_MONTHS[day.month - 1]}"


def _span(first: date, last: date) -> str:
    start = f"{_day(first)} de {first.year}" if first.year != last.year else _day(first)
    end = f"{_day(last)} de {last.year}"
    return end if first == last else f"del {start} al {end}"


SPANISH = Tongue(
    lang="es",
    title="Sus medicamentos",
    span=_span,
    born="nacimiento: {a}",
    room="habitación {a}",
    day=_day,
    on_weekdays="los {a}",
    on_dates="solo estos días: {a}",
    weekdays=("lunes", "martes", "miércoles", "jueves", "viernes", "sábados", "domingos"),
    and_word="y",
    slots={"morning": "mañana", "noon": "mediodía", "evening": "atardecer", "bedtime": "al acostarse", "breakfast": "desayuno"},
    when_heading="Cuándo tomarlos",
    own_pack="no está en el pastillero, en su propio envase",
    each_heading="Cada medicamento",
    beside_heading="No están en el pastillero",
    beside_line="Estos también son suyos. No están en el pastillero; vienen en su propio envase.",
    purpose="Para: {a}",
    looks="Aspecto: {a}",
    mark="con la marca {a}",
    how="Cómo: {a}",
    look_new="Aspecto nuevo. Su {b} de {a} ahora es: {c}.",
    look_before="Antes era: {a}.",
    same_medicine="Es el mismo medicamento.",
    continued="{a}, continúa",
    card_line="Su pastillero: {a}",
    differs="Si algo no es como dice aquí, pregunte antes de tomarlo.",
    ask="Pregúntenos: {a}",
    nothing="No hay nada en el pastillero.",
    page="página {n} de {of}",
    made="Hecho el {a}.",
    caution=(
        "Ayuda para personal formado. No sustituye el juicio profesional, la información del producto, la ley local "
        "ni el ejercicio autorizado."
    ),
    forms={
        "tablet": "comprimido",
        "capsule": "cápsula",
        "modified-release tablet": "comprimido de liberación modificada",
        "prolonged-release tablet": "comprimido de liberación prolongada",
        "gastro-resistant tablet": "comprimido gastrorresistente",
        "gastro-resistant capsule": "cápsula gastrorresistente",
        "modified-release capsule": "cápsula de liberación modificada",
        "film-coated tablet": "comprimido recubierto",
        "effervescent tablet": "comprimido efervescente",
        "dispersible tablet": "comprimido dispersable",
        "orodispersible tablet": "comprimido bucodispersable",
        "oral solution": "solución oral",
        "powder for oral solution": "polvo para solución oral",
        "eye drops": "colirio",
        "inhaler": "inhalador",
        "transdermal patch": "parche transdérmico",
        "sublingual spray": "aerosol sublingual",
        "solution for injection": "solución inyectable",
    },
    shapes={"round": "redondo", "oval": "ovalado", "long": "alargado", "capsule": "cápsula"},
    colours={
        "white": "blanco", "yellow": "amarillo", "pale yellow": "amarillo pálido", "pink": "rosa", "red": "rojo", "blue": "azul",
        "light blue": "azul claro", "green": "verde", "grey": "gris", "brown": "marrón", "orange": "naranja", "beige": "beis",
        "peach": "melocotón", "lilac": "lila", "buff": "crema", "clear yellow": "amarillo transparente", "pink and brown": "rosa y marrón",
        "red and white": "rojo y blanco", "yellow and white": "amarillo y blanco", "orange and white": "naranja y blanco",
        "orange and green": "naranja y verde", "green and grey": "verde y gris", "maroon and yellow": "granate y amarillo",
    },
    cautions={
        "take with food": "Tomar con alimentos",
        "take with or just after food": "Tomar con la comida o justo después",
        "take with food, in the morning": "Tomar por la mañana con alimentos",
        "take half an hour before food": "Tomar media hora antes de comer",
        "take half an hour before breakfast": "Tomar media hora antes del desayuno",
        "take at the same times every day": "Tomar todos los días a las mismas horas",
        "take until the course is finished": "Tomar hasta terminar el tratamiento",
        "may make you sleepy": "Puede dar sueño",
        "swallow whole": "Tragar entero",
        "swallow whole with plenty of water, sitting or standing": "Tragar entero con mucha agua, sentado o de pie",
        "dissolve in water before taking": "Disolver en agua antes de tomar",
        "dissolve in half a glass of water": "Disolver en medio vaso de agua",
        "let it melt on the tongue": "Dejar deshacer en la lengua",
        "rinse your mouth after use": "Enjuagar la boca después de usar",
        "stir into water before taking": "Mezclar con agua antes de tomar",
        "once a week, on the same day": "Una vez a la semana, el mismo día",
        "change on the same day each week": "Cambiar el mismo día de cada semana",
        "no more than 8 in 24 hours": "No más de 8 en 24 horas",
        "do not stop taking this medicine unless your doctor tells you": "No deje este medicamento si su médico no se lo dice",
        "do not stop taking this medicine suddenly": "No deje este medicamento de golpe",
        "do not take anything else that contains paracetamol": "No tome nada más que contenga paracetamol",
    },
)  # fmt: skip

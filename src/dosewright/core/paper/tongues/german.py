"""German. Source of the words: pharmacy practice, from memory."""

from datetime import date

from dosewright.core.paper.tongues.tongue import Tongue

__all__ = ["GERMAN"]

_DAYS = ("Montag", "Dienstag", "Mittwoch", "Donnerstag", "Freitag", "Samstag", "Sonntag")
_MONTHS = ("Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember")


def _day(day: date) -> str:
    return f"{_DAYS[day.weekday()]}, {day.day}. {_MONTHS[day.month - 1]}"


def _span(first: date, last: date) -> str:
    start = f"{_day(first)} {first.year}" if first.year != last.year else _day(first)
    end = f"{_day(last)} {last.year}"
    return end if first == last else f"{start} bis {end}"


GERMAN = Tongue(
    lang="de",
    title="Ihre Arzneimittel",
    span=_span,
    born="geboren am {a}",
    room="Zimmer {a}",
    day=_day,
    on_weekdays="{a}",
    on_dates="nur an diesen Tagen: {a}",
    weekdays=("montags", "dienstags", "mittwochs", "donnerstags", "freitags", "samstags", "sonntags"),
    and_word="und",
    slots={"morning": "morgens", "noon": "mittags", "evening": "abends", "bedtime": "vor dem Schlafengehen", "night": "nachts"},
    when_heading="Wann einnehmen",
    own_pack="nicht in der Karte, aus der eigenen Packung",
    each_heading="Jedes Arzneimittel",
    beside_heading="Nicht in der Karte",
    beside_line="Auch diese sind für Sie. Sie sind nicht in der Karte; sie sind in ihrer eigenen Packung.",
    purpose="Wofür: {a}",
    looks="Aussehen: {a}",
    mark="Aufdruck {a}",
    how="{a}",
    look_new="Neues Aussehen. {b} mit {a}, jetzt: {c}.",
    look_before="Vorher: {a}.",
    same_medicine="Es ist dasselbe Arzneimittel.",
    continued="{a}, Fortsetzung",
    card_line="Ihre Karte: {a}",
    differs="Wenn etwas nicht so ist wie hier, fragen Sie, bevor Sie es einnehmen.",
    ask="Fragen Sie uns: {a}",
    nothing="In der Karte ist nichts.",
    page="Seite {n} von {of}",
    made="Erstellt am {a}.",
    caution=(
        "Hilfe für geschultes Personal. Ersetzt nicht fachliches Urteil, Packungsbeilage, örtliches Recht oder zugelassene Berufsausübung."
    ),
    forms={
        "tablet": "Tablette",
        "capsule": "Kapsel",
        "modified-release tablet": "Tablette mit veränderter Wirkstofffreisetzung",
        "prolonged-release tablet": "Retardtablette",
        "gastro-resistant tablet": "magensaftresistente Tablette",
        "gastro-resistant capsule": "magensaftresistente Kapsel",
        "modified-release capsule": "Kapsel mit veränderter Wirkstofffreisetzung",
        "film-coated tablet": "Filmtablette",
        "effervescent tablet": "Brausetablette",
        "dispersible tablet": "Tablette zur Herstellung einer Suspension",
        "orodispersible tablet": "Schmelztablette",
        "oral solution": "Lösung zum Einnehmen",
        "powder for oral solution": "Pulver zur Herstellung einer Lösung zum Einnehmen",
        "eye drops": "Augentropfen",
        "inhaler": "Inhalator",
        "transdermal patch": "transdermales Pflaster",
        "sublingual spray": "Sublingualspray",
        "solution for injection": "Injektionslösung",
    },
    shapes={"round": "rund", "oval": "oval", "long": "länglich", "capsule": "Kapsel"},
    colours={
        "white": "weiß", "yellow": "gelb", "pale yellow": "blassgelb", "pink": "rosa", "red": "rot", "blue": "blau",
        "light blue": "hellblau", "green": "grün", "grey": "grau", "brown": "braun", "orange": "orange", "beige": "beige",
        "peach": "pfirsichfarben", "lilac": "lila", "buff": "hellbraun", "clear yellow": "klar gelb", "pink and brown": "rosa und braun",
        "red and white": "rot und weiß", "yellow and white": "gelb und weiß", "orange and white": "orange und weiß",
        "orange and green": "orange und grün", "green and grey": "grün und grau", "maroon and yellow": "weinrot und gelb",
    },
    cautions={
        "take with food": "Mit einer Mahlzeit einnehmen",
        "take with or just after food": "Während oder gleich nach einer Mahlzeit einnehmen",
        "take with food, in the morning": "Morgens mit einer Mahlzeit einnehmen",
        "take half an hour before food": "Eine halbe Stunde vor dem Essen einnehmen",
        "take half an hour before breakfast": "Eine halbe Stunde vor dem Frühstück einnehmen",
        "take at the same times every day": "Jeden Tag zur gleichen Zeit einnehmen",
        "take until the course is finished": "Bis zum Ende der Behandlung einnehmen",
        "may make you sleepy": "Kann müde machen",
        "swallow whole": "Unzerkaut schlucken",
        "swallow whole with plenty of water, sitting or standing": "Unzerkaut mit viel Wasser im Sitzen oder Stehen schlucken",
        "dissolve in water before taking": "Vor der Einnahme in Wasser auflösen",
        "dissolve in half a glass of water": "In einem halben Glas Wasser auflösen",
        "let it melt on the tongue": "Auf der Zunge zergehen lassen",
        "rinse your mouth after use": "Nach der Anwendung den Mund ausspülen",
        "stir into water before taking": "Vor der Einnahme in Wasser einrühren",
        "once a week, on the same day": "Einmal pro Woche, immer am selben Tag",
        "change on the same day each week": "Jede Woche am selben Tag wechseln",
        "no more than 8 in 24 hours": "Nicht mehr als 8 in 24 Stunden",
        "do not stop taking this medicine unless your doctor tells you": "Setzen Sie dieses Arzneimittel nur ab, wenn Ihr Arzt es sagt",
        "do not stop taking this medicine suddenly": "Setzen Sie dieses Arzneimittel nicht plötzlich ab",
        "do not take anything else that contains paracetamol": "Nehmen Sie nichts anderes ein, das Paracetamol enthält",
    },
)  # fmt: skip

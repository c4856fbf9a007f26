"""French. Source of the words: pharmacy practice, from memory."""

from datetime import date

from dosewright.core.paper.tongues.tongue import Tongue

__all__ = ["FRENCH"]

_DAYS = ("lundi", "mardi", "mercredi", "jeudi", "vendredi", "samedi", "dimanche")
_MONTHS = ("janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre", "octobre", "novembre", "décembre")


def _day(day: date) -> str:
    return f"{_DAYS[day.weekday()]} {'1er' if day.day == 1 else day.day} {_MONTHS[day.month - 1]}"


def _span(first: date, last: date) -> str:
    start = f"{_day(first)} {first.year}" if first.year != last.year else _day(first)
    return f"le {_day(last)} {last.year}" if first == last else f"du {start} au {_day(last)} {last.year}"


FRENCH = Tongue(
    lang="fr",
    title="Vos médicaments",
    span=_span,
    born="date de naissance\u00a0: {a}",
    room="chambre {a}",
    day=_day,
    on_weekdays="le {a}",
    on_dates="seulement\u00a0: {a}",
    weekdays=_DAYS,
    and_word="et",
    slots={"morning": "matin", "noon": "midi", "evening": "soir", "bedtime": "coucher", "breakfast": "petit-déjeuner", "night": "nuit"},
    when_heading="Quand les prendre",
    own_pack="pas dans le pilulier, dans sa propre boîte",
    each_heading="Chaque médicament",
    beside_heading="Pas dans le pilulier",
    beside_line="Ceux-ci sont aussi pour vous. Ils ne sont pas dans le pilulier\u00a0; ils sont dans leur propre boîte.",
    purpose="Pour\u00a0: {a}",
    looks="Aspect\u00a0: {a}",
    mark="marqué {a}",
    how="Comment\u00a0: {a}",
    look_new="Nouvel aspect. Votre {b} de {a} est maintenant\u00a0: {c}.",
    look_before="Avant\u00a0: {a}.",
    same_medicine="C'est le même médicament.",
    continued="{a}, suite",
    card_line="Votre pilulier\u00a0: {a}",
    differs="Si quelque chose ne correspond pas à cette feuille, demandez avant de le prendre.",
    ask="Questions\u00a0: {a}",
    nothing="Rien n'est dans le pilulier.",
    page="page {n} de {of}",
    made="Établi le {a}.",
    caution=(
        "Aide destinée à un personnel formé. Ne remplace ni le jugement professionnel, ni la notice du produit, ni le droit local, "
        "ni l'exercice autorisé."
    ),
    forms={
        "tablet": "comprimé",
        "capsule": "gélule",
        "modified-release tablet": "comprimé à libération modifiée",
        "prolonged-release tablet": "comprimé à libération prolongée",
        "gastro-resistant tablet": "comprimé gastro-résistant",
        "gastro-resistant capsule": "gélule gastro-résistante",
        "modified-release capsule": "gélule à libération modifiée",
        "film-coated tablet": "comprimé pelliculé",
        "effervescent tablet": "comprimé effervescent",
        "dispersible tablet": "comprimé dispersible",
        "orodispersible tablet": "comprimé orodispersible",
        "oral solution": "solution buvable",
        "powder for oral solution": "poudre pour solution buvable",
        "eye drops": "collyre",
        "inhaler": "inhalateur",
        "transdermal patch": "patch transdermique",
        "sublingual spray": "spray sublingual",
        "solution for injection": "solution injectable",
    },
    shapes={"round": "rond", "oval": "ovale", "long": "allongé", "capsule": "gélule"},
    colours={
        "white": "blanc", "yellow": "jaune", "pale yellow": "jaune pâle", "pink": "rose", "red": "rouge", "blue": "bleu",
        "light blue": "bleu clair", "green": "vert", "grey": "gris", "brown": "brun", "orange": "orange", "beige": "beige",
        "peach": "pêche", "lilac": "lilas", "buff": "chamois", "clear yellow": "jaune transparent", "pink and brown": "rose et brun",
        "red and white": "rouge et blanc", "yellow and white": "jaune et blanc", "orange and white": "orange et blanc",
        "orange and green": "orange et vert", "green and grey": "vert et gris", "maroon and yellow": "bordeaux et jaune",
    },
    cautions={
        "take with food": "À prendre avec de la nourriture",
        "take with or just after food": "À prendre pendant ou juste après un repas",
        "take with food, in the morning": "À prendre le matin, avec de la nourriture",
        "take half an hour before food": "À prendre une demi-heure avant de manger",
        "take half an hour before breakfast": "À prendre une demi-heure avant le petit-déjeuner",
        "take at the same times every day": "À prendre aux mêmes heures chaque jour",
        "take until the course is finished": "À prendre jusqu'à la fin du traitement",
        "may make you sleepy": "Peut rendre somnolent",
        "swallow whole": "À avaler entier",
        "swallow whole with plenty of water, sitting or standing": "À avaler entier avec beaucoup d'eau, assis ou debout",
        "dissolve in water before taking": "À dissoudre dans l'eau avant de prendre",
        "dissolve in half a glass of water": "À dissoudre dans un demi-verre d'eau",
        "let it melt on the tongue": "Laisser fondre sur la langue",
        "rinse your mouth after use": "Rincer la bouche après usage",
        "stir into water before taking": "À mélanger dans l'eau avant de prendre",
        "once a week, on the same day": "Une fois par semaine, le même jour",
        "change on the same day each week": "À changer le même jour chaque semaine",
        "no more than 8 in 24 hours": "Pas plus de 8 en 24 heures",
        "do not stop taking this medicine unless your doctor tells you": "N'arrêtez pas ce médicament sauf si votre médecin vous le dit",
        "do not stop taking this medicine suddenly": "N'arrêtez pas ce médicament brusquement",
        "do not take anything else that contains paracetamol": "Ne prenez rien d'autre qui contienne du paracétamol",
    },
)  # fmt: skip

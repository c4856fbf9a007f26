"""Everyday directions put together from parts, each with what it must mean; shared by the properties. Source: practice, from memory."""

from hypothesis import strategies as st

AMOUNTS = {
    "en": ("1 tablet", "Take ONE tablet", "Take 2 capsules", "half a tablet", "Take 1½ tablets", "5 mL"),
    "fr": ("1 comprimé", "Prendre 2 gélules", "un demi-comprimé", "5 mL"),
    "es": ("1 comprimido", "Tomar 2 cápsulas", "medio comprimido", "5 mL"),
    "de": ("1 Tablette", "2 Kapseln", "eine halbe Tablette", "10 Tropfen"),
}
TIMES = {
    "en": ("in the morning", "twice a day", "at bedtime", "every 8 hours", "once daily with food", "every other day",
           "on Mondays and Thursdays", "three times a day", "at 8 am", "before breakfast", "when needed for pain",
           "every morning and every evening"),
    "fr": ("le matin", "matin et soir", "3 fois par jour", "au coucher", "toutes les 8 heures", "un jour sur deux",
           "le lundi et le jeudi", "si besoin"),
    "es": ("por la mañana", "dos veces al día", "al acostarse", "cada 8 horas", "en días alternos",
           "los lunes y jueves", "si precisa"),
    "de": ("morgens", "morgens und abends", "zur Nacht", "alle 8 Stunden", "jeden zweiten Tag",
           "montags und donnerstags", "bei Bedarf"),
}  # fmt: skip
ENDS = {
    "en": ("", "", "for 7 days", "for 2 weeks", "until 10 April 2026"),
    "fr": ("", "", "pendant 7 jours", "jusqu'au 10 avril 2026"),
    "es": ("", "", "durante 7 días", "hasta el 10 de abril de 2026"),
    "de": ("", "", "für 7 Tage", "bis zum 10. April 2026"),
}
COUNTRIES = {"en": "GB", "fr": "FR", "es": "ES", "de": "DE"}
NEGATIONS = {
    "en": ("not", "no", "never", "without", "do not"),
    "fr": ("ne pas", "pas", "sans"),
    "es": ("no", "nunca", "sin"),
    "de": ("nicht", "kein", "ohne"),
}
UNKNOWN = ("blorp", "zwindel", "quaxo", "frimme", "tavoli")


@st.composite
def lines(draw: st.DrawFn, lang: str) -> str:
    """One readable direction."""
    parts = (draw(st.sampled_from(AMOUNTS[lang])), draw(st.sampled_from(TIMES[lang])), draw(st.sampled_from(ENDS[lang])))
    return " ".join(part for part in parts if part)

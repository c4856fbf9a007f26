"""What comes next for a card, and whose work that is. One table, read by the work list, the set and the card's own screen."""

from dataclasses import dataclass

from django.urls import reverse

from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.units.ids import CardNumber
from dosewright.web.wording import say_roles

__all__ = ["Step", "holds_up", "next_step", "step_ability"]


@dataclass(frozen=True, slots=True)
class Step:
    """`words` say what will be done, on the button; `url` where. `waits_for` names whose work it is."""

    words: str
    url: str
    ability: Ability

    @property
    def waits_for(self) -> str:
        """ "Waits for a checker or a pharmacist: check card TS-1"."""
        return f"{self.words}: waits for {say_roles(RIGHTS[self.ability])}"

    def may(self, role: Role) -> bool:
        """Whether somebody of that role may take it."""
        return role in RIGHTS[self.ability]


_STEPS: dict[Stage, tuple[str, str, Ability]] = {
    Stage.PRINTED: ("Fill card", "fill", Ability.PLACE_MEDICINE),
    Stage.FILLING: ("Go on filling card", "fill", Ability.PLACE_MEDICINE),
    Stage.FILLED: ("Check card", "check", Ability.CHECK_CARD),
    Stage.CHECKED: ("Seal card", "seal", Ability.SEAL_CARD),
    Stage.SEALED: ("Release card", "release", Ability.RELEASE_CARD),
    Stage.RELEASED: ("Hand over card", "hand-over", Ability.HAND_OVER_CARD),
    Stage.HANDED_OVER: ("Take back card", "return-card", Ability.TAKE_RETURN),
    Stage.RECEIVED: ("Take back card", "return-card", Ability.TAKE_RETURN),
    Stage.IN_USE: ("Take back card", "return-card", Ability.TAKE_RETURN),
}


# What brings a card on that holds units of a recalled lot, as far as it has come: they come out of it, or it goes out of use.
_UNHELD: dict[Stage, tuple[str, str, Ability]] = {
    Stage.FILLING: ("Take what is recalled out of card", "take-out", Ability.TAKE_OUT_MEDICINE),
    Stage.FILLED: ("Send back card", "send-back", Ability.SEND_BACK_CARD),
    Stage.CHECKED: ("Send back card", "send-back", Ability.SEND_BACK_CARD),
    Stage.SEALED: ("Send back card", "send-back", Ability.SEND_BACK_CARD),
    Stage.RELEASED: ("Take out of use card", "withdraw", Ability.WITHDRAW_CARD),
}


def holds_up(stage: Stage) -> bool:
    """Whether a recalled lot in a card of this stage keeps it in the pharmacy."""
    return stage in _UNHELD


def step_ability(stage: Stage, *, out_of_date: bool, recalled: bool = False) -> Ability | None:
    """What `next_step` takes, without the words: for lists of many."""
    if out_of_date:
        return Ability.DECIDE_CARD
    if recalled and stage in _UNHELD:
        return _UNHELD[stage][2]
    return Ability.PRINT_SET if stage is Stage.PLANNED else _STEPS[stage][2] if stage in _STEPS else None


def next_step(number: CardNumber, set_id: int, stage: Stage, *, out_of_date: bool, recalled: bool = False) -> Step | None:
    """The one thing that comes next, None where the card's life is over. Being out of date comes before everything else (R9), then that it
    holds units of a lot that is `recalled`."""
    if out_of_date:
        return Step(f"Decide about card {format_card_number(number)}", reverse("out-of-date", args=[number]), Ability.DECIDE_CARD)
    if stage is Stage.PLANNED:
        return Step("Print the paper of this set", reverse("paper", args=[set_id]), Ability.PRINT_SET)
    if stage not in _STEPS:
        return None
    words, name, ability = _UNHELD[stage] if recalled and stage in _UNHELD else _STEPS[stage]
    return Step(f"{words} {format_card_number(number)}", reverse(name, args=[number]), ability)

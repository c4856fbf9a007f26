"""What a scan at the bench is: a card's number, or a bottle with product, lot and expiry. Decided here only, so that none is mistaken."""

from dataclasses import dataclass, replace
from datetime import date

from django import forms

from dosewright.core.interop.gs1 import Scan
from dosewright.core.interop.pack_code import parse_pack_code
from dosewright.core.packing.card_number import right_card_number
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, Lot
from dosewright.store.catalogue import identify

__all__ = ["LONGEST_SCAN", "BottleForm", "InHand", "PlaceForm", "in_hand", "read_card_number", "read_scan", "unnamed"]

LONGEST_SCAN = 300  # characters; a GS1 element string is at most 90 or so


def read_card_number(text: str) -> CardNumber | None:
    """The number of a card, where the text is one whose check digit is right; blanks between groups of digits do not count."""
    bare = "".join(text.split())
    return CardNumber(bare) if right_card_number(bare) else None


def read_scan(text: str, today: date) -> Scan:
    """The bottle's code."""
    return parse_pack_code(text[:LONGEST_SCAN], today.year)


@dataclass(frozen=True, slots=True)
class InHand:
    """The bottle in somebody's hand: the scan as typed, lot and expiry from the code or read from the bottle."""

    scan: str
    proof: Proof
    lot: Lot
    expiry: date | None
    findings: tuple[Finding, ...]

    @property
    def complete(self) -> bool:
        """Whether product, lot and expiry are all known."""
        return bool(self.lot) and self.expiry is not None


class BottleForm(forms.Form):
    """What the code on a bottle does not say is read from its label; a bottle without a code needs a reason."""

    scan = forms.CharField(required=False, max_length=LONGEST_SCAN, strip=False)
    lot = forms.CharField(label="Lot", required=False, max_length=20)
    expiry = forms.DateField(label="Expires", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    reason = forms.CharField(label="Why it cannot be scanned", required=False, max_length=500)


class PlaceForm(BottleForm):
    """A placement: the medicine, and lot and expiry in any case."""

    medicine = forms.CharField(max_length=60)
    lot = forms.CharField(max_length=20)
    expiry = forms.DateField()


def in_hand(said: dict[str, object], today: date) -> InHand:
    """`said` is the cleaned form. What the code says and what was typed are both kept: `check_proof` compares them."""
    read = unnamed(said, today)
    return replace(read, proof=identify(read.proof))


def unnamed(said: dict[str, object], today: date) -> InHand:
    """The same before anybody asked which medicine the code names: a placement asks that itself, where it is recorded."""
    scan = str(said.get("scan") or "")
    read = read_scan(scan, today) if scan.strip() else Scan()
    typed = Lot(str(said.get("lot") or "").strip())
    expiry = said.get("expiry")
    proof = Proof(read.gtin, None, read.lot, read.expiry, str(said.get("reason") or ""))
    return InHand(scan, proof, typed or read.lot or Lot(""), expiry if isinstance(expiry, date) else read.expiry, read.findings)

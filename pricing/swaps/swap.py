"""Which swap it is: what goes out, what comes in for it, and of which purchase."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

LEAVE_OUT = "leave out"  # as substitute: nothing takes the ingredient's place
DISH = "dish:"  # before the name of a dish that takes it


@dataclass(frozen=True, kw_only=True)
class SwapName:
    """What tells a swap from the others of a dish."""

    ingredient: str
    substitute: str  # an ingredient, dish:NAME, or LEAVE_OUT
    ratio: float  # as purchased, base units of the substitute (g of a dish) per base unit; 0 = out
    supplier: str | None  # the swap is to a purchase from there
    product: str | None
    pack: str | None  # as written

    def named(self) -> dict[str, Any]:
        """Return these fields, to name another record of the same swap."""
        return {each.name: getattr(self, each.name) for each in fields(SwapName)}

    def purchase_words(self) -> str:
        """Return product, supplier and pack, as far as they are stated; else ""."""
        return ", ".join(each for each in (self.product, self.supplier, self.pack) if each)

    def in_words(self) -> str:
        """Return what the swap does: "margarine for butter", "butter left out", "less butter …"."""
        bought = self.purchase_words()
        if self.substitute == LEAVE_OUT:
            return f"{self.ingredient} left out"
        if self.substitute == self.ingredient:
            if bought:
                return f"{self.ingredient} as {bought}"
            return f"less {self.ingredient} ({100 * self.ratio:.0f} % of it)"
        put = self.substitute.removeprefix(DISH)
        own = " of your own" if self.substitute.startswith(DISH) else ""
        return f"{put}{own}{f' ({bought})' if bought else ''} for {self.ingredient}"

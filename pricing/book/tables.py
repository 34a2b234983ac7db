"""The columns of every table that rows are appended to, as data: what is stored and as what."""

from __future__ import annotations

# Every appended table, its columns in stored order and the type each is cast to. Decimals travel as
# text, so that nothing passes through a float on the way in.
TABLES: dict[str, dict[str, str]] = {
    "ingredient_fact": {
        "ingredient_id": "INTEGER",
        "category": "VARCHAR",
        "base": "VARCHAR",
        "density_g_per_ml": "DECIMAL(18, 9)",
        "grams_each": "DECIMAL(18, 9)",
        "yield_pct": "DECIMAL(9, 6)",
        "series": "VARCHAR",
        "allergens": "VARCHAR[]",
        "aliases": "VARCHAR[]",
    },
    "measure": {
        "ingredient_id": "INTEGER",
        "measure": "VARCHAR",
        "measure_key": "VARCHAR",
        "grams": "DECIMAL(18, 9)",
        "source": "VARCHAR",
    },
    "observation": {
        "ingredient_id": "INTEGER",
        "observed_on": "DATE",
        "price": "DECIMAL(18, 4)",
        "currency": "VARCHAR",
        "pack": "VARCHAR",
        "pack_amount": "DECIMAL(28, 12)",
        "pack_dimension": "VARCHAR",
        "pack_measure_key": "VARCHAR",
        "supplier": "VARCHAR",
        "supplier_key": "VARCHAR",
        "kind": "VARCHAR",
        "tax_pct": "DECIMAL(9, 4)",
        "region": "VARCHAR",
        "region_key": "VARCHAR",
        "product": "VARCHAR",
        "product_key": "VARCHAR",
        "source": "VARCHAR",
        "note": "VARCHAR",
    },
    "dish_version": {
        "row_id": "BIGINT",
        "dish_id": "INTEGER",
        "version": "VARCHAR",
        "effective_from": "DATE",
        "portions": "DECIMAL(18, 6)",
        "batch_weight_g": "DECIMAL(18, 6)",
    },
    "dish_line": {
        "version_row": "BIGINT",
        "position": "INTEGER",
        "ingredient_id": "INTEGER",
        "sub_dish_id": "INTEGER",
        "quantity": "VARCHAR",
        "unit": "VARCHAR",
        "amount": "DECIMAL(28, 12)",
        "dimension": "VARCHAR",
        "measure_key": "VARCHAR",
        "state": "VARCHAR",
        "yield_pct": "DECIMAL(9, 6)",
        "pantry": "BOOLEAN",
        "note": "VARCHAR",
    },
    "dish_detail": {
        "version_row": "BIGINT",
        "dish_group": "VARCHAR",
        "minutes": "DECIMAL(18, 6)",
        "made_per_month": "DECIMAL(18, 6)",
        "target": "DECIMAL(18, 4)",
    },
    "dish_trial": {
        "version_row": "BIGINT",
        "minutes_waiting": "DECIMAL(18, 6)",
        "energy_kwh": "DECIMAL(18, 6)",
        "pots": "INTEGER",
        "marks": "VARCHAR[]",
        "tasting_note": "VARCHAR",
    },
    "swap": {
        "row_id": "BIGINT",
        "ingredient_id": "INTEGER",
        "substitute_id": "INTEGER",
        "ratio": "DECIMAL(18, 9)",
        "note": "VARCHAR",
    },
    "swap_detail": {
        "swap_row": "BIGINT",
        "substitute_dish_id": "INTEGER",
        "ratio_state": "VARCHAR",
        "supplier": "VARCHAR",
        "supplier_key": "VARCHAR",
        "product": "VARCHAR",
        "product_key": "VARCHAR",
        "pack": "VARCHAR",
        "pack_amount": "DECIMAL(28, 12)",
        "pack_dimension": "VARCHAR",
        "pack_measure_key": "VARCHAR",
        "works_in": "VARCHAR[]",
        "not_in": "VARCHAR[]",
        "not_with": "VARCHAR[]",
        "only_with": "VARCHAR[]",
        "disturbance": "DECIMAL(9, 4)",
    },
    "tray_line": {
        "sender": "VARCHAR",
        "sender_key": "VARCHAR",
        "words": "VARCHAR",
        "words_key": "VARCHAR",
        "item_number": "VARCHAR",
        "gtin": "VARCHAR",
        "observed_on": "DATE",
        "price": "DECIMAL(18, 4)",
        "packs": "DECIMAL(18, 6)",
        "pack": "VARCHAR",
        "unit": "VARCHAR",
        "currency": "VARCHAR",
        "price_kind": "VARCHAR",
        "tax_pct": "DECIMAL(9, 4)",
        "region": "VARCHAR",
        "product": "VARCHAR",
        "source": "VARCHAR",
        "note": "VARCHAR",
    },
    "tray_settled": {
        "tray_row": "BIGINT",
    },
    "decision": {
        "sender": "VARCHAR",
        "sender_key": "VARCHAR",
        "words": "VARCHAR",
        "words_key": "VARCHAR",
        "ingredient_id": "INTEGER",
        "pack": "VARCHAR",
        "product": "VARCHAR",
    },
    "layout": {
        "fingerprint": "VARCHAR",
        "kind": "VARCHAR",
        "sender": "VARCHAR",
        "layout": "VARCHAR",
    },
    "printed_figure": {
        "row_id": "BIGINT",
        "dish_id": "INTEGER",
        "version": "VARCHAR",
        "published_on": "DATE",
        "cost_per_portion": "DECIMAL(18, 4)",
        "currency": "VARCHAR",
        "published_where": "VARCHAR",
        "note": "VARCHAR",
    },
    "printed_detail": {
        "figure_row": "BIGINT",
        "costed_on": "DATE",
        "as_printed": "VARCHAR",
    },
    "printed_evidence": {
        "figure_row": "BIGINT",
        "recorded_at": "TIMESTAMP",
        "evidence": "VARCHAR",
        "evidence_sha256": "VARCHAR",
    },
    "series": {
        "series": "VARCHAR",
        "title": "VARCHAR",
        "parent": "VARCHAR",
        "classification": "VARCHAR",
        "seasonally_adjusted": "BOOLEAN",
    },
    "series_value": {
        "series": "VARCHAR",
        "month": "DATE",
        "value": "DOUBLE",
        "released_on": "DATE",
    },
    "series_detail": {
        "series": "VARCHAR",
        "base_label": "VARCHAR",
        "frequency": "VARCHAR",
        "note": "VARCHAR",
    },
    "series_link": {
        "series": "VARCHAR",
        "older": "VARCHAR",
        "newer": "VARCHAR",
        "first_month": "DATE",
        "last_month": "DATE",
        "factor": "DOUBLE",
        "spread_pct": "DOUBLE",
        "approximate": "BOOLEAN",
        "reason": "VARCHAR",
    },
    "series_part": {
        "series": "VARCHAR",
        "source": "VARCHAR",
        "factor": "DOUBLE",
        "from_month": "DATE",
        "before_month": "DATE",
    },
}

# The tables each kind of load fills; the first holds its data rows, one for one; see data_tables.
KIND_TABLES: dict[str, tuple[str, ...]] = {
    "ingredients": ("ingredient_fact",),
    "measures": ("measure",),
    "prices": ("observation", "tray_line", "layout"),
    "dishes": ("dish_line", "dish_version", "dish_detail", "dish_trial"),
    "swaps": ("swap", "swap_detail"),
    "printed": (
        "printed_figure", "printed_evidence", "printed_detail", "layout", "observation",
        "tray_line",
    ),
    "index": ("series_value", "series", "series_detail", "series_link", "series_part"),
    "decisions": (
        "decision", "tray_settled", "ingredient_fact", "observation", "dish_line", "dish_version",
        "dish_detail", "dish_trial",
    ),
}  # fmt: skip

# Kinds whose data rows are in more tables than the first: the costed lines of a dish are prices and
# a printed figure.
DATA_TABLES: dict[str, tuple[str, ...]] = {"printed": ("printed_figure", "observation")}

# Tables that came with a later structure step. Where a load put nothing into one of them, its
# digest says nothing of it, so that loads stored before that step keep theirs.
ADDED_LATER = frozenset(
    {
        "printed_evidence", "printed_detail", "series_detail", "series_link", "series_part",
        "swap_detail", "dish_detail", "dish_trial", "tray_line", "layout", "decision",
        "tray_settled",
    }
)  # fmt: skip

# The same of tables that a kind of load did not fill at first.
FILLED_LATER = frozenset({("printed", "observation")})


def data_tables(kind: str) -> tuple[str, ...]:
    """Return the tables that hold the data rows of a kind of load."""
    return DATA_TABLES.get(kind, KIND_TABLES[kind][:1])

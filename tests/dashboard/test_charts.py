"""The charts as descriptions: what is drawn, with which dash, shape, label and axis."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest

from dashboard.charts.axes import spread
from dashboard.charts.colours import BLUE, EACH, GREEN, SKY, VERMILION, letters, paper
from dashboard.charts.drift_of_dish import drift_chart
from dashboard.charts.drift_of_dishes import ONE_CHART, dishes_chart
from dashboard.charts.price_of_ingredient import TYPICAL_MOVED, TYPICAL_SEEN, price_chart
from dashboard.charts.spans import AT_LEAST, MOVED, SEEN, spans, state_of


def points(states: list[str], versions: list[str] | None = None) -> pd.DataFrame:
    """Months from January 2020 with these states; the cost rises by 0.10 from 1.00."""
    on = pd.date_range("2020-01-15", periods=len(states), freq=pd.DateOffset(months=1))
    cost = [1 + 0.1 * number for number in range(len(states))]
    return pd.DataFrame(
        {
            "dish": "soup",
            "month": on.strftime("%Y-%m"),
            "on": on,
            "version": versions or ["1"] * len(states),
            "cost": cost,
            "state": states,
            "evidence": "all from prices seen",
            "shown": [f"${each:.2f}" for each in cost],
            "day": on.strftime("%-d %B %Y"),
        }
    )


def printed(*figures: tuple[str, float]) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "on": pd.to_datetime([on for on, _ in figures]),
            "cost": [cost for _, cost in figures],
            "label": [f"printed ${cost:.2f}" for _, cost in figures],
            "shown": [f"${cost:.2f}" for _, cost in figures],
            "day": [on for on, _ in figures],
            "version": ["1" for _ in figures],
            "place": ["Harbour Sheet" for _ in figures],
        }
    )


def moved(**ends: float) -> pd.DataFrame:
    names = {"food": "food prices", "everything": "all items"}
    return pd.DataFrame(
        [
            {"which": names[which], "on": on, "cost": cost, "shown": f"${cost:.2f}", "day": ""}
            for which, end in ends.items()
            for on, cost in ((pd.Timestamp("2020-01-15"), 1.0), (pd.Timestamp("2020-04-15"), end))
        ],
        columns=["which", "on", "cost", "shown", "day"],
    ).astype({"on": "datetime64[ns]"})


def changes(*versions: tuple[str, str]) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "on": pd.to_datetime([on for on, _ in versions]),
            "label": [f"version {label}" for _, label in versions],
        }
    )


def drawn(
    states: list[str],
    *,
    versions: list[str] | None = None,
    figures: tuple[tuple[str, float], ...] = (),
    ends: dict[str, float] | None = None,
    since: tuple[tuple[str, str], ...] = (),
    dark: bool = False,
) -> dict[str, Any]:
    chart = drift_chart(
        points(states, versions), printed(*figures), moved(**(ends or {})), changes(*since),
        currency="USD", dark=dark,
    )  # fmt: skip
    return chart.to_dict()


def layers(spec: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    return [layer for layer in spec["layer"] if layer["mark"]["type"] == kind]


def rows(spec: dict[str, Any], layer: dict[str, Any]) -> list[dict[str, Any]]:
    return spec["datasets"][layer["data"]["name"]]


def the_line(spec: dict[str, Any]) -> dict[str, Any]:
    (line,) = (each for each in layers(spec, "line") if "strokeDash" in each["encoding"])
    return line


def test_a_month_is_seen_moved_or_at_least() -> None:
    assert state_of(True, 0.0) == SEEN
    assert state_of(True, 0.5) == SEEN  # half is still mostly seen
    assert state_of(True, 0.51) == MOVED
    assert state_of(False, 0.0) == AT_LEAST
    assert state_of(True, None) == AT_LEAST  # nothing is priced


def test_a_span_between_two_months_has_the_weaker_state() -> None:
    cut = spans(points([SEEN, SEEN, MOVED, SEEN]))
    pieces = [(list(each["month"]), each["state"].iloc[0]) for _, each in cut.groupby("span")]
    assert pieces == [
        (["2020-01", "2020-02"], SEEN),
        (["2020-02", "2020-03", "2020-04"], MOVED),
    ]


def test_the_line_breaks_where_the_version_changes() -> None:
    cut = spans(points([SEEN] * 4, ["1", "1", "2", "2"]))
    assert [list(each["month"]) for _, each in cut.groupby("span")] == [
        ["2020-01", "2020-02"],
        ["2020-03", "2020-04"],
    ]


def test_seen_and_moved_differ_by_dash_and_by_shade() -> None:
    line = the_line(drawn([SEEN, SEEN, MOVED]))
    dash, shade = line["encoding"]["strokeDash"]["scale"], line["encoding"]["color"]["scale"]
    assert dash["domain"] == shade["domain"] == [SEEN, MOVED]
    assert dash["range"][0] != dash["range"][1]
    assert shade["range"] == [BLUE, SKY]


def test_the_legend_names_only_what_is_drawn() -> None:
    scale = the_line(drawn([MOVED, MOVED]))["encoding"]["strokeDash"]["scale"]
    assert scale["domain"] == [MOVED]


def test_every_month_can_be_pointed_at() -> None:
    spec = drawn([SEEN, MOVED, AT_LEAST])
    (touch,) = (each for each in layers(spec, "circle") if each["mark"]["opacity"] == 0)
    assert len(rows(spec, touch)) == 3
    assert [hint["field"] for hint in touch["encoding"]["tooltip"]] == [
        "day", "shown", "version", "evidence",
    ]  # fmt: skip


def test_the_axis_starts_at_zero_and_carries_currency_and_unit() -> None:
    axis = the_line(drawn([SEEN, SEEN]))["encoding"]["y"]
    assert axis["title"] == "Cost per portion, USD"
    assert axis["scale"]["domain"][0] == 0
    assert axis["axis"]["labelExpr"].startswith("'$' + format(")


def test_printed_figures_are_labelled_marks() -> None:
    spec = drawn([SEEN] * 4, figures=(("2020-02-20", 1.05),))
    (mark,) = layers(spec, "point")
    assert (mark["mark"]["shape"], mark["mark"]["color"]) == ("diamond", VERMILION)
    assert [row["label"] for row in rows(spec, mark)] == ["printed $1.05"]
    rim, label = (
        each for each in layers(spec, "text") if each["encoding"]["text"]["field"] == "label"
    )
    assert rim["mark"]["stroke"] == paper(dark=False)
    assert label["mark"]["align"] == "center"


def test_a_label_at_the_edge_grows_inwards() -> None:
    spec = drawn([SEEN] * 12, figures=(("2020-01-16", 1.0), ("2020-12-14", 2.0)))
    aligns = {
        each["mark"]["align"]
        for each in layers(spec, "text")
        if each["encoding"]["text"]["field"] == "label"
    }
    assert aligns == {"left", "right"}


def test_rebased_lines_are_thin_dashed_apart_and_labelled_at_their_end() -> None:
    spec = drawn([SEEN] * 4, ends={"food": 1.20, "everything": 1.25})
    food, everything = (each for each in layers(spec, "line") if "color" in each["mark"])
    assert food["mark"]["strokeWidth"] < 2
    assert food["mark"]["strokeDash"] != everything["mark"]["strokeDash"]
    words = [rows(spec, each)[0]["words"] for each in layers(spec, "text")]
    assert words == [
        "cost of this dish\n$1.30, 15 Apr 2020",
        "printed figure by\nfood prices $1.20",
        "printed figure by\nall items $1.25",
    ]


def test_labels_that_would_cover_each_other_are_spread() -> None:
    spec = drawn([SEEN] * 4, ends={"food": 1.30, "everything": 1.30})
    places = sorted(rows(spec, each)[0]["cost"] for each in layers(spec, "text"))
    assert len(places) == 3
    top = the_line(spec)["encoding"]["y"]["scale"]["domain"][1]
    least = 32 * top / 320  # pixels of two short lines of words, on an axis of 320
    assert places[1] - places[0] >= least - 1e-9
    assert places[2] - places[1] >= least - 1e-9


def test_spread_keeps_places_that_are_far_apart_and_the_order_of_the_others() -> None:
    assert spread([1.0, 3.0], top=4.0, height=100, least=25) == [1.0, 3.0]
    low, high, far = spread([2.1, 2.2, 0.0], top=4.0, height=100, least=25)
    assert high - low == pytest.approx(1.0)
    assert far == pytest.approx(0.0)
    assert max(spread([4.0, 4.0], top=4.0, height=100, least=25)) <= 4.0


def test_a_version_change_is_a_line_with_its_name() -> None:
    spec = drawn([SEEN] * 4, versions=["1", "1", "2", "2"], since=(("2020-03-01", "2"),))
    (rule,) = layers(spec, "rule")
    assert [row["label"] for row in rows(spec, rule)] == ["version 2"]


def test_words_have_enough_contrast_on_light_and_on_dark() -> None:
    # WCAG 2.2, 1.4.3 and its definitions of relative luminance and contrast ratio: 4.5 to 1
    for colour in (BLUE, GREEN, VERMILION, "#CC79A7"):
        for dark in (False, True):
            assert contrast(letters(colour, dark=dark), paper(dark=dark)) >= 4.5


def contrast(one: str, other: str) -> float:
    def luminance(colour: str) -> float:
        shares = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        red, green, blue = (
            share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
            for share in shares
        )
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_black_on_white_is_21() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)  # WCAG 2.2


def history(**offers: bool) -> dict[str, Any]:
    seen = pd.DataFrame(
        {
            "on": pd.date_range("2020-01-10", periods=len(offers), freq=pd.DateOffset(months=1)),
            "price": 2.0,
            "supplier": [name.replace("_", " ") for name in offers],
            "offer": list(offers.values()),
            "kind": ["offer" if offer else "shelf" for offer in offers.values()],
            "shown": "$2.00 per kg",
            "day": "",
            "pack": "$2.00 for 1 kg",
        }
    )
    days = pd.date_range("2020-01-15", periods=3, freq=pd.DateOffset(months=1))
    typical = pd.DataFrame(
        {
            "month": days.strftime("%Y-%m-%d"), "on": days, "price": 2.0,
            "state": [TYPICAL_SEEN, TYPICAL_SEEN, TYPICAL_MOVED], "version": "",
            "shown": "", "day": "",
        }
    )  # fmt: skip
    official = pd.DataFrame({"on": days, "price": [1.9, 2.0, 2.1]})
    return price_chart(seen, typical, official, currency="USD", unit="per kg").to_dict()


def test_prices_seen_are_points_by_supplier_and_offers_are_hollow() -> None:
    spec = history(Quay_Market=False, Salt_Lane=True)
    full, hole = layers(spec, "point")
    assert full["encoding"]["fill"]["scale"]["domain"] == ["Quay Market", "Salt Lane"]
    shapes = full["encoding"]["shape"]["scale"]["range"]
    assert len(set(shapes)) == len(shapes) == 2
    assert hole["mark"]["color"] == paper(dark=False)
    assert [row["supplier"] for row in rows(spec, hole)] == ["Salt Lane"]
    assert full["encoding"]["y"]["title"] == "Price per kg, USD"


def test_the_official_series_and_the_typical_price_have_dashes_of_their_own() -> None:
    (line,) = layers(history(Quay_Market=False), "line")
    dashes = line["encoding"]["strokeDash"]["scale"]["range"]
    assert len({tuple(dash) for dash in dashes}) == len(dashes) == 3


def test_more_suppliers_than_shapes_share_the_last_one() -> None:
    spec = history(**{f"shop_{letter}": False for letter in "abcdefgh"})
    (full,) = layers(spec, "point")
    domain = full["encoding"]["shape"]["scale"]["domain"]
    assert len(domain) == len(EACH)
    assert domain[-1] == "other suppliers"


def several(count: int) -> pd.DataFrame:
    return pd.concat([points([SEEN] * 3).assign(dish=f"dish {each}") for each in range(count)])


def test_a_few_dishes_share_a_chart_and_differ_by_colour_dash_and_shape() -> None:
    spec = dishes_chart(several(ONE_CHART), currency="USD").to_dict()
    encoding = spec["layer"][0]["encoding"]
    for channel in ("color", "strokeDash"):
        made = encoding[channel]["scale"]["range"]
        assert len({str(each) for each in made}) == ONE_CHART


def test_many_dishes_get_a_small_chart_each() -> None:
    spec = dishes_chart(several(ONE_CHART + 1), currency="USD").to_dict()
    assert spec["facet"]["field"] == "dish"


def test_a_figure_that_is_only_at_least_is_hollow_and_joined_to_nothing() -> None:
    # a missing price that comes in must not look like a rise: 1.00 and 1.10 are at least
    states = [AT_LEAST, AT_LEAST, SEEN, SEEN]
    cut = spans(points(states))
    assert [list(each["month"]) for _, each in cut.groupby("span")] == [["2020-03", "2020-04"]]
    spec = drawn(states)
    (hollow,) = layers(spec, "point")
    assert hollow["mark"]["filled"] is False
    assert [row["cost"] for row in rows(spec, hollow)] == pytest.approx([1.0, 1.1])
    assert hollow["encoding"]["shape"]["scale"]["domain"] == [AT_LEAST]
    assert "shape" not in the_line(spec)["encoding"]


def test_a_month_alone_between_gaps_is_still_a_point() -> None:
    spec = drawn([AT_LEAST, MOVED, AT_LEAST])
    shown = [each for each in layers(spec, "circle") if each["mark"]["opacity"] == 1]
    assert [row["state"] for each in shown for row in rows(spec, each)] == [MOVED]


@pytest.mark.parametrize("dishes", [2, ONE_CHART + 1])
def test_lines_of_several_dishes_break_where_a_price_is_missing(dishes: int) -> None:
    frame = several(dishes).reset_index(drop=True)
    frame["state"] = SEEN
    frame.loc[frame.index[0], "state"] = AT_LEAST
    spec = dishes_chart(frame, currency="USD").to_dict()
    assert "at least" in spec["title"]["text"]
    line, *_, hollow = spec["layer"] if dishes == 2 else spec["spec"]["layer"]
    data = spec["datasets"][(line if dishes == 2 else spec)["data"]["name"]]
    assert [row["cost"] for row in data].count(None) == 1
    assert hollow["mark"]["type"] == "point"
    frame["state"] = SEEN
    assert "title" not in dishes_chart(frame, currency="USD").to_dict()


def test_labels_of_versions_that_follow_soon_stand_a_line_lower() -> None:
    since = (("2020-01-15", "1"), ("2020-02-15", "2"), ("2022-01-15", "3"))
    spec = drawn([SEEN] * 36, since=since)
    heights = {
        row["label"]: each["mark"]["dy"]
        for each in layers(spec, "text")
        for row in rows(spec, each)
        if each["encoding"]["text"]["field"] == "label"
    }
    assert heights["version 1"] == heights["version 3"] < heights["version 2"]

"""Fetching from each office: what is asked, what is kept, and what is said when it fails."""

from __future__ import annotations

import hashlib
import json
from typing import Any

import pytest

from ingest.offices.asking import net
from ingest.offices.asking.faults import FetchRefused
from ingest.offices.asking.fetch import FetchReport, fetch
from ingest.problem_codes import Code
from pricing.book.connect import Book, reading
from pricing.book.fetched import kept_bytes
from pricing.book.keeping.check import check
from pricing.contents.series import list_series, show_series
from pricing.errors import InputRefused, UnknownName
from tests import terminal
from tests.ingest.offices.stand_in import Answer, Asked, StandIn, specimen
from tests.kitchen import TODAY

ONS, EUROSTAT, BLS = "www.ons.gov.uk", "ec.europa.eu", "api.bls.gov"
STATCAN, ABS, OECD, IMF = (
    "www150.statcan.gc.ca", "data.api.abs.gov.au", "sdmx.oecd.org", "api.imf.org"
)  # fmt: skip
CSO = "ws.cso.ie"


def get(book: Book, office: str, *ids: str, **words: Any) -> FetchReport:
    """Fetch without waiting, and without a word."""
    words = {"pause": lambda _: None, **words}
    found = fetch(book, office, ids, today=TODAY, **words)
    assert found.report.problems == (), [p.sentence() for p in found.report.problems]
    return found


def values(book: Book, series: str) -> dict[str, float]:
    return {f"{month:%Y-%m}": value for month, value in show_series(book, series).months}


def values_of(book: Book, series: str) -> int:
    with reading(book) as con:
        sql = "SELECT count(*) FROM series_value WHERE series = ?"
        row = con.execute(sql, [series]).fetchone()
    return int(row[0]) if row else -1


def own(book: Book) -> set[str]:
    return {each.series for each in list_series(book) if not each.series.startswith("us-bls:")}


def test_ons_is_asked_for_each_series_by_its_identifier(kitchen: Book, office: StandIn) -> None:
    office.says[ONS] = [specimen("ons_single.csv")]
    found = get(kitchen, "uk-ons", "D7BT")
    (asked,) = office.asked
    assert asked.path == (
        "/generator?format=csv&uri=/economy/inflationandpriceindices/timeseries/d7bt/mm23"
    )
    assert (found.report.added, found.report.already) == (3, 0)
    assert values(kitchen, "uk-ons:D7BT") == {"1988-01": 48.4, "1988-02": 48.6, "2026-02": 140.1}


def test_the_asker_names_the_program_and_no_person(kitchen: Book, office: StandIn) -> None:
    office.says[ONS] = [specimen("ons_single.csv")]
    get(kitchen, "uk-ons", "D7BT")
    agent = office.asked[0].headers["User-Agent"]
    assert agent.startswith("portiondrift/")
    assert "@" not in agent


def test_the_bytes_are_kept_with_their_hash_address_and_time(
    kitchen: Book, office: StandIn
) -> None:
    sent = specimen("ons_single.csv").content
    office.says[ONS] = [Answer(content=sent)]
    get(kitchen, "uk-ons", "D7BT")
    with reading(kitchen) as con:
        ((number, url, sha, size),) = con.execute(
            "SELECT fetched_id, url, sha256, size_bytes FROM fetched"
        ).fetchall()
        assert kept_bytes(con, number) == sent
    assert (sha, size) == (hashlib.sha256(sent).hexdigest(), len(sent))
    assert url.startswith("https://www.ons.gov.uk/generator")
    (shown,) = show_series(kitchen, "uk-ons:D7BT").fetched
    assert (shown["url"], shown["sha256"]) == (url, sha)
    assert check(kitchen).problems == ()


def test_a_fetch_that_brings_nothing_new_adds_nothing(kitchen: Book, office: StandIn) -> None:
    office.says[ONS] = [specimen("ons_single.csv")]
    get(kitchen, "uk-ons", "D7BT")
    again = get(kitchen, "uk-ons", "D7BT")
    assert (again.report.load, again.report.added, again.report.already) == (None, 0, 3)
    with reading(kitchen) as con:
        assert con.execute("SELECT count(*) FROM fetched").fetchone() == (1,)


def test_a_dry_run_says_what_would_be_added_and_keeps_nothing(
    kitchen: Book, office: StandIn
) -> None:
    office.says[ONS] = [specimen("ons_single.csv")]
    before = kitchen.path.read_bytes()
    report = get(kitchen, "uk-ons", "D7BT", dry_run=True).report
    assert (report.load, report.added, report.already) == (None, 3, 0)
    assert report.series == (("uk-ons:D7BT", "All items, UK"),)
    assert kitchen.path.read_bytes() == before


def test_a_changed_value_is_a_new_release_and_the_old_one_is_kept(
    kitchen: Book, office: StandIn
) -> None:
    first = specimen("ons_single.csv").content
    later = first.replace(b'"140.1"', b'"140.3"').replace(b"25-03-2026", b"22-04-2026")
    office.says[ONS] = [Answer(content=first), Answer(content=later)]
    get(kitchen, "uk-ons", "D7BT")
    second = get(kitchen, "uk-ons", "D7BT")
    assert (second.report.added, second.report.already) == (1, 2)
    assert "1 month revised, the last February 2026 from 140.1 to 140.3" in " ".join(
        second.report.remarks
    )
    shown = show_series(kitchen, "uk-ons:D7BT")
    assert shown.facts.revised == 1
    assert [(each.value, str(each.released_on), each.counts) for each in shown.revisions] == [
        (140.1, "2026-03-25", False),
        (140.3, "2026-04-22", True),
    ]


def test_an_older_release_that_comes_late_is_kept_and_does_not_count(
    kitchen: Book, office: StandIn
) -> None:
    first = specimen("ons_single.csv").content
    older = first.replace(b'"140.1"', b'"139.9"').replace(b"25-03-2026", b"18-02-2026")
    office.says[ONS] = [Answer(content=first), Answer(content=older)]
    get(kitchen, "uk-ons", "D7BT")
    late = get(kitchen, "uk-ons", "D7BT")
    assert late.report.added == 1
    assert "revised" not in " ".join(late.report.remarks)
    assert values(kitchen, "uk-ons:D7BT")["2026-02"] == 140.1
    assert get(kitchen, "uk-ons", "D7BT").report.load is None


def test_eurostat_is_asked_once_for_a_whole_country(kitchen: Book, office: StandIn) -> None:
    office.says[EUROSTAT] = [specimen("eurostat_sdmx1.csv")]
    get(kitchen, "eu-hicp", "IE")
    (asked,) = office.asked
    assert asked.path.startswith(
        "/eurostat/api/dissemination/sdmx/2.1/data/prc_hicp_minr/M.I25.TOTAL+"
    )
    assert "+CP01148+" in asked.path
    assert asked.path.endswith(".IE?format=SDMX-CSV&startPeriod=1996-01")
    assert own(kitchen) == {"eu-hicp:AT.TOTAL", "eu-hicp:IE.CP01148", "eu-hicp:IE.CP01"}


def test_series_hang_under_the_nearest_wider_one_at_hand(kitchen: Book, office: StandIn) -> None:
    office.says[EUROSTAT] = [specimen("eurostat_sdmx1.csv")]
    get(kitchen, "eu-hicp", "IE.CP01148")
    ladder = [series for series, _ in show_series(kitchen, "eu-hicp:IE.CP01148").ladder]
    assert ladder == ["eu-hicp:IE.CP01148", "eu-hicp:IE.CP01"]  # no total of Ireland came

    between = specimen("eurostat_sdmx1.csv").content.replace(b"CP01,IE", b"CP0114,IE")
    office.says[EUROSTAT] = [Answer(content=between)]
    get(kitchen, "eu-hicp", "IE.CP0114")
    ladder = [series for series, _ in show_series(kitchen, "eu-hicp:IE.CP01148").ladder]
    assert ladder == ["eu-hicp:IE.CP01148", "eu-hicp:IE.CP0114", "eu-hicp:IE.CP01"]


def bls(asked: Asked) -> Answer:
    """Answer as BLS does: newest first, the years that were asked for, one series each."""
    body: Any = asked.json()
    first, last = int(body["startyear"]), int(body["endyear"])
    series = [
        {
            "seriesID": each,
            "data": [
                {"year": str(year), "period": "M01", "value": f"{year / 10:.3f}", "footnotes": [{}]}
                for year in range(last, first - 1, -1)
                if year >= 2012
            ],
        }
        for each in body["seriesid"]
    ]
    whole = {"status": "REQUEST_SUCCEEDED", "message": [], "Results": {"series": series}}
    return Answer(content=json.dumps(whole).encode())


def test_bls_without_a_key_is_asked_in_windows_of_ten_years(kitchen: Book, office: StandIn) -> None:
    office.says[BLS] = bls
    found = get(kitchen, "us-bls", "CUSR0000SAF11", since=1999)
    bodies: list[Any] = [each.json() for each in office.asked]
    assert [(each["startyear"], each["endyear"]) for each in bodies] == [
        ("1999", "2008"),
        ("2009", "2018"),
        ("2019", "2026"),
    ]
    assert all("registrationkey" not in each for each in bodies)
    assert {each.path for each in office.asked} == {"/publicAPI/v1/timeseries/data/"}
    # the first window has no value of it, which is no fault when others do: 2012 to 2026
    assert found.report.added == 15
    assert "Seasonally adjusted: us-bls:CUSR0000SAF11" in " ".join(found.report.remarks)


def test_a_series_without_a_value_in_any_window_keeps_all_of_them_out(
    kitchen: Book, office: StandIn
) -> None:
    def one_of_two(asked: Asked) -> Answer:
        body: Any = asked.json()
        (kept, emptied) = json.loads(bls(asked).content)["Results"]["series"]
        assert body["seriesid"] == ["CUSR0000SAF11", "CUSR0000SEFH"]
        whole = {"status": "REQUEST_SUCCEEDED", "message": ["No data"],
                 "Results": {"series": [kept, {**emptied, "data": []}]}}  # fmt: skip
        return Answer(content=json.dumps(whole).encode())

    office.says[BLS] = one_of_two
    ids = ("CUSR0000SAF11", "CUSR0000SEFH")
    found = fetch(kitchen, "us-bls", ids, today=TODAY, since=2009, pause=lambda _: None)
    assert {(each.code, each.series) for each in found.report.problems} == {
        (Code.NO_VALUE, "us-bls:CUSR0000SEFH")
    }
    assert found.report.load is None
    assert values_of(kitchen, "us-bls:CUSR0000SAF11") == 0


def test_bls_gets_a_key_in_the_body_and_nowhere_else(
    kitchen: Book, office: StandIn, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PORTIONDRIFT_BLS_KEY", "own-key-123")
    office.says[BLS] = bls
    get(kitchen, "us-bls", "CUSR0000SAF11", since=2000)
    bodies: list[Any] = [each.json() for each in office.asked]
    assert [(each["startyear"], each["endyear"]) for each in bodies] == [
        ("2000", "2019"),
        ("2020", "2026"),
    ]
    assert all(each["registrationkey"] == "own-key-123" for each in bodies)
    assert all("own-key" not in each.path for each in office.asked)
    with reading(kitchen) as con:
        assert con.execute(
            "SELECT count(*) FROM fetched WHERE url LIKE '%own-key%'"
        ).fetchone() == (0,)


def test_an_item_of_the_bundled_series_is_asked_from_where_the_book_ends(
    kitchen: Book, office: StandIn
) -> None:
    office.says[BLS] = bls
    get(kitchen, "us-bls", "SAF11")
    (body,) = [each.json() for each in office.asked]
    assert body == {"seriesid": ["CUUR0000SAF11"], "startyear": "2025", "endyear": "2026"}
    # January 2026 differs from the bundled value, so it is a new release of that month
    assert values(kitchen, "us-bls:SAF11")["2026-01"] == 202.6


def test_statcan_is_asked_for_vectors(kitchen: Book, office: StandIn) -> None:
    office.says[STATCAN] = [specimen("statcan_vectors.json")]
    get(kitchen, "ca-statcan", "v41690974")
    (asked,) = office.asked
    assert asked.path == "/t1/wds/rest/getDataFromVectorsAndLatestNPeriods"
    assert asked.json() == [{"vectorId": 41690974, "latestN": 936}]  # (2026 - 1949 + 1) × 12
    assert own(kitchen) == {"ca-statcan:v41690974"}


def test_abs_is_asked_by_key(kitchen: Book, office: StandIn) -> None:
    office.says[ABS] = [specimen("abs_labels.csv")]
    found = get(kitchen, "au-abs", "10001.10.50.Q", since=1990)
    assert office.asked[0].path == (
        "/rest/data/ABS,CPI,2.0.0/1.10001.10.50.Q?format=csvfilewithlabels&startPeriod=1990"
    )
    assert "1 series by the quarter" in " ".join(found.report.remarks)


@pytest.mark.parametrize(
    ("key", "host", "ids", "name", "path"),
    [
        ("oecd", OECD, "TUR.M.N.CP01.N", "oecd_2.csv",
         "/public/rest/data/OECD.SDD.TPS,DSD_PRICES@DF_PRICES_ALL,1.0/TUR.M.N.CPI.IX.CP01.N._Z"
         "?startPeriod=1955-01"),
        ("oecd-2018", OECD, "JPN.M.N.CP01.N", "oecd_1.csv",
         "/public/rest/data/OECD.SDD.TPS,DSD_PRICES_COICOP2018@DF_PRICES_C2018_ALL,1.0/"
         "JPN.M.N.CPI.IX.CP01.N._Z?startPeriod=1955-01"),
        ("imf-cpi", IMF, "KEN.CPI.CP01.M", "imf_2.csv",
         "/external/sdmx/3.0/data/dataflow/IMF.STA/CPI/+/KEN.CPI.CP01.IX.M"),
        ("ie-cso", CSO, "CPM01", "pxstat.json",
         "/public/api.restful/PxStat.Data.Cube_API.ReadDataset/CPM01/JSON-stat/2.0/en"),
        ("eu-hicp-v1", EUROSTAT, "EL.CP01147", "eurostat_v1.csv",
         "/eurostat/api/dissemination/sdmx/2.1/data/prc_hicp_midx/M.I15.CP01147.EL"
         "?format=SDMX-CSV&startPeriod=1996-01"),
    ],
)  # fmt: skip
def test_each_other_office_is_asked_by_its_own_address(
    kitchen: Book, office: StandIn, key: str, host: str, ids: str, name: str, path: str
) -> None:
    office.says[host] = [specimen(name)]
    found = get(kitchen, key, ids)
    assert office.asked[0].path == path
    assert found.report.added > 0
    assert all(series.startswith(f"{key}:") for series in own(kitchen))


QUOTA = (
    b'{"status":"REQUEST_NOT_PROCESSED","responseTime":0,"message":["Request could not be '
    b"serviced, as the daily threshold for total number of requests allocated to the user has "
    b'been reached."],"Results":{}}'
)
FAULT = (
    b'<?xml version="1.0"?><S:Fault xmlns:S="http://schemas.xmlsoap.org/soap/envelope/">'
    b"<faultcode>S:Client</faultcode><faultstring>INVALID_QUERY_DIMENSION: CP99</faultstring>"
    b"</S:Fault>"
)
NO_VALUE = b'{"class":"dataset","value":{},"size":[],"id":[]}'
PROSE = b"You have exceeded the number of requests per hour. Please try again later."


@pytest.mark.parametrize(
    ("key", "host", "ids", "answer", "said"),
    [
        ("us-bls", BLS, "SAF11", Answer(content=QUOTA), "quota of U.S. Bureau of Labor Statistics"),
        ("us-bls", BLS, "SAF11", Answer(content=QUOTA), "PORTIONDRIFT_BLS_KEY"),
        ("eu-hicp", EUROSTAT, "IE", Answer(content=FAULT), "INVALID_QUERY_DIMENSION: CP99"),
        ("eu-hicp", EUROSTAT, "IE", Answer(content=b"DATAFLOW,freq,TIME_PERIOD,OBS_VALUE\n"),
         "a table without a single value"),
        ("ie-cso", CSO, "CPM01", Answer(content=NO_VALUE),
         "a table without a single value"),
        ("oecd", OECD, "GBR.M.N.CP01.N", Answer(content=PROSE), "words instead of data"),
        ("oecd", OECD, "GBR.M.N.CP01.N", Answer(content=PROSE, status=429), "status 429"),
        ("oecd", OECD, "GBR.M.N.CP01.N", Answer(content=b"NoRecordsFound", status=404),
         "NoRecordsFound"),
        ("oecd", OECD, "GBR.M.N.CP01.N", Answer(content=b"", status=422), "a whole name"),
        ("imf-cpi", IMF, "KEN.CPI.CP01.M", Answer(status=204), "an empty answer"),
        ("uk-ons", ONS, "D7BT", Answer(content=b"<!DOCTYPE html><title>Not found</title>",
                                       status=404), "status 404 and the words 'Not found'"),
        ("uk-ons", ONS, "D7BT", Answer(content=b"<!DOCTYPE html><title>Busy</title>"),
         "a web page instead of data"),
        ("ca-statcan", STATCAN, "41690974", Answer(status=409), "locks its tables"),
        ("eu-hicp", EUROSTAT, "IE", Answer(status=406), "status 406"),
        ("uk-ons", ONS, "D7BT", Answer(content=b"ok"), "'ok'"),
        ("uk-ons", ONS, "D7BT", Answer(status=503), "status 503"),
        ("uk-ons", ONS, "D7BT",
         Answer(status=302, headers={"Location": "https://elsewhere.example/x"}),
         "Nothing else is asked"),
        ("uk-ons", ONS, "D7BT", Answer(status=302, headers={"Location": "http://www.ons.gov.uk/"}),
         "expected https"),
    ],
)  # fmt: skip
def test_a_fault_is_said_in_words_and_nothing_is_stored(
    kitchen: Book, office: StandIn, key: str, host: str, ids: str, answer: Answer, said: str
) -> None:
    office.says[host] = [answer]
    before = kitchen.path.read_bytes()
    with pytest.raises(FetchRefused, match=r"Found .*; expected ") as refused:
        get(kitchen, key, ids)
    assert said in str(refused.value)
    assert kitchen.path.read_bytes() == before


def test_a_busy_office_is_asked_again_after_as_long_as_it_says(
    kitchen: Book, office: StandIn
) -> None:
    busy = Answer(status=429, headers={"Retry-After": "7"})
    office.says[ONS] = [busy, busy, specimen("ons_single.csv")]
    waits: list[float] = []
    told: list[str] = []
    found = get(kitchen, "uk-ons", "D7BT", pause=waits.append, tell=told.append)
    assert found.report.added == 3
    assert len(office.asked) == 3
    assert waits[0] == 7
    assert waits[1] >= 7  # never sooner the second time
    assert any("busy; trying again in 7 s (1 of 4)" in each for each in told)


def test_an_office_without_a_wish_is_asked_again_ever_more_slowly(
    kitchen: Book, office: StandIn
) -> None:
    office.says[ONS] = [Answer(status=503)]
    waits: list[float] = []
    with pytest.raises(FetchRefused, match="status 503"):
        get(kitchen, "uk-ons", "D7BT", pause=waits.append)
    assert len(office.asked) == 4
    assert waits == [1, 2, 4]


@pytest.mark.parametrize("text", ["3600", "Wed, 25 Nov 2099 08:00:00 GMT"])
def test_an_office_that_asks_for_too_long_a_wait_is_left_alone(
    kitchen: Book, office: StandIn, text: str
) -> None:
    office.says[ONS] = [Answer(status=429, headers={"Retry-After": text})]
    with pytest.raises(FetchRefused, match="It asks to wait"):
        get(kitchen, "uk-ons", "D7BT")
    assert len(office.asked) == 1


def test_an_answer_that_breaks_off_is_asked_for_again(kitchen: Book, office: StandIn) -> None:
    cut = specimen("ons_single.csv", cut_at=200)
    office.says[ONS] = [cut, specimen("ons_single.csv")]
    assert get(kitchen, "uk-ons", "D7BT").report.added == 3
    office.says[ONS] = [cut]
    with pytest.raises(FetchRefused, match=r"broke off|no way to reach"):
        get(kitchen, "uk-ons", "D7BU")


def test_no_network_is_said_in_words(kitchen: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PORTIONDRIFT_TEST_HOST", "http://127.0.0.1:9")  # nobody listens there
    with pytest.raises(FetchRefused, match=r"no way to reach it at www\.ons\.gov\.uk"):
        get(kitchen, "uk-ons", "D7BT")


def test_an_office_that_cannot_be_reached_is_not_called_busy(
    kitchen: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PORTIONDRIFT_TEST_HOST", "http://127.0.0.1:9")  # nobody listens there
    told: list[str] = []
    with pytest.raises(FetchRefused):
        get(kitchen, "uk-ons", "D7BT", tell=told.append)
    assert not any("busy" in each for each in told)
    assert any("did not answer; trying again in 1 s (1 of 4)" in each for each in told)


def test_an_answer_over_the_limit_is_not_read_to_its_end(
    kitchen: Book, office: StandIn, monkeypatch: pytest.MonkeyPatch
) -> None:
    from ingest.offices.facts import offices

    small = offices.Office(
        key="uk-ons", name="ONS", licence=None, hosts=(ONS,), ids="CDIDs",
        url=offices.offices()["uk-ons"].url, largest_bytes=100,
    )  # fmt: skip
    monkeypatch.setattr("ingest.offices.asking.fetch.fetchable", lambda _: small)
    office.says[ONS] = [specimen("ons_single.csv")]
    with pytest.raises(FetchRefused, match="more than 0 MB"):
        get(kitchen, "uk-ons", "D7BT")


def test_an_answer_that_never_ends_is_given_up(
    kitchen: Book, office: StandIn, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(net, "WHOLE_SECONDS", -1)  # so the time is over with the first piece
    office.says[ONS] = [specimen("ons_single.csv")]
    with pytest.raises(FetchRefused, match="still sending after -1 seconds"):
        get(kitchen, "uk-ons", "D7BT")


@pytest.mark.parametrize(
    "host",
    ["http://example.org:80", "https://127.0.0.1:1", "http://localhost:1", "http://127.0.0.1:1/x"],
)
def test_the_stand_in_can_only_be_this_machine(
    kitchen: Book, monkeypatch: pytest.MonkeyPatch, host: str
) -> None:
    monkeypatch.setenv(net.TEST_HOST, host)
    with pytest.raises(FetchRefused, match=r"expected http://127\.0\.0\.1 and a port"):
        get(kitchen, "uk-ons", "D7BT")


@pytest.mark.parametrize(
    ("key", "ids", "error", "said"),
    [
        ("uk-onz", ["D7BT"], UnknownName, "Nearest: uk-ons"),
        ("no-ssb", ["14700"], UnknownName, "download the file"),
        ("uk-ons", ["../x"], InputRefused, "CDIDs"),
        ("eu-hicp", ["XX"], InputRefused, "a country such as IE"),
        ("eu-hicp", ["IE.CP99"], InputRefused, "IE.CP01148"),
        ("ca-statcan", ["food store"], InputRefused, "vector numbers"),
        ("ca-statcan", ["meat"], InputRefused, "vector numbers"),
        ("au-abs", ["20001"], InputRefused, "INDEX.TSEST.REGION.FREQ"),
        ("oecd", ["GBR"], InputRefused, "GBR.M.N.CP01.N"),
        ("us-bls", ["EGGS"], InputRefused, "BLS item codes"),
        ("uk-ons", [], InputRefused, "Name one or more"),
    ],
)
def test_a_wrong_name_is_refused_before_anyone_is_asked(
    kitchen: Book, office: StandIn, key: str, ids: list[str], error: type[Exception], said: str
) -> None:
    with pytest.raises(error) as refused:
        get(kitchen, key, *ids)
    assert said in str(refused.value)
    assert office.asked == []


def test_the_whole_ladder_of_the_uk_is_asked_at_the_pace_the_office_allows(
    kitchen: Book, office: StandIn
) -> None:
    template = specimen("ons_single.csv").content.decode()

    def one(asked: Asked) -> Answer:
        from ingest.offices.facts.ladders import rung

        place = rung("uk-ons", asked.path.split("/")[-2])
        assert place is not None
        text = template.replace("D7BT", place.key).replace(
            "INDEX 00: ALL ITEMS", f"INDEX {place.coicop} : {place.title.upper()}"
        )
        return Answer(content=text.encode())

    office.says[ONS] = one
    waits: list[float] = []
    get(kitchen, "uk-ons", "food", pause=waits.append)
    assert len(office.asked) == 24
    assert len(own(kitchen)) == 24
    assert sum(waits[:15]) >= 10  # 15 requests in 10 seconds at most (developer.ons.gov.uk/bots)
    ladder = [series for series, _ in show_series(kitchen, "uk-ons:L78U").ladder]
    assert ladder == [f"uk-ons:{each}" for each in ("L78U", "D7D6", "D7C8", "D7BU", "D7BT")]


def test_one_series_that_fails_keeps_all_of_them_out(kitchen: Book, office: StandIn) -> None:
    office.says[ONS] = [specimen("ons_single.csv"), Answer(status=404)]
    with pytest.raises(FetchRefused, match="status 404"):
        get(kitchen, "uk-ons", "D7BT", "D7BU")
    assert own(kitchen) == set()


def test_a_fetch_can_be_undone(kitchen: Book, office: StandIn) -> None:
    from ingest.load import undo

    office.says[ONS] = [specimen("ons_single.csv")]
    batch = get(kitchen, "uk-ons", "D7BT").report.load
    assert batch is not None
    assert undo(kitchen, batch) == 3
    assert own(kitchen) == set()
    assert check(kitchen).problems == ()


def command(book: Book, *arguments: str) -> terminal.Done:
    return terminal.run("index", "fetch", *arguments, book=book.path)


def test_the_command_says_what_it_asks_and_what_came(kitchen: Book, office: StandIn) -> None:
    office.says[ONS] = [Answer(status=503), specimen("ons_single.csv")]
    done = command(kitchen, "uk-ons", "D7BT", "--json")
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert (found["files"][0]["added"], found["files"][0]["problems"]) == (3, [])
    assert (
        found["fetched"][0]["sha256"]
        == hashlib.sha256(specimen("ons_single.csv").content).hexdigest()
    )
    assert "Office for National Statistics (UK): D7BT (1 of 1)" in done.stderr
    assert "is busy; trying again" in done.stderr
    text = command(kitchen, "uk-ons", "D7BT").stdout
    assert "3 already in the book; nothing was stored" in text


def test_the_command_ends_with_a_sentence_and_a_status(kitchen: Book, office: StandIn) -> None:
    office.says[BLS] = [Answer(content=QUOTA)]
    done = command(kitchen, "us-bls", "SAF11", "--json")
    assert done.returncode == 1
    assert "quota" in json.loads(done.stdout)["error"]
    assert "Traceback" not in done.stderr
    assert command(kitchen, "us-bls", "EGGS").returncode == 2
    assert command(kitchen, "uk-onz", "D7BT").returncode == 2

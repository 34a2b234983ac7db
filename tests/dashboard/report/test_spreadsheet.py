"""The report's workbook worked out anew by a spreadsheet, where one is installed."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import openpyxl
import pytest

from tests.dashboard.small_kitchen import small_kitchen
from tests.terminal import run

SPREADSHEET = shutil.which("soffice")


@pytest.mark.skipif(SPREADSHEET is None, reason="LibreOffice is not installed")
def test_a_spreadsheet_comes_to_the_same_totals(tmp_path: Path) -> None:
    """Saved by openpyxl, a workbook has formulas and no values: LibreOffice works them out."""
    assert SPREADSHEET is not None
    path = tmp_path / "report.xlsx"
    done = run("report", "--out", str(path), book=small_kitchen(tmp_path).path)
    assert done.returncode == 0, done.stderr
    kept = openpyxl.load_workbook(path, data_only=True)
    bare = openpyxl.load_workbook(path)
    formulas = [
        (sheet.title, cell.coordinate)
        for sheet in bare
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]
    (tmp_path / "bare").mkdir()
    bare.save(tmp_path / "bare" / "report.xlsx")
    told = [
        SPREADSHEET, f"-env:UserInstallation=file://{tmp_path}/profile", "--headless",
        "--convert-to", "xlsx", "--outdir", str(tmp_path / "worked"),
        str(tmp_path / "bare" / "report.xlsx"),
    ]  # fmt: skip
    subprocess.run(told, check=True, capture_output=True, timeout=120)
    worked = openpyxl.load_workbook(tmp_path / "worked" / "report.xlsx", data_only=True)
    assert len(formulas) > 20
    for sheet, cell in formulas:
        value = worked[sheet][cell].value
        assert value == pytest.approx(kept[sheet][cell].value, abs=1e-9), (sheet, cell)

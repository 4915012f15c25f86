"""What somebody sees who has the extension and not the program."""

from __future__ import annotations

from pathlib import Path

from editor.real import FAULTY
from workbench.real import installed, workbench


def test_without_a_server_it_says_so_and_how_to_get_one(tmp_path: Path) -> None:
    home, folder, user = installed(), tmp_path / "plans", tmp_path / "user"
    folder.mkdir()
    user.mkdir()
    (folder / "plan.trackplan").write_text(FAULTY)
    missing = {"railbond.server": str(tmp_path / "missing")}
    with workbench(folder, home, user, **missing) as bench:
        bench.open("plan.trackplan")
        bench.status("no server found")
        toast = bench.page.locator('.notification-toast:has-text("this plan is not proven")')
        toast.locator('a:has-text("How to Install")').click()
        bench.page.wait_for_selector('.tab.active:has-text("Preview README.md")')

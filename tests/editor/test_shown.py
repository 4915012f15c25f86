"""`railbond show` beside a real editor: the page has what is typed there and not saved."""

from __future__ import annotations

import os
import subprocess
import time
import urllib.request
from pathlib import Path

import pytest

from editor.real import FAULTY, SECONDS, EditorBench, setup

TYPING = """
vim.cmd("edit mill.trackplan")
vim.wait(20000, function() return #vim.diagnostic.get(0) == 1 end, 50)
vim.cmd("%s/spur/wharf/")
vim.wait(50000, function() return vim.fn.filereadable("enough") == 1 end, 50)
vim.cmd("quitall!")
"""


def test_what_is_typed_in_neovim_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    runtime = tmp_path / "runtime"
    runtime.mkdir(mode=0o700)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(runtime))
    bench = EditorBench(tmp_path)
    bench.write("init.lua", setup("lua"))
    bench.write("script.lua", TYPING)
    show = subprocess.Popen(
        ["railbond", "show", str(bench.plan)], stdout=subprocess.PIPE, text=True, env={**os.environ, "PATH": bench.path}
    )
    editor = bench.begin("nvim", "--headless", "-u", "init.lua", "-c", "luafile script.lua")
    try:
        assert show.stdout
        address = show.stdout.readline().split()[-1]
        end = time.monotonic() + SECONDS
        while "wharf" not in (page := urllib.request.urlopen(address, timeout=SECONDS).read().decode()):
            assert time.monotonic() < end, page[-2000:]
            time.sleep(0.2)
        assert "spur" not in page
        assert bench.plan.read_text() == FAULTY
    finally:
        bench.write("enough", "")
        editor.communicate(timeout=SECONDS)
        show.kill()
        show.communicate()
